package card

import "context"

// Form is a kind of paper.
type Form string

// The forms.
const HillForm Form = "hill"

// Forms are all of them, in the order in which they are offered.
func Forms() []Form { return []Form{HillForm} }

// Write puts a form on paper, as PDF. The errors are those of its method.
func (c *Content) Write(ctx context.Context, form Form, o Print) ([]byte, error) {
	return c.Hill(ctx, o)
}
