package paper

import (
	"slices"
	"strings"
)

// Column is a column of a table. It takes at least Min millimetres, and what its figures
// and short words need in one line; Ideal where there is room; what is left over goes
// to the columns that grow.
type Column struct {
	Head       string
	Min, Ideal float64
	Grow       bool
	Align      Align
}

// Cell is a text in a table, broken into lines by the width of its column.
type Cell struct {
	Text  string
	Style Style
}

// Row is a row of a table: a cell for each column, or one text across all of them. The
// rows under it, such as the escape under its leg, stay on its page where they can; those that
// cannot stand below Again, such as "leg 3, continued".
type Row struct {
	Cells  []Cell
	Across Cell // instead of Cells
	Under  []Row
	Again  string
}

// Table is a table whose head stands again on each page. It breaks between rows; only
// a row higher than a page is divided, with "…" where it breaks off and goes on.
type Table struct {
	Columns []Column
	Rows    []Row
}

const (
	cellPad  = 0.8 // between a rule and the text, mm
	rowRule  = 0.5
	cellRule = MinRule
)

// drawing is a table being drawn.
type drawing struct {
	t      Table
	d      *Doc
	p      *Page
	indent float64 // from the left edge of the body, mm
	widths []float64
	room   Rect // what is left on the page
	begun  bool // the head stands on the page
	fresh  bool // and nothing below it yet
}

// piece is a row broken into lines.
type piece struct {
	cells []Cell
	lines [][]string
	under bool
	wide  bool // one cell across all columns
}

// Draw draws the table from the top of a box of a page on, and goes on over new pages,
// there in the whole height of the body. It returns the last page and the room below.
func (t Table) Draw(p *Page, r Rect) (*Page, Rect) {
	g := &drawing{t: t, d: p.doc, p: p, indent: r.X - p.Body.X, room: r}
	if g.widths = t.widths(g.d, r.W); g.widths == nil {
		return p, r
	}
	for i, r := range t.Rows {
		group := g.group(r)
		if i == 0 && g.room.Y > p.Body.Y+1e-6 && g.height(g.head())+g.tall(group) > g.room.H {
			g.turn()
		} else if i == 0 {
			g.begin()
		}
		g.rows(group, r.Again)
	}
	g.level(rowRule)
	return g.p, g.room
}

// Tall is the height that the table takes on one page, in a width: 0 if its columns do not fit.
func (t Table) Tall(d *Doc, w float64) float64 {
	g := &drawing{t: t, d: d, room: Rect{W: w}}
	if g.widths = t.widths(d, w); g.widths == nil {
		return 0
	}
	h := g.height(g.head())
	for _, r := range t.Rows {
		h += g.tall(g.group(r))
	}
	return h
}

// widths shares the width out among the columns, or fails if their least do not fit.
func (t Table) widths(d *Doc, w float64) []float64 {
	var least, ideal, growing float64
	mins := make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		mins[i] = max(c.Min, t.least(d, i))
		least += mins[i]
		ideal += max(mins[i], c.Ideal)
		if c.Grow {
			growing++
		}
	}
	if len(t.Columns) == 0 || least > w+1e-6 {
		d.fail("the table is %.0f mm wide, but there is room for only %.0f mm: leave out columns, or print on larger paper", least, w)
		return nil
	}
	out := make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		switch want := max(mins[i], c.Ideal); {
		case ideal > w:
			out[i] = mins[i] + (want-mins[i])*(w-least)/(ideal-least)
		case c.Grow:
			out[i] = want + (w-ideal)/growing
		default:
			out[i] = want
		}
	}
	return out
}

// least is the width of a column below which a word would be broken that must not be.
func (t Table) least(d *Doc, i int) float64 {
	w := widest(d, t.headCell(i))
	for _, r := range t.Rows {
		for _, r := range append([]Row{r}, r.Under...) {
			if i < len(r.Cells) {
				w = max(w, widest(d, r.Cells[i]))
			}
		}
	}
	return w + 2*cellPad + 0.01
}

// widest is the width of the widest word of a cell that must not be broken.
func widest(d *Doc, c Cell) float64 {
	w := 0.0
	d.setFont(c.Style)
	for _, word := range strings.FieldsFunc(clean(c.Text), func(r rune) bool { return r == ' ' || r == '\n' }) {
		for _, part := range words(word) {
			if unbroken(part) {
				w = max(w, d.pdf.GetStringWidth(part))
			}
		}
	}
	return w
}

func (t Table) headCell(i int) Cell { return Cell{t.Columns[i].Head, Style{Bold: true}} }

