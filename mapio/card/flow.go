package card

import "legwright/mapio/paper"

// flow sets one thing below the other, over as many pages as that takes.
type flow struct {
	d    *paper.Doc
	p    *paper.Page
	rest paper.Rect // what is left of the page
}

func newFlow(d *paper.Doc) *flow {
	p := d.AddPage()
	return &flow{d, p, p.Body}
}

// gapMM is the white between two parts, smallGapMM that on small paper.
const gapMM, smallGapMM = 2.2, 1.2

func (f *flow) gap() {
	gap := gapMM
	if f.p.Body.W < smallEdgeMM {
		gap = smallGapMM
	}
	if f.rest.Y > f.p.Body.Y {
		_, f.rest = f.rest.Top(min(gap, f.rest.H))
	}
}

// need begins a page unless so much height is left.
func (f *flow) need(mm float64) {
	if mm > f.rest.H && f.rest.Y > f.p.Body.Y {
		f.p = f.d.AddPage()
		f.rest = f.p.Body
	}
}

// needUnder is need, with a head on a page that it begins.
func (f *flow) needUnder(head string, mm float64) {
	page := f.p
	if f.need(mm); f.p != page {
		f.say(boldType, head, head)
	}
}

// say sets paragraphs; what is longer than the page goes on over the next.
func (f *flow) say(s paper.Style, again, text string) {
	if text == "" {
		return
	}
	f.need(min(f.d.Tall(text, s, f.rest.W), 4*s.Height()))
	f.p, f.rest = f.p.Flow(f.rest, s, again, text)
}

// headMM is the white between what stands above a table and its first rule.
const headMM = 0.8

// table draws a table from here on.
func (f *flow) table(t paper.Table) {
	if f.rest.Y > f.p.Body.Y {
		_, f.rest = f.rest.Top(min(headMM, f.rest.H))
	}
	f.p, f.rest = t.Draw(f.p, f.rest)
	f.gap()
}

// Lines to write on.
const (
	writeMM = 8.0 // height of one
	writeIn = 30  // least length beside its label
)

// write sets a label with a line to write on behind it, or below where it is long.
func (f *flow) write(label string) {
	w := f.d.Width(label, headType) + 2
	high := headType.Height()
	beside := f.rest.W-w >= writeIn
	if !beside {
		high = f.d.Tall(label, headType, f.rest.W)
		w = 0
	}
	f.need(high + writeMM)
	row, rest := f.rest.Top(writeMM)
	if !beside {
		f.rest, _ = f.p.Paragraph(f.rest, headType, label)
		row, rest = f.rest.Top(writeMM)
	} else {
		line, _ := row.Foot(headType.Height())
		f.p.Line(paper.Rect{X: line.X, Y: line.Y, W: w, H: line.H}, headType, paper.Left, label)
	}
	f.p.Rule(paper.Point{X: row.X + w, Y: row.Bottom() - 0.5}, paper.Point{X: row.Right(), Y: row.Bottom() - 0.5}, paper.MinRule)
	f.rest = rest
}
