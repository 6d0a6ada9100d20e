package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// person is one of two people: where he stands, and the bearing that he takes.
type person struct {
	n       *Needs
	body    fyne.CanvasObject
	head    *widgets.Tool
	from    *standpoint
	bearing *bearingField
	lookout *teach.Lookout
	answer  *teach.Answer // nil without a ray
	err     error
}

// newPerson returns a person with the words for him, such as "First person".
func newPerson(n *Needs, st *stage, who, hint string, choose, stood, said func()) *person {
	x := &person{n: n}
	x.head = widgets.NewEntry("", who, hint, choose)
	x.head.OnHint = n.Foot.Hint
	x.from = newStandpoint(n, "from", "Click on the sheet where this person stands", stood)
	x.bearing = newBearingField(n, st, who, choose, said)
	x.body = container.NewVBox(x.head, x.from.body, x.bearing.body)
	return x
}

// stand reads everything from the person's position.
func (x *person) stand(features []teach.Feature) {
	x.lookout, x.err = nil, nil
	if pos, ok := x.from.position(); ok {
		x.lookout, x.err = teach.NewLookout(x.n.Session.Reader(), pos, features...)
	}
}

// judge judges everything by the person's bearing.
func (x *person) judge(half units.Angle, training *units.GMA) {
	if x.answer = nil; x.lookout == nil || !x.bearing.known {
		return
	}
	a, err := x.lookout.Identify(x.bearing.said, half, training)
	if x.err = err; err == nil {
		x.answer = &a
	}
}

// sighting is what the person says, by the name that sentences have for him.
func (x *person) sighting(who string, half units.Angle) teach.Sighting {
	pos, _ := x.from.position()
	return teach.Sighting{Who: who, From: pos, Bearing: x.bearing.said, Tolerance: half}
}
