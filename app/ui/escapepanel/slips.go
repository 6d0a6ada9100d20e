package escapepanel

import (
	"fmt"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/sheetview"
	"legwright/canvas/overlay"
)

// slips shows on the sheet where the usual slips with the compass would take the selected
// leg, or one compass leg of the selected escape, in their first 300 m. The slips of several legs
// cross each other, and nobody could read them.
type slips struct {
	p      *Panel
	n      *Needs
	on     bool
	at     int // which of the compass legs, from 0
	redraw func()
}

func newSlips(p *Panel) *slips {
	n := p.n
	x := &slips{p: p, n: n}
	x.redraw = n.View.AddLayer(x.layer)
	n.Session.OnChange(func(c session.Change) {
		if c.What.Has(session.SelectionChanged) {
			x.at = 0
		}
		if x.on && c.What.Has(session.AnyEscape|session.SelectionChanged|session.SheetShown) {
			x.redraw()
		}
	})
	return x
}

// toggle shows them, then those of each other compass leg of the escape, then hides them.
func (x *slips) toggle() {
	legs := x.legs()
	if next := x.at + 1; x.on && next < len(legs) {
		x.at = next
	} else {
		x.on, x.at = !x.on, 0
	}
	x.redraw()
	const not = "; other slips are possible."
	switch kind := x.n.Session.Selection().Kind; {
	case !x.on:
		x.n.Foot.Say("Slips hidden.")
	case kind != plan.OfLeg && kind != plan.OfEscape:
		x.n.Foot.Say("Select a leg or an escape: the sheet then shows where slips with the compass would lead.")
	case len(legs) == 0:
		x.n.Foot.Say("There is no compass leg here, so no slips are shown.")
	case x.at+1 < len(legs):
		x.n.Foot.Say(fmt.Sprintf("The sheet shows where each usual slip would lead in the first 300 m of leg %d of the escape%s Press Ctrl+D again for leg %d.", legs[x.at].n, not, legs[x.at+1].n))
	case kind == plan.OfEscape:
		x.n.Foot.Say(fmt.Sprintf("The sheet shows where each usual slip would lead in the first 300 m of leg %d of the escape%s", legs[x.at].n, not))
	default:
		x.n.Foot.Say("The sheet shows where each usual slip with the compass would lead in the first 300 m" + not)
	}
}

// layer adds the ways to a drawing.
func (x *slips) layer(s *overlay.Scene) {
	c, err := x.n.Session.Calibration()
	if !x.on || err != nil {
		return
	}
	legs := x.legs()
	if len(legs) == 0 {
		return
	}
	l := legs[min(x.at, len(legs)-1)]
	for _, w := range leg.Slips(l.reading, l.from) {
		s.Slips = append(s.Slips, overlay.Slip{
			From: sheetview.ViewPt(c.ToPicture(l.from)), To: sheetview.ViewPt(c.ToPicture(w.To)), Text: w.Slip.Words(),
		})
	}
}

// walked is a compass leg with where it begins.
type walked struct {
	n       int // of an escape, from 1
	reading leg.Reading
	from    geodesy.Grid
}

// legs are the compass legs whose slips can be shown: while the legs of an escape are ticked, the
// one that is.
func (x *slips) legs() (out []walked) {
	s, r := x.n.Session, x.n.Session.Reader()
	id := s.Selection().ID
	for _, row := range s.Rows() {
		if row.ID == id && row.Err == nil && r.System() != nil {
			if g, _, err := r.Convert(s.Plan().Resolve(row.FromEnd), r.System()); err == nil {
				out = append(out, walked{0, row.Reading, g})
			}
		}
	}
	e, _ := s.Escapes().ByID(id)
	tick := x.p.waysOff().tick
	for i, l := range e.Legs {
		if l.Along == "" && l.Err == nil && (!tick.on || tick.of != e.ID || tick.leg == i) {
			out = append(out, walked{l.N, l.Reading, l.Way[0]})
		}
	}
	return out
}
