package sheetview

import (
	"cmp"
	"slices"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/dial"
)

// reading fills the dial.
type reading struct {
	*sheet
	dial  *dial.Dial
	keeps *keeps
	as    func(leg.Reading) leg.Reading // of the panel's tool; may be nil
	off   bool                          // of the panel's tool: what is dragged is judged as an escape
	opens string                        // what is being opened, in words; "" for nothing
}

// walk reads between two ends that are dragged, with what a leg there would meet, and draws how
// far to keep from that: what is drawn on the ground speaks up before the leg is kept.
func (d *reading) walk(from, to plan.End) (leg.Reading, error) {
	r, met, err := d.s.Walk(from, to, d.off)
	if err == nil {
		d.keeps.follow(met.Near)
	}
	return d.shown(r), err
}

// shown is a reading as the panel in front has it shown.
func (d *reading) shown(r leg.Reading) leg.Reading {
	if d.as == nil {
		return r
	}
	return d.as(r)
}

// show writes a reading that is no leg onto the dial, as long as it is dragged: terrain is
// not asked for every step of a hand, so its time says that it is flat.
func (d *reading) show(r leg.Reading) {
	d.display(r, r.Walking(d.s.Plan()), d.s.Plan().Party.PacesPer100m, true, false)
}

// rest writes a reading that is no leg onto the dial once it stays: with what the terrain
// says of walking between its ends, if it covers them.
func (d *reading) rest(r leg.Reading, from, to plan.End) { d.still(r, d.going(from, to)) }

// settle is rest for a line that may be kept and walked. It returns the reading with what over-steep
// ground says against that.
func (d *reading) settle(r leg.Reading, from, to plan.End) leg.Reading {
	g, code := d.going(from, to), caution.SteepLeg
	if d.off {
		code = caution.SteepAhead
	}
	steep, _ := d.s.Reader().OverSteep(code, g.Profile)
	r.Cautions = slices.Concat(steep, r.Cautions)
	d.still(r, g)
	return r
}

func (d *reading) going(from, to plan.End) leg.Going {
	p := d.s.Plan()
	g, _ := d.s.Reader().Going("", p.Resolve(from), p.Resolve(to)) // nothing is known where there is an error
	return g
}

func (d *reading) still(r leg.Reading, g leg.Going) {
	if !g.Climb.Known() {
		d.show(r)
		return
	}
	d.display(r, g.Time, d.s.Plan().Party.PacesPer100m, false, false)
}

// display writes a reading with its walking time, if it has one, and its double paces to
// 100 m; flat says that its climb is not counted, kept that it is a leg already.
func (d *reading) display(r leg.Reading, walking time.Duration, per100m float64, flat, kept bool) {
	words := ""
	if walking > 0 {
		words = leg.TimeWords(walking, !flat)
	}
	f := dial.FiguresOf(r, d.s.Plan().Party, words, per100m)
	if !kept {
		f.Stop, f.AsSight = d.lead(r)
	}
	d.dial.Display(f)
}

// lead are the first words for a reading that is no leg yet, see caution.LeadDragged: with the
// tool of escapes it can only become one.
func (d *reading) lead(r leg.Reading) (words string, asSight bool) {
	if d.off {
		return caution.Lead(r.Cautions, caution.OnLeg), false
	}
	return caution.LeadDragged(r.Cautions, caution.OnLeg)
}

// showSelected writes the selected leg or sight onto the dial, or how to get a
// reading.
func (d *reading) showSelected() {
	if row, ok := d.selected(); ok {
		if d.s.Selection().Kind != plan.OfLeg {
			d.rest(d.shown(row.Reading), row.FromEnd, row.ToEnd)
			return
		}
		r := row.Reading
		r.Cautions = slices.Concat(r.Cautions, row.HeightCautions)
		d.display(d.shown(r), row.Time, row.Per100m(d.s.Plan().Party), !row.ClimbKnown(), true)
		return
	}
	d.dial.Clear(d.hint())
}

// selected is the row of the leg or sight that is selected.
func (d *reading) selected() (leg.Row, bool) {
	sel := d.s.Selection()
	var rows []leg.Row
	switch sel.Kind {
	case plan.OfLeg:
		rows = d.s.Rows()
	case plan.OfSight:
		rows = d.s.Reader().Sights()
	}
	for _, r := range rows {
		if r.ID == sel.ID && r.Err == nil {
			return r, true
		}
	}
	return leg.Row{}, false
}

// PreviewHint says why a preview can only be looked at.
const PreviewHint = "The picture is still being read. You can look at it now and work on it in a moment."

// hint says how to get a reading, "" where the dial's own words do.
func (d *reading) hint() string {
	switch _, err := d.s.Calibration(); {
	case d.state == preview:
		return PreviewHint
	case d.state == empty:
		return cmp.Or(d.opens, "Open the picture of a map to begin.")
	case err != nil:
		return "Calibrate the sheet first."
	}
	return ""
}
