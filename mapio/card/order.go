package card

import (
	"context"

	"legwright/app/plan"
	"legwright/mapio/paper"
)

// Order is what is asked of a paper.
type Order struct {
	Form      Form
	Size      paper.Size // upright or landscape
	Up        int        // leg cards on a sheet of paper: 1, 4 or 8; 0 is 4, and 1 on small paper
	Scale     int        // of the map, such as 25000; 0 is that of the sheet's own paper
	NoMap     bool
	NoProfile bool
}

// HasMap reports whether a map stands behind the paper.
func (o Order) HasMap() bool { return !o.NoMap && o.Form.HasMap(o.Size) }

// up is how many leg cards there are on a sheet of paper.
func (o Order) up() int {
	switch {
	case o.Up > 0:
		return o.Up
	case Small(o.Size):
		return 1
	}
	return 4
}

// Beside is what a paper needs that the plan does not hold.
type Beside struct {
	// Open opens the picture of a sheet, or says why it cannot, such as that it is not as it was
	// when the plan was made.
	Open func(context.Context, plan.Sheet) (Picture, error)
	// Home is asked what stands on a base sheet; nil where none is made.
	Home func(*Content) (*Home, error)
}

// Make puts a plan on paper, as PDF, and returns what it says as well. Errors: those of Of,
// ErrSmallBase, those of b, of Content.Maps and of Content.Write.
func Make(ctx context.Context, s Source, o Order, b Beside) (*Content, []byte, error) {
	make := Of
	if o.Form == SheetForm {
		make = OfSheets
	}
	c, err := make(s)
	if err != nil {
		return nil, nil, err
	}
	p := Print{Size: o.Size, Up: o.up(), NoProfile: o.NoProfile}
	if o.Form == BaseForm {
		if Small(o.Size) { // before anybody is asked for the party
			return nil, nil, ErrSmallBase
		}
		p.Home, err = b.Home(c)
	}
	if err == nil && o.HasMap() {
		p.Maps, err = c.Maps(s, o.Scale, func(x plan.Sheet) (Picture, error) { return b.Open(ctx, x) })
	}
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, nil, err
	}
	pdf, err := c.Write(ctx, o.Form, p)
	return c, pdf, err
}