// head is the row of the columns' heads.
func (g *drawing) head() piece {
	var r Row
	for i := range g.t.Columns {
		r.Cells = append(r.Cells, g.t.headCell(i))
	}
	return g.piece(r, false)
}

// group breaks a row and those under it into lines.
func (g *drawing) group(r Row) []piece {
	out := []piece{g.piece(r, false)}
	for _, u := range r.Under {
		out = append(out, g.piece(u, true))
	}
	return out
}

func (g *drawing) piece(r Row, under bool) piece {
	p := piece{cells: r.Cells, under: under}
	if len(r.Cells) == 0 {
		p.cells, p.wide = []Cell{r.Across}, true
	}
	if !p.wide && len(p.cells) != len(g.widths) {
		g.d.fail("a row has %d cells, but the table has %d columns", len(p.cells), len(g.widths))
		return piece{}
	}
	for i, c := range p.cells {
		p.lines = append(p.lines, g.d.wrap(c.Text, c.Style, g.cellWidth(p, i)-2*cellPad))
	}
	return p
}

func (g *drawing) cellWidth(p piece, i int) float64 {
	if p.wide {
		return g.room.W
	}
	return g.widths[i]
}

// height is the height of a row.
func (g *drawing) height(p piece) float64 {
	h := 0.0
	for i, c := range p.cells {
		h = max(h, float64(len(p.lines[i]))*c.Style.Height())
	}
	return h + 2*cellPad
}

func (g *drawing) tall(pieces []piece) float64 {
	h := 0.0
	for _, p := range pieces {
		h += g.height(p)
	}
	return h
}

// rows draws a row with those under it, on a new page where they do not fit on this one.
func (g *drawing) rows(pieces []piece, again string) {
	if !g.fresh && g.tall(pieces) > g.room.H {
		g.turn()
	}
	for _, p := range pieces {
		for g.d.err == nil && g.height(p) > g.room.H {
			if g.fresh {
				p = g.divide(p)
			}
			g.turn()
			if again != "" {
				g.put(g.piece(Row{Across: Cell{again, Style{Bold: true}}}, false))
			}
		}
		g.put(p)
		g.fresh = false
	}
}

// turn ends the table on this page and begins it on the next.
func (g *drawing) turn() {
	if g.begun {
		g.level(rowRule)
	}
	g.p = g.d.AddPage()
	g.room = Rect{g.p.Body.X + g.indent, g.p.Body.Y, g.room.W, g.p.Body.H}
	g.begin()
}

// begin draws the head.
func (g *drawing) begin() {
	g.put(g.head())
	g.fresh, g.begun = true, true
}

// divide draws as much of a row as fits on the page and returns the rest.
func (g *drawing) divide(p piece) piece {
	rest := piece{cells: p.cells, under: p.under, wide: p.wide, lines: make([][]string, len(p.lines))}
	part := rest
	part.lines = make([][]string, len(p.lines))
	for i, lines := range p.lines {
		n := int((g.room.H - 2*cellPad) / p.cells[i].Style.Height())
		if len(lines) <= n {
			part.lines[i] = lines
			continue
		}
		if n < 3 {
			g.d.fail("%.0f mm of height is too little for a row of the table: print on larger paper", g.room.H)
			return rest
		}
		part.lines[i] = append(slices.Clone(lines[:n-1]), cutSign)
		rest.lines[i] = append([]string{cutSign}, lines[n-1:]...)
	}
	g.put(part)
	return rest
}

// put draws a row with the rules around it and takes its height from the room.
func (g *drawing) put(p piece) {
	if g.d.err != nil {
		return
	}
	rule := rowRule
	if p.under {
		rule = cellRule
	}
	g.level(rule)
	box, room := g.room.Top(g.height(p))
	x := box.X
	for i, c := range p.cells {
		cell := Rect{x, box.Y, g.cellWidth(p, i), box.H}
		g.p.Rule(Point{x, cell.Y}, Point{x, cell.Bottom()}, cellRule)
		align := Left
		if !p.wide {
			align = g.t.Columns[i].Align
		}
		g.cell(cell.Inset(cellPad), c.Style, align, p.lines[i])
		x = cell.Right()
	}
	g.p.Rule(Point{x, box.Y}, Point{x, box.Bottom()}, cellRule)
	g.room = room
}

// cell sets the lines of a cell.
func (g *drawing) cell(r Rect, s Style, a Align, lines []string) {
	for _, line := range lines {
		var at Rect
		at, r = r.Top(s.Height())
		g.p.aligned(at, s, a, line)
	}
}

// level draws a rule above what comes next.
func (g *drawing) level(width float64) {
	g.p.Rule(Point{g.room.X, g.room.Y}, Point{g.room.Right(), g.room.Y}, width)
}
