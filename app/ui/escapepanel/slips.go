package escapepanel

import (
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/sheetview"
	"legwright/canvas/overlay"
)

// slips shows on the sheet where the usual slips with the compass would take the selected
// leg, or the compass legs of the selected escape, in their first 300 m.
type slips struct {
	n      *Needs
	on     bool
	redraw func()
}

func newSlips(n *Needs) *slips {
	x := &slips{n: n}
	x.redraw = n.View.AddLayer(x.layer)
	n.Session.OnChange(func(c session.Change) {
		if x.on && c.What.Has(session.AnyEscape|session.SelectionChanged|session.SheetShown) {
			x.redraw()
		}
	})
	return x
}

// toggle shows them, or hides them.
func (x *slips) toggle() {
	x.on = !x.on
	x.redraw()
	switch kind := x.n.Session.Selection().Kind; {
	case !x.on:
		x.n.Foot.Say("Slips hidden.")
	case kind != plan.OfLeg && kind != plan.OfEscape:
		x.n.Foot.Say("Select a leg or an escape: the sheet then shows where slips with the compass would lead.")
	default:
		x.n.Foot.Say("The first 300 m of each slip with the compass. Not all slips are shown.")
	}
}

// layer adds the ways to a drawing.
func (x *slips) layer(s *overlay.Scene) {
	c, err := x.n.Session.Calibration()
	if !x.on || err != nil {
		return
	}
	for _, l := range x.legs() {
		for _, w := range leg.Slips(l.reading, l.from) {
			s.Slips = append(s.Slips, overlay.Slip{
				From: sheetview.ViewPt(c.ToPicture(l.from)), To: sheetview.ViewPt(c.ToPicture(w.To)), Text: w.Slip.Words(),
			})
		}
	}
}

// walked is a compass leg with where it begins.
type walked struct {
	reading leg.Reading
	from    geodesy.Grid
}

// legs are the compass legs whose slips are shown.
func (x *slips) legs() (out []walked) {
	s, r := x.n.Session, x.n.Session.Reader()
	id := s.Selection().ID
	for _, row := range s.Rows() {
		if row.ID == id && row.Err == nil && r.System() != nil {
			if g, _, err := r.Convert(s.Plan().Resolve(row.FromEnd), r.System()); err == nil {
				out = append(out, walked{row.Reading, g})
			}
		}
	}
	e, _ := s.Escapes().ByID(id)
	for _, l := range e.Legs {
		if l.Along == "" && l.Err == nil {
			out = append(out, walked{l.Reading, l.Way[0]})
		}
	}
	return out
}
