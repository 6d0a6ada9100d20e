package card

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"legwright/mapio/paper"
)

// roomyMM is the width from which the leg table has a column for everything; below, the back
// bearing stands under the others and paces under the distance.
const roomyMM = 165

// legTable is the table of the legs, each with what belongs to it beneath.
func (c *Content) legTable(w float64) paper.Table {
	roomy := w >= roomyMM
	t := paper.Table{Columns: []paper.Column{
		{Head: "leg", Min: 9},
		{Head: "from – to", Min: 24, Ideal: 60, Grow: true},
		{Head: c.setHead, Align: paper.Centre, Min: 15},
		{Head: "bearings", Min: 24, Ideal: 30},
	}}
	if roomy {
		t.Columns = append(t.Columns, paper.Column{Head: "back", Min: 16, Ideal: 18})
	}
	t.Columns = append(t.Columns, paper.Column{Head: "distance", Min: 19, Ideal: 30}, paper.Column{Head: "time", Min: 16, Ideal: 19})
	if roomy {
		t.Columns = append(t.Columns, paper.Column{Head: "double paces", Min: 19, Ideal: 32})
	}
	t.Columns = append(t.Columns, paper.Column{Head: "actual", Min: 13, Ideal: 22})
	for _, l := range c.Legs {
		t.Rows = append(t.Rows, paper.Row{Cells: cells(roomy, l.row()), Under: under(roomy, l), Again: l.again()})
	}
	if at := c.AtEnd; len(at) > 0 {
		t.Rows = append(t.Rows, paper.Row{Across: paper.Cell{Text: joined(": ", "At the end of the route", c.LeaveEnd), Style: headType}, Under: escapeRows(roomy, at)})
	}
	if off := c.Off; len(off) > 0 {
		t.Rows = append(t.Rows, paper.Row{Across: paper.Cell{Text: "Escapes that do not start on the route", Style: headType}, Under: escapeRows(roomy, off)})
	}
	return t
}

// mostBack is the longest back bearing with its label, in letters, that stands in one line below
// the others: "back 236° mag". In mils and gon the column has no room for it.
const mostBack = 13

// line is a row of the leg table before it is fitted to the paper.
type line struct {
	n, ends, set, bearings, back, distance, time, paces string
	bold                                                bool
}

func (l Leg) row() line {
	end := unbroken(l.Ref)
	if l.StartRef != "" {
		end = "end " + end
	}
	if l.EndHeight != "" {
		end += ", " + unbroken(l.EndHeight)
	}
	distance := []string{unbroken(l.Distance), joined(" ", unbroken(l.Climb), unbroken(l.Descent))}
	if l.FixAgain {
		distance = append(distance, fixPosition)
	}
	return line{
		n: l.label(), ends: lines(l.From+" – "+l.To, labelled("start ", unbroken(l.StartRef)), end), set: dash(l.Set), bearings: bearings(l.Grid, l.Mag, l.GMA), back: unbroken(l.Back),
		distance: lines(distance...), time: lines(l.Minutes, l.Clock, l.Ground, l.Light), paces: l.Paces, bold: true,
	}
}

// label is the number of a leg in a table, with the word STOP where nobody may walk it.
func (l Leg) label() string {
	if l.Stopped {
		return fmt.Sprint(l.N, "\nSTOP")
	}
	return fmt.Sprint(l.N)
}

// again stands above what a new page carries of a leg.
func (l Leg) again() string {
	return fmt.Sprintf("Leg %s, continued", strings.Replace(l.label(), "\n", " ", 1))
}

// cells are a row of the leg table.
func cells(roomy bool, x line) []paper.Cell {
	plain := func(text string) paper.Cell { return paper.Cell{Text: text} }
	n := paper.Cell{Text: x.n, Style: paper.Style{Bold: x.bold}}
	set := paper.Cell{Text: x.set, Style: setType}
	if !roomy {
		back := labelled("back ", x.back)
		if utf8.RuneCountInString(back) <= mostBack {
			back = unbroken(back)
		}
		return []paper.Cell{n, plain(x.ends), set, plain(lines(x.bearings, back)), plain(lines(x.distance, paces(x.paces, " paces"))), plain(x.time), plain("")}
	}
	return []paper.Cell{n, plain(x.ends), set, plain(x.bearings), plain(x.back), plain(x.distance), plain(x.time), plain(paces(x.paces, "")), plain("")}
}

