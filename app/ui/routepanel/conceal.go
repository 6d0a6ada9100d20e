package routepanel

import (
	"legwright/app/caution"
	"legwright/app/ui/widgets"
)

// Conceal hides what tells a bearing or a length: references, the figures of sights,
// and the cautions about a line. Names and notes stay.
func (p *Panel) Conceal(on bool) {
	if p.concealed == on {
		return
	}
	p.concealed, p.selected.concealed = on, on
	for _, which := range []Section{Selected, Marks, Sights} {
		p.sections[which].stale = true
	}
	p.fillSeen()
}

// unlessConcealed leaves a thing of a list its name alone while figures are hidden.
func (p *Panel) unlessConcealed(t thing) thing {
	if p.concealed {
		t.note = func() string { return "" }
		t.cautions = func() []caution.Caution { return nil }
	}
	return t
}

// hiddenNote says in the place of what is hidden that it is.
func hiddenNote() *widgets.Sentence {
	return widgets.NewSentence("The figures are hidden.", widgets.Note)
}
