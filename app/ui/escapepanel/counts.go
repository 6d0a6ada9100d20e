package escapepanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/escape"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/widgets"
)

// counts are the fields for the contours that the leader counted along the legs of an escape:
// one for each leg under which the terrain lacks heights, or which was counted already.
type counts struct {
	n      *Needs
	body   *fyne.Container
	fields []*countField // by leg
}

// countField is the field of one leg of one escape.
type countField struct {
	*widgets.EditField
	line  fyne.CanvasObject // the field with its label
	of    plan.ID
	whole bool // the terrain has all heights under the leg
}

func newCounts(n *Needs) *counts {
	return &counts{n: n, body: container.NewVBox(widgets.NewSentence("Count the contours up and down each leg. Type both, such as 7 x 10 / 3 x 10 for 10 m contours, or 70 m / 30 m.", widgets.Note))}
}

// fill shows the fields of an escape and what was counted, none while figures are hidden. Until
// the escape is judged its fields stay: somebody may be typing.
func (x *counts) fill(own plan.Escape, e escape.Escape, hidden bool) {
	for len(x.fields) < len(e.Legs) {
		x.add()
	}
	some := false
	for i, f := range x.fields {
		on := !hidden && i < len(e.Legs)
		if on && !(e.Waits && f.of == own.ID) {
			_, _, f.whole = e.Legs[i].Profile.Climb()
			on = uncovered(e.Legs[i], own.Legs[i])
		}
		some = some || on
		if visible(f.line, on); !on {
			f.of = ""
			f.ShowText("", "")
			continue
		}
		f.of = own.ID
		f.ShowText(string(own.ID), session.CountsText(own.Legs[i].Climb, own.Legs[i].Descent))
	}
	visible(x.body, some)
}

// uncovered reports whether heights of a leg must be counted, or were.
func uncovered(l escape.Leg, own plan.EscapeLeg) bool {
	_, _, whole := l.Profile.Climb()
	return l.Err == nil && !whole || own.Climb.Known || own.Descent.Known
}

// add adds the field of one more leg.
func (x *counts) add() {
	i, f := len(x.fields), &countField{}
	f.EditField = widgets.NewEditField(fmt.Sprintf("contours on leg %d", i+1), func(text string) bool { return x.count(f.of, i, text) }, x.n.View.Focus)
	f.line = widgets.NewLabelled(fmt.Sprintf("leg %d", i+1), x.n.wheeled(f.EditField))
	x.fields = append(x.fields, f)
	x.body.Add(f.line)
}

// count takes what was typed for leg i, and says what is still missing.
func (x *counts) count(id plan.ID, i int, text string) bool {
	if !x.n.Foot.Try(x.n.Session.SetEscapeCounts(id, i, text), "Changed.") {
		return false
	}
	e, _ := x.n.Session.Plan().EscapeByID(id)
	whole := x.fields[i].whole // counts stand in place of the terrain's
	switch up, down := e.Legs[i].Climb, e.Legs[i].Descent; {
	case whole:
	case up.Known && !down.Known:
		x.n.Foot.Say("Changed. Count the descent too, and type it after a slash, as in " + session.CountsText(up, plan.Count(30)) + ".")
	case down.Known && !up.Known:
		x.n.Foot.Say("Changed. Count the climb too, and type it before the slash, as in " + session.CountsText(plan.Count(70), down) + ".")
	}
	return true
}
