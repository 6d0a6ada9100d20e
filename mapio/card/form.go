package card

import (
	"context"

	"legwright/mapio/paper"
)

// Form is a kind of paper.
type Form string

// The forms.
const (
	HillForm  Form = "hill"
	LegsForm  Form = "legs"
	BaseForm  Form = "base" // for the person at home: the only one with personal data
	SheetForm Form = "sheet"
)

// Title names the form for people.
func (f Form) Title() string {
	return map[Form]string{HillForm: "hill card", LegsForm: "leg cards", BaseForm: "base sheet", SheetForm: "sheet page"}[f]
}

// Forms are all of them, in the order in which they are offered.
func Forms() []Form { return []Form{HillForm, LegsForm, BaseForm, SheetForm} }

// Write puts a form on paper, as PDF. The errors are those of its method.
func (c *Content) Write(ctx context.Context, form Form, o Print) ([]byte, error) {
	switch form {
	case LegsForm:
		return c.LegCards(o)
	case BaseForm:
		return c.Base(ctx, o)
	case SheetForm:
		return c.SheetPaper(o)
	}
	return c.Hill(ctx, o)
}

// HasMap reports whether a form on a paper takes Print.Maps.
func (f Form) HasMap(s paper.Size) bool {
	return (f == HillForm || f == BaseForm) && !Small(s)
}
