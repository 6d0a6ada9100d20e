package card

import (
	"strings"

	"legwright/mapio/paper"
)

// shortTable is what A6 and smaller paper carries of the legs: number, to, SET, distance, paces, minutes,
// stops, notes of the ground and catching feature; and from, where a leg does not begin at the end of
// the last.
func (c *Content) shortTable(w float64) paper.Table {
	t := paper.Table{Columns: []paper.Column{
		{Head: "leg", Min: 8}, {Head: "to", Min: 14, Ideal: 22, Grow: true}, {Head: c.setHead, Align: paper.Centre, Min: 15}, {Head: "how far", Min: 20, Ideal: 24},
	}}
	wide := w >= 85
	if wide {
		t.Columns = append(t.Columns, paper.Column{Head: "min", Min: 13, Ideal: 16})
	}
	for _, l := range c.Legs {
		far, r := lines(unbroken(l.Distance), paces(l.Paces, " paces")), paper.Row{Again: l.again()}
		minutes := l.Minutes
		if l.FixAgain {
			minutes = lines(minutes, "fix on the way")
		}
		if !wide {
			far = lines(far, minutes)
		}
		r.Cells = []paper.Cell{{Text: l.label(), Style: headType}, {Text: l.To}, {Text: dash(l.Set), Style: setType}, {Text: far}}
		if wide {
			r.Cells = append(r.Cells, paper.Cell{Text: minutes})
		}
		r.Under = l.shortUnder()
		t.Rows = append(t.Rows, r)
	}
	return t
}

// shortUnder is what stands beneath a leg on small paper.
func (l Leg) shortUnder() (out []paper.Row) {
	if l.Stopped {
		out = append(out, paper.Row{Across: paper.Cell{Text: "STOP: " + strings.Join(l.Stops, ", "), Style: headType}})
	}
	from := ""
	if l.StartRef != "" {
		from = "From " + l.From
	}
	if text := lines(from, strings.Join(l.Notes, " "), labelled("Catching: ", l.Catching)); text != "" {
		out = append(out, paper.Row{Across: paper.Cell{Text: text}})
	}
	return out
}

// shortHousing says which compass SET is for: there is no other column to use.
func (c *Content) shortHousing() string {
	words, _, _ := strings.Cut(c.Housing, ";")
	return strings.NewReplacer("SET is for", "SET is only for", "° ", "°\u00a0").Replace(words) + "."
}
