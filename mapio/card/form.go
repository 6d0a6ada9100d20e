package card

import "context"

// Form is a kind of paper.
type Form string

// The forms.
const (
	HillForm Form = "hill"
	LegsForm Form = "legs"
)

// Forms are all of them, in the order in which they are offered.
func Forms() []Form { return []Form{HillForm, LegsForm} }

// Write puts a form on paper, as PDF. The errors are those of its method.
func (c *Content) Write(ctx context.Context, form Form, o Print) ([]byte, error) {
	if form == LegsForm {
		return c.LegCards(o)
	}
	return c.Hill(ctx, o)
}
