package ledger

import (
	"fmt"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/light"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/units"
)

// fill writes all rows anew.
func (l *Ledger) fill() {
	legs, p := l.s.Rows(), l.s.Plan()
	cols := shownOf(l.sizes.asked.Hidden, len(p.Terrain) > 0)
	judged := l.s.Escapes()
	rows, note := withEscapes(cols, rowsOf(cols, legs, p), judged, p), totals(legs, p)
	if off := offTotals(judged); off != "" {
		note += "; " + off // a heading loses its beginning first
	}
	if l.concealed {
		note = concealRows(cols, rows)
	}
	l.grid.fill(cols, rows, l.chosen())
	l.heading.SetNote(note)
}

// rowsOf writes the cells of each leg, and says where one does not begin at the end of
// the leg before.
func rowsOf(cols []column, legs []leg.Row, p *plan.Plan) []row {
	out := make([]row, len(legs))
	for i, r := range legs {
		out[i] = rowOf(cols, shown{r, i + 1, p})
	}
	for _, c := range p.Chains() {
		if i := c.First; i > 0 && i < len(out) {
			out[i].gap = fmt.Sprintf("Gap: leg %d ends at %s, leg %d begins at %s", i, legs[i-1].To, i+1, legs[i].From)
		}
	}
	return out
}

// rowOf writes the cells of a leg. Without a reading it has no figures.
func rowOf(cols []column, s shown) row {
	out := row{id: s.ID, cells: make([]cell, len(cols)), ground: s.Profile, stopped: s.Err != nil || s.Reading.Stopped()}
	if s.Err != nil {
		out.fault = foot.Sentence(s.Err)
	}
	for c, col := range cols {
		if s.Err == nil || !col.style.figure {
			out.cells[c] = col.cell(s)
		}
	}
	return out
}

// totals sums up the route for the heading. What speaks against it comes first, for
// the end of a long line is cut.
func totals(legs []leg.Row, p *plan.Plan) string {
	if len(legs) == 0 {
		return "no legs"
	}
	var sum leg.Row
	stopped, unchecked, unread, flat := 0, 0, 0, 0
	for _, r := range legs {
		if r.Err != nil {
			unread++
			continue
		}
		if r.Reading.Stopped() {
			stopped++
		}
		if caution.Has(r.Reading.Cautions, caution.Unchecked) {
			unchecked++
		}
		sum.Reading.GroundM += r.Reading.GroundM
		sum.Reading.DistanceSigmaM += r.Reading.DistanceSigmaM // as if all erred alike: legs share ends and sheet
		sum.Time += r.Time
		sum.Climb.M, sum.Descent.M = sum.Climb.M+r.Climb.M, sum.Descent.M+r.Descent.M
		if !r.ClimbKnown() {
			flat++
		}
	}
	var parts []string
	if stopped > 0 {
		parts = append(parts, fmt.Sprintf("%d marked STOP", stopped))
	}
	if unchecked == len(legs)-unread && unchecked > 0 {
		parts = append(parts, "sheet unchecked")
	} else if unchecked > 0 {
		parts = append(parts, fmt.Sprintf("%d on an unchecked sheet", unchecked))
	}
	parts = append(parts, timeWarnings(legs)...)
	parts = append(parts, count(len(legs), "leg")+routes(p.Chains()), units.Metres(sum.Reading.GroundM, sum.Reading.DistanceSigmaM))
	parts = append(parts, climbWords(sum, flat, len(legs)-unread)...)
	if sum.Time > 0 {
		parts = append(parts, "walking "+units.Minutes(sum.Time)+flatWords(flat, len(legs)-unread))
	}
	parts = append(parts, endWords(legs, p)...)
	if unread > 0 {
		parts = append(parts, "not counting "+count(unread, "leg")+" without a reading")
	}
	return strings.Join(parts, ", ")
}

// climbWords says what the legs climb and descend, and of how many that is not known. Without any
// figure they say nothing.
func climbWords(sum leg.Row, flat, all int) []string {
	if flat == all {
		return nil
	}
	words := []string{fmt.Sprintf("%.0f m up, %.0f m down", sum.Climb.M, sum.Descent.M)}
	if flat > 0 {
		words = append(words, "not counting the climb of "+count(flat, "leg"))
	}
	return words
}

// flatWords say that no climb is counted.
func flatWords(flat, all int) string {
	if flat == all {
		return " on the flat"
	}
	return ""
}

// timeWarnings say what speaks against the times of a route.
func timeWarnings(legs []leg.Row) (parts []string) {
	dark := 0
	for i, r := range legs {
		switch {
		case i == 0 && caution.Has(r.TimeCautions, caution.TooMuch):
			return []string{"too long for the party"}
		case dark == 0 && r.Light == light.Dark:
			dark = i + 1
		}
	}
	if dark > 0 {
		parts = append(parts, fmt.Sprintf("DARK on leg %d", dark))
	}
	return parts
}

// endWords say when the route ends, or from which leg on that is not known.
func endWords(legs []leg.Row, p *plan.Plan) []string {
	last := -1
	for i, r := range legs {
		if !r.Arrive.IsZero() {
			last = i
		}
	}
	switch {
	case last < 0:
		return nil
	case last < len(legs)-1:
		return []string{fmt.Sprintf("no clock from leg %d on", last+2)}
	}
	return []string{"end " + legs[last].ClockWords(p.Date)}
}

// routes names the legs of each unbroken part of the route where there are several:
// " in 2 routes (1–6, 7–8)".
func routes(chains []plan.Chain) string {
	if len(chains) < 2 {
		return ""
	}
	var list []string
	for _, c := range chains {
		list = append(list, span(c.First+1, c.Last+1))
	}
	return fmt.Sprintf(" in %d routes (%s)", len(list), strings.Join(list, ", "))
}

// span writes the numbers of the legs from one to another.
func span(from, to int) string {
	if from == to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d–%d", from, to)
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
