package card

import (
	"fmt"
	"strings"

	"legwright/mapio/paper"
)

// shortTable is all that A6 and smaller paper carries: number, to, SET, distance, paces, minutes,
// notes of the ground and catching feature; and from, where a leg does not begin at the end of the
// last.
func (c *Content) shortTable(w float64) paper.Table {
	t := paper.Table{Columns: []paper.Column{
		{Head: "leg", Min: 8}, {Head: "to", Min: 14, Ideal: 22, Grow: true}, {Head: c.setHead, Align: paper.Centre, Min: 15}, {Head: "how far", Min: 20, Ideal: 24},
	}}
	wide := w >= 85
	if wide {
		t.Columns = append(t.Columns, paper.Column{Head: "min", Min: 13, Ideal: 16})
	}
	for _, l := range c.Legs {
		n := fmt.Sprint(l.N)
		if l.Stopped {
			n += " !"
		}
		far, r := lines(unbroken(l.Distance), paces(l.Paces, " paces")), paper.Row{Again: fmt.Sprintf("Leg %d, continued", l.N)}
		if !wide {
			far = lines(far, l.Minutes)
		}
		r.Cells = []paper.Cell{{Text: n, Style: headType}, {Text: l.To}, {Text: dash(l.Set), Style: setType}, {Text: far}}
		if wide {
			r.Cells = append(r.Cells, paper.Cell{Text: l.Minutes})
		}
		from := ""
		if l.StartRef != "" {
			from = "From " + l.From
		}
		if text := lines(from, strings.Join(l.Notes, " "), labelled("Catching: ", l.Catching)); text != "" {
			r.Under = []paper.Row{{Across: paper.Cell{Text: text}}}
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}
