package ledger

import (
	"image"
	"image/color"
	"image/draw"

	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// The ways of setting text in the table: the whole of it is one picture, for a
// hundred text objects of the toolkit would cost more of each frame than the
// sheet itself.
func plain() lettering.Style { return lettering.Style{Size: 13} }
func bold() lettering.Style  { return lettering.Style{Size: 13, Bold: true} }
func small() lettering.Style { return lettering.Style{Size: 11} } // references and headings

// Heights in units of the window, and the space inside a cell.
const (
	rowHeight  = float32(42)
	headHeight = float32(22)
	cellPad    = float32(6)
	minWidth   = float32(640)
	barWidth   = float32(3) // of the scroll bar
)

// table is what the picture of the ledger shows.
type table struct {
	rows     []Row
	selected int // −1 none
	cursor   Column
	offset   float32 // how far the rows are scrolled
	focused  bool
	letters  *lettering.Setter
}

// paint draws the table into a picture of w × h physical pixels, which cover
// width × height units of the window.
func (t *table) paint(w, h int, width, height float32) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	p := look.Current()
	for i, r := range t.rows {
		top := headHeight + float32(i)*rowHeight - t.offset
		if top+rowHeight > headHeight && top < height {
			t.row(img, r, i == t.selected, top, width, p)
		}
	}
	t.fill(img, 0, 0, width, headHeight, p.Paper) // rows pass beneath the heading
	t.heading(img, width, p)
	t.bar(img, width, height, p)
	if t.focused {
		t.frame(img, width, height, p.Accent)
	}
	return img
}

func (t *table) heading(img *image.RGBA, width float32, p look.Palette) {
	at, wide := spans(width)
	for c, s := range specs() {
		text := t.letters.Fit(s.head, small(), wide[c]-2*cellPad+2)
		t.letters.Write(img, text, small(), t.left(text, small(), at[c], wide[c], s.figure), 15, p.Quiet)
	}
	t.fill(img, 0, headHeight-1, width, 1, p.Hair)
}

// left is where a text begins in its cell; figures stand to the right.
func (t *table) left(text string, s lettering.Style, x, w float32, right bool) float32 {
	if right {
		return x + w - cellPad - t.letters.Width(text, s)
	}
	return x + cellPad
}

func (t *table) row(img *image.RGBA, r Row, selected bool, top, width float32, p look.Palette) {
	at, wide := spans(width)
	if selected {
		t.fill(img, 0, top, width, rowHeight-1, p.Hover)
		t.fill(img, at[t.cursor], top, wide[t.cursor], rowHeight-1, p.Select)
	}
	for i, s := range specs() {
		c := Column(i)
		text, under := r.cell(c)
		st, ink := plain(), p.Ink
		if c == Number || c == Magnetic {
			st = bold()
		}
		if r.Stopped && (c == Number || c == Grid || c == Magnetic) {
			ink = p.Fault
		}
		if under != "" {
			under = t.letters.Fit(under, small(), wide[c]-2*cellPad)
			t.letters.Write(img, under, small(), t.left(under, small(), at[c], wide[c], s.figure), top+33, p.Quiet)
		}
		text = t.letters.Fit(text, st, wide[c]-2*cellPad)
		t.letters.Write(img, text, st, t.left(text, st, at[c], wide[c], s.figure), top+17, ink)
	}
	t.fill(img, 0, top+rowHeight-1, width, 1, p.Hair)
}

// bar draws how much of the rows is seen, where not all are.
func (t *table) bar(img *image.RGBA, width, height float32, p look.Palette) {
	room, all := height-headHeight, float32(len(t.rows))*rowHeight
	if all <= room || room <= 0 {
		return
	}
	long := max(room*room/all, 16)
	top := headHeight + (room-long)*t.offset/(all-room)
	t.fill(img, width-barWidth-1, top, barWidth, long, p.Edge)
}

func (t *table) frame(img *image.RGBA, w, h float32, c color.Color) {
	t.fill(img, 0, 0, w, 1, c)
	t.fill(img, 0, h-1, w, 1, c)
	t.fill(img, 0, 0, 1, h, c)
	t.fill(img, w-1, 0, 1, h, c)
}

// fill paints a rectangle given in units of the window.
func (t *table) fill(img *image.RGBA, x, y, w, h float32, c color.Color) {
	px := func(v float32) int { return int(v*t.letters.Scale() + 0.5) }
	r := image.Rect(px(x), px(y), max(px(x+w), px(x)+1), max(px(y+h), px(y)+1))
	draw.Draw(img, r.Intersect(img.Rect), image.NewUniform(c), image.Point{}, draw.Over)
}
