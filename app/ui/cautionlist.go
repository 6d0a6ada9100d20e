package ui

import (
	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/ui/widgets"
)

// selectedReading is the reading of the leg or sight that is selected.
func (b *Bench) selectedReading() (leg.Reading, bool) {
	sel, rows := b.s.Selection(), b.s.Rows()
	if sel.Kind == session.OfSight {
		rows = b.s.Reader().Sights()
	}
	for _, r := range rows {
		if r.ID == sel.ID && r.Err == nil {
			return r.Reading, true
		}
	}
	return leg.Reading{}, false
}

// selectedCautions speak against what is selected.
func (b *Bench) selectedCautions() []caution.Caution {
	if sel := b.s.Selection(); sel.Kind == session.OfMark {
		m, _ := b.s.Plan().MarkByID(sel.ID)
		return b.s.Reader().CautionsOf(m.Position)
	}
	r, _ := b.selectedReading()
	return caution.OfLeg(r.Cautions)
}

// showOffered writes what speaks against the line that was just dragged.
func (p *routePost) showOffered() {
	list := caution.OfLeg(p.b.view.Offer().Reading().Cautions)
	if len(list) == 0 {
		return
	}
	p.selected.Add(widgets.NewHeading("Line just dragged"))
	p.addCautions(list)
}

// addCautions writes each caution in full, the gravest first: the dial has room for
// a few words of it only.
func (p *routePost) addCautions(list []caution.Caution) {
	for _, c := range caution.GravestFirst(list) {
		tone := widgets.Caution
		if c.Stop() {
			tone = widgets.Fault
		}
		p.selected.Add(widgets.NewSentence(c.Text(), tone))
	}
}
