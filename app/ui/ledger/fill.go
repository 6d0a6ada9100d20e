package ledger

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/light"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/units"
)

// fill makes all rows again.
func (l *Ledger) fill() {
	legs, p := l.s.Rows(), l.s.Plan()
	cols := shownOf(l.sizes.asked.Hidden, len(p.Terrain) > 0)
	rows, note := withEscapes(cols, rowsOf(cols, legs, p), l.s.Escapes(), p), l.Totals()
	if l.concealed {
		note = concealRows(cols, rows)
	}
	l.grid.fill(cols, rows, l.chosen())
	l.heading.SetNote(note)
}

// rowsOf makes the row of each leg, and says where one does not begin at the end of
// the leg before.
func rowsOf(cols []column, legs []leg.Row, p *plan.Plan) []row {
	out := make([]row, len(legs))
	for i, r := range legs {
		out[i] = rowOf(cols, shown{r, i + 1, p})
	}
	for _, c := range p.Chains() {
		if i := c.First; i > 0 && i < len(out) {
			out[i].gap = fmt.Sprintf("Gap: leg %d ends at %s, but leg %d begins at %s", i, legs[i-1].To, i+1, legs[i].From)
		}
	}
	return out
}

// rowOf makes the row of a leg. Without a reading it has no figures.
func rowOf(cols []column, s shown) row {
	out := row{id: s.ID, ground: s.Profile, stopped: s.Err != nil || s.Reading.Stopped()}
	if s.Err != nil {
		out.fault = foot.Sentence(s.Err)
	}
	out.cell = func(c int) cell {
		if s.Err != nil && cols[c].style.figure {
			return cell{}
		}
		return cols[c].cell(s)
	}
	return out
}

// totals sums up the route and its escapes for the heading. What speaks against them comes
// first, for a heading loses the end of a long note.
func totals(legs []leg.Row, off escape.Judged, p *plan.Plan) string {
	bad, good := offTotals(off)
	if len(legs) == 0 {
		return strings.Join(slices.Concat(bad, []string{"no legs"}, good), ", ")
	}
	return strings.Join(slices.Concat(against(legs), bad, sums(legs, p), good), ", ")
}

// against says what speaks against a route and its sums.
func against(legs []leg.Row) (parts []string) {
	stopped, unchecked, unread := 0, 0, 0
	for _, r := range legs {
		switch {
		case r.Err != nil:
			unread++
			continue
		case r.Reading.Stopped():
			stopped++
		}
		if caution.Has(r.Reading.Cautions, caution.Unchecked) {
			unchecked++
		}
	}
	if stopped > 0 {
		parts = append(parts, count(stopped, "leg")+" marked STOP")
	}
	if unchecked == len(legs)-unread && unchecked > 0 {
		parts = append(parts, "sheet unchecked")
	} else if unchecked > 0 {
		parts = append(parts, count(unchecked, "leg")+" on an unchecked sheet")
	}
	if unread > 0 {
		parts = append(parts, "not counting "+count(unread, "leg")+" without a reading")
	}
	return append(parts, timeWarnings(legs)...)
}

// sums are the length, climb and time of a route, without the legs that cannot be read.
func sums(legs []leg.Row, p *plan.Plan) []string {
	var sum leg.Row
	read, flat := 0, 0
	for _, r := range legs {
		if r.Err != nil {
			continue
		}
		read++
		sum.Reading.GroundM += r.Reading.GroundM
		sum.Reading.DistanceSigmaM += r.Reading.DistanceSigmaM // as if all erred alike: legs share ends and sheet
		sum.Time += r.Time
		sum.Climb.M, sum.Descent.M = sum.Climb.M+r.Climb.M, sum.Descent.M+r.Descent.M
		if !r.ClimbKnown() {
			flat++
		}
	}
	parts := []string{count(len(legs), "leg") + routes(p.Chains()), units.Metres(sum.Reading.GroundM, sum.Reading.DistanceSigmaM)}
	parts = append(parts, climbWords(sum, flat, read)...)
	if sum.Time > 0 {
		parts = append(parts, "walking "+units.Minutes(sum.Time)+flatWords(flat, read)+whole(leg.UntimedWords(legs)))
	}
	return append(parts, endWords(legs, p)...)
}

// climbWords says what the legs climb and descend, and of how many that is not known, in one
// part that is never cut in two. Without any figure they say nothing.
func climbWords(sum leg.Row, flat, all int) []string {
	if flat == all {
		return nil
	}
	words := fmt.Sprintf("%.0f m up and %.0f m down", sum.Climb.M, sum.Descent.M)
	if flat > 0 {
		words += " (not counting the climb of " + count(flat, "leg") + ")"
	}
	return []string{words}
}

// flatWords say that no climb is counted.
func flatWords(flat, all int) string {
	if flat == all {
		return " with no climb counted"
	}
	return ""
}

// timeWarnings say what speaks against the times of a route.
func timeWarnings(legs []leg.Row) (parts []string) {
	first, dark := len(legs), 0
	for i, r := range legs {
		switch {
		case i == 0 && caution.Has(r.TimeCautions, caution.TooMuch):
			return []string{"too long for the party"}
		case r.Light == light.Dark:
			dark++
			first = min(first, i)
		}
	}
	switch {
	case dark == 1:
		parts = append(parts, fmt.Sprintf("DARK on leg %d", first+1))
	case dark > 1:
		parts = append(parts, fmt.Sprintf("DARK on %d legs from leg %d", dark, first+1))
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
		return []string{fmt.Sprintf("no clock times from leg %d on", last+2)}
	}
	return []string{"ends at " + legs[last].ClockWords(p.Date)}
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

// whole keeps a list from being cut at its commas, where the heading cuts.
func whole(list string) string { return strings.ReplaceAll(list, ", ", ",\u00a0") }

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
