package paper

import (
	"fmt"
	"strings"
	"testing"
)

func testTable(rows int) Table {
	t := Table{Columns: []Column{
		{Head: "Leg"}, {Head: "From – to", Min: 20, Ideal: 40, Grow: true}, {Head: "SET", Align: Right}, {Head: "Distance", Align: Right},
	}}
	for i := range rows {
		r := Row{Cells: []Cell{
			{Text: fmt.Sprintf("L%d", i+1)},
			{Text: names().Example(i)},
			{Text: "057°", Style: Style{Pt: 14, Bold: true}},
			{Text: "1,250\u00a0m"},
		}}
		if i%3 == 1 {
			r.Under = []Row{{Across: Cell{Text: fmt.Sprintf("Escape%d to the hut: turn back by 14:20", i+1)}}}
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// TestTableBreaksBetweenRows: on each page the head stands again, figures are whole, a
// row's words are all on its page with its escape, and no word leaves its column.
func TestTableBreaksBetweenRows(t *testing.T) {
	t.Parallel()
	for _, size := range []Size{A4, Pocket} {
		d := begun(t, size, testInfo())
		p := d.AddPage()
		table := testTable(40)
		rest, _ := p.Paragraph(p.Body, Style{Pt: 12}, "Round")
		last, room := table.Draw(p, rest)
		if last == p || room.Y < last.Body.Y || room.Bottom() > last.Body.Bottom()+1e-6 {
			t.Errorf("%v: the table ended on page %d with the room %v", size, d.Pages(), room)
		}
		widths := table.widths(d, rest.W)
		path := written(t, d)
		wholeRows(t, size, strings.Split(strings.TrimSuffix(run(t, "pdftotext", "-raw", path, "-"), "\f"), "\f"), table)
		for i, words := range wordsOf(t, path) {
			for _, w := range words {
				inColumns(t, w, i, last.Body, widths)
			}
		}
	}
}

// TestPartedRowIsNamedAgain: where rows under a row go on over another page, or the row itself does,
// that page says whose they are.
func TestPartedRowIsNamedAgain(t *testing.T) {
	t.Parallel()
	d := begun(t, Pocket, testInfo())
	p := d.AddPage()
	long := strings.Repeat("wall, then a stream, ", 20)
	Table{Columns: []Column{{Head: "Leg", Min: 10}, {Head: "To", Min: 20, Grow: true}}, Rows: []Row{
		{Cells: []Cell{{Text: "L1"}, {Text: "Cairn"}}, Under: []Row{{Across: Cell{Text: long}}, {Across: Cell{Text: long}}}, Again: "L1, continued"},
		{Cells: []Cell{{Text: "L2"}, {Text: "Hut"}}, Again: "L2, continued"},
		{Cells: []Cell{{Text: "L3"}, {Text: long + long}}, Again: "L3, continued"},
	}}.Draw(p, p.Body)
	pages := strings.Split(strings.TrimSuffix(run(t, "pdftotext", "-raw", written(t, d), "-"), "\f"), "\f")
	text := strings.Join(pages, " ")
	if len(pages) < 4 || !strings.Contains(pages[1], "L1, continued\nwall") || strings.Contains(text, "L2, continued") || !strings.Contains(pages[len(pages)-1], "L3, continued") {
		t.Errorf("%d pages: %q", len(pages), pages)
	}
}

// wholeRows reports pages without the head, and rows that are not whole on one page.
func wholeRows(t *testing.T, size Size, pages []string, table Table) {
	t.Helper()
	legs := 0
	for i, text := range pages {
		if strings.Count(text, "Leg From – to SET Distance") != 1 {
			t.Errorf("%v: page %d has no head, or two:\n%s", size, i+1, text)
		}
		for j := range table.Rows {
			leg := strings.Count(strings.ReplaceAll(text, "\n", " "), fmt.Sprintf(" L%d ", j+1))
			legs += leg
			if j%3 == 1 && leg == 1 != strings.Contains(text, fmt.Sprintf("\nEscape%d ", j+1)) {
				t.Errorf("%v: leg %d and its escape were parted", size, j+1)
			}
		}
	}
	if n := strings.Count(strings.Join(pages, ""), "057° 1,250 m\n"); legs != 40 || n != 40 {
		t.Errorf("%v: %d legs and %d rows of figures stand on paper, want 40", size, legs, n)
	}
}

// inColumns reports a word of a row of cells that crosses the edge of a column.
func inColumns(t *testing.T, w word, page int, body Rect, widths []float64) {
	t.Helper()
	if o := w.outside(body); o > 0.05 {
		t.Errorf("page %d: %q stands %.2f mm out of the body", page+1, w.Text, o)
	}
	if strings.Contains("Escape to the hut: turn back by 14:20 Round", strings.TrimRight(w.Text, "0123456789")) {
		return
	}
	x := body.X
	for _, wide := range widths[:len(widths)-1] {
		if x += wide; w.XMin*mmPerPt < x-0.05 && w.XMax*mmPerPt > x+0.05 {
			t.Errorf("page %d: %q crosses the edge of its column", page+1, w.Text)
		}
	}
}

// TestRowHigherThanAPage is divided with a sign, and none of it is lost.
func TestRowHigherThanAPage(t *testing.T) {
	t.Parallel()
	d := begun(t, Pocket, testInfo())
	p := d.AddPage()
	var words []string
	for i := range 150 {
		words = append(words, fmt.Sprintf("word%d", i))
	}
	Table{
		Columns: []Column{{Head: "Leg"}, {Head: "Note", Grow: true}},
		Rows:    []Row{{Cells: []Cell{{Text: "1"}, {Text: strings.Join(words, " ")}}}},
	}.Draw(p, p.Body)
	pages := wordsOf(t, written(t, d))
	if len(pages) < 3 {
		t.Fatalf("150 words took %d pages", len(pages))
	}
	var got []string
	for i, page := range pages {
		var text []string
		for _, w := range page {
			text = append(text, w.Text)
		}
		if broken := text[len(text)-1] == "…"; broken != (i < len(pages)-1) {
			t.Errorf("page %d ends in %q", i+1, text[len(text)-1])
		}
		for _, w := range text {
			if strings.HasPrefix(w, "word") {
				got = append(got, w)
			}
		}
	}
	if strings.Join(got, " ") != strings.Join(words, " ") {
		t.Errorf("the row says %q", got)
	}
}

// TestTableTooWide asks for larger paper: figures are never broken to fit.
func TestTableTooWide(t *testing.T) {
	t.Parallel()
	d := begun(t, Pocket, testInfo())
	p := d.AddPage()
	table := Table{Columns: make([]Column, 5), Rows: []Row{{Cells: make([]Cell, 5)}}}
	for i := range table.Rows[0].Cells {
		table.Rows[0].Cells[i].Text = "NH\u00a027455\u00a043150"
	}
	table.Draw(p, p.Body)
	fails(t, d, "larger paper")
}
