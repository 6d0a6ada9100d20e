package routepanel

import (
	"legwright/app/caution"
	"legwright/app/ui/thinglist"
)

// Conceal hides what tells a bearing or a length: references, the figures of sights,
// the cautions about a line, and how long the route takes. Names and notes stay.
func (p *Panel) Conceal(on bool) {
	if p.concealed == on {
		return
	}
	p.concealed, p.selected.concealed, p.about.concealed, p.walk.concealed = on, on, on, on
	for _, which := range []Section{Selected, Profile, Marks, Sights, Plan} {
		p.sections[which].stale = true
	}
	p.fillSeen()
	p.ShowHint()
}

// hiddenHint says how figures are shown again to somebody who meets them hidden here.
const hiddenHint = "The figures are hidden for a lesson. To show them, untick “Hide figures from the group” in the Teach menu."

// unlessConcealed leaves a thing of a list its name alone while figures are hidden.
func (p *Panel) unlessConcealed(t thinglist.Thing) thinglist.Thing {
	if p.concealed {
		t.Note = func() string { return "" }
		t.Cautions = func() []caution.Caution { return nil }
	}
	return t
}