// under is what stands beneath a leg.
func under(roomy bool, l Leg) (out []paper.Row) {
	across := func(label, text string) {
		if text != "" {
			out = append(out, paper.Row{Across: paper.Cell{Text: label + text}})
		}
	}
	if len(l.Stops) > 0 {
		out = append(out, paper.Row{Across: paper.Cell{Text: "STOP: " + strings.Join(l.Why, " "), Style: headType}})
	}
	across("", lines(append(l.Notes[:len(l.Notes):len(l.Notes)], labelled("Tick off: ", l.TickOff), labelled("Catching feature: ", l.Catching), labelled("Note: ", l.Note))...))
	if len(l.Escapes) > 0 || l.TurnBack != "" {
		across("From "+l.From+": ", l.TurnBack)
	}
	return append(out, escapeRows(roomy, l.Escapes)...)
}

// escapeRows are the rows of escapes, one for each and one for each of its legs.
func escapeRows(roomy bool, list []Escape) (out []paper.Row) {
	for _, e := range list {
		out = append(out, paper.Row{Across: paper.Cell{Text: e.Words(), Style: headType}})
		for _, l := range e.Legs {
			out = append(out, paper.Row{Cells: cells(roomy, l.row(e.Name))})
			if len(l.Notes) > 0 {
				out = append(out, paper.Row{Across: paper.Cell{Text: fmt.Sprintf("%s leg %d: %s", e.Name, l.N, strings.Join(l.Notes, " "))}})
			}
		}
	}
	return out
}

func (l EscapeLeg) row(escape string) line {
	ends := escape + ": " + l.From + " – " + l.To
	ends = lines(ends, unbroken(l.Ref), l.Along)
	if len(l.Stops) > 0 {
		ends += "\nSTOP: " + strings.Join(l.Stops, ", ")
	}
	return line{
		n: fmt.Sprintf("leg %d", l.N), ends: ends, set: l.Set, bearings: bearings(l.Grid, l.Mag, l.GMA), back: unbroken(l.Back),
		distance: unbroken(l.Distance), time: l.Time, paces: l.Paces,
	}
}

// Words say of an escape what there is to say of the whole.
func (e Escape) Words() string {
	words := "Escape " + e.Name
	if e.Title != "" {
		words += " “" + e.Title + "”"
	}
	if len(e.Stops) > 0 {
		words += ", STOP: " + strings.Join(e.Stops, ", ")
	}
	words += joined(", ", ", from "+e.From, e.FromRef) + " to " + e.To
	if e.Kind != "" {
		words += " (" + e.Kind + ")"
	}
	words += ": " + e.Time + ", in the dark " + e.Dark
	if e.EndsOn != "" {
		words += "; ends on " + e.EndsOn
	}
	if !e.Chosen {
		words += "; not the one chosen here"
	}
	if e.Note != "" {
		words += "; " + e.Note
	}
	return words
}

// lines joins what is not empty, one below the other.
func lines(list ...string) string { return joined("\n", list...) }

// bearings sets each in a line of its own.
func bearings(grid, mag, own string) string {
	return lines(unbroken(grid), unbroken(mag), strings.Replace(own, "GMA ", "GMA\u00a0", 1))
}

// paces keeps the hundreds and the rest each in one line. A unit stands behind the rest, which would
// else be read as metres.
func paces(text, unit string) string {
	hundreds, rest, ok := strings.Cut(text, " + ")
	switch {
	case ok:
		return unbroken(hundreds) + " " + unbroken("+ "+rest+unit)
	case text == "" || strings.Contains(text, "m"): // hundreds of metres alone
		return unbroken(text)
	}
	return unbroken(text + unit)
}

// mostUnbroken is the longest figure that mapio/paper keeps in one line, in letters: within a
// longer word it would break a number.
const mostUnbroken = 16

// unbroken keeps a figure in one line, and a ± with its own. A long one, such as a reference
// of 18 letters, breaks at its blanks.
func unbroken(text string) string {
	figure, half, has := strings.Cut(text, " ± ")
	if utf8.RuneCountInString(figure) <= mostUnbroken {
		figure = strings.ReplaceAll(figure, " ", "\u00a0")
	}
	if !has {
		return figure
	}
	return figure + " ±\u00a0" + strings.ReplaceAll(half, " ", "\u00a0")
}

func dash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}
