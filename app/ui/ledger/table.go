package ledger

import (
	"image"
	"image/color"
	"image/draw"
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/lettering"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/look"
	"legwright/app/ui/profile"
)

// The ways of writing in the table.
func plain() lettering.Style { return lettering.Style{Size: 13} }
func bold() lettering.Style  { return lettering.Style{Size: 13, Bold: true} }
func small() lettering.Style { return lettering.Style{Size: 11} } // second lines and headings

// Sizes in units of the window.
const (
	rowHeight  = float32(42)
	headHeight = float32(22)
	gapHeight  = float32(18) // of the line that says where the route is broken
	cellPad    = float32(6)  // at both sides of a cell's text
	offBar     = float32(3)  // at the left of an escape
	offIndent  = float32(14) // of its start
)

// row is a leg as it is drawn.
type row struct {
	id      plan.ID
	cell    func(c int) cell // writes the cell of a column, when it is seen: sixty rows take longer than a frame
	ground  terrain.Profile  // as it is drawn; the zero Profile for none
	stopped bool
	fault   string // why the leg has no reading; "" if it has one
	off     bool   // an escape, which is not walked with the route
	gap     string // says that the leg does not begin where the one before ends; "" if it does
}

// table is what the picture of the ledger shows.
type table struct {
	cols     []column
	rows     []row
	riseM    float64   // between the lower and the upper edge of the profiles, alike in all rows
	tops     []float32 // of the rows, below the heading, as if nothing were scrolled; then the lower end
	selected int       // a row; −1 for none
	cursor   int       // the column of the chosen cell
	offset   fyne.Position
	size     fyne.Size
	focused  bool
	letters  *lettering.Setter
}

// fill replaces columns and rows, makes the columns hold the rows, and chooses the one
// with that ID. The cursor stays in its column while that is shown.
func (t *table) fill(cols []column, rows []row, id plan.ID) {
	t.keepCursor(cols)
	t.rows, t.cols, t.selected = rows, holding(cols, rows, t.letters), -1
	t.riseM = profile.WidestM(grounds(rows)...)
	t.tops = make([]float32, 0, len(rows)+1)
	top := float32(0)
	for i, r := range rows {
		if r.gap != "" {
			top += gapHeight
		}
		t.tops = append(t.tops, top)
		top += rowHeight
		if r.id == id {
			t.selected = i
		}
	}
	t.tops = append(t.tops, top)
}

// choice is the chosen row and where it stands.
type choice struct {
	id plan.ID
	at int
}

func (t *table) choice() choice {
	if t.selected < 0 || t.selected >= len(t.rows) {
		return choice{at: -1}
	}
	return choice{t.rows[t.selected].id, t.selected}
}

// keepCursor puts the cursor where its column stands among others: on the last one
// before it if it is not shown.
func (t *table) keepCursor(cols []column) {
	at := 0
	for i, c := range cols {
		for _, was := range t.cols[:min(t.cursor+1, len(t.cols))] {
			if c.head == was.head {
				at = i
			}
		}
	}
	t.cursor = at
}

// grounds are the profiles of some rows.
func grounds(rows []row) []terrain.Profile {
	out := make([]terrain.Profile, len(rows))
	for i, r := range rows {
		out[i] = r.ground
	}
	return out
}

// paint draws the table into a picture of w × h physical pixels.
func (t *table) paint(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	p := look.Current()
	_, wide, _ := spans(t.cols, t.size.Width)
	fixed := t.clip(img, 0, 0, wide[0], t.size.Height)
	moving := t.clip(img, wide[0], 0, t.size.Width-wide[0], t.size.Height)
	for i := range t.rows {
		top := headHeight + t.tops[i] - t.offset.Y
		if top+rowHeight <= headHeight || top-gapHeight >= t.size.Height {
			continue
		}
		t.ground(img, i, top, p)
		t.writeRow(fixed, i, 0, 1, p)
		t.writeRow(moving, i, 1, len(t.cols), p)
	}
	t.box(img, 0, 0, t.size.Width, headHeight, p[look.Paper]) // rows pass beneath the heading
	t.heading(fixed, 0, 1, p)
	t.heading(moving, 1, len(t.cols), p)
	t.box(img, 0, headHeight-1, t.size.Width, 1, p[look.Hair])
	if t.offset.X > 0 {
		t.box(img, wide[0]-1, 0, 1, t.size.Height, p[look.Hair])
	}
	if t.focused {
		t.frame(img, fyne.NewPos(0, 0), t.size, p[look.Accent])
	}
	return img
}

// heading writes the heads of some columns.
func (t *table) heading(img *image.RGBA, from, to int, p look.Palette) {
	at, wide, _ := spans(t.cols, t.size.Width)
	for c := from; c < to; c++ {
		text := t.letters.Fit(t.cols[c].head, small(), t.seen(c, at, wide)-2*cellPad+2)
		t.letters.Write(img, text, small(), t.left(text, small(), c, at, wide), 15, p[look.Quiet])
	}
}

// seen is how much of a column is written, in units of the window: all of it, or nothing
// where an edge cuts it. A figure without its first digit is another figure. Free text is
// shortened at the right edge instead.
func (t *table) seen(c int, at, wide []float32) float32 {
	if c == 0 {
		return wide[0]
	}
	const slack = 0.5
	x := at[c] - t.offset.X
	switch {
	case x < wide[0]-slack:
		return 0
	case x+wide[c] <= t.size.Width+slack:
		return wide[c]
	case t.cols[c].style.note:
		return max(t.size.Width-x, 0)
	}
	return 0
}

// drawGround draws a profile into a cell, as high above its lowest point as the others.
func (t *table) drawGround(img *image.RGBA, g terrain.Profile, x, top, wide float32, p look.Palette) {
	const above, below = float32(5), float32(6)
	low, _, ok := g.Extremes()
	if !ok {
		return
	}
	lowM := g.Points[low].HeightM
	box := t.pixels(x+cellPad, top+above, wide-2*cellPad, rowHeight-above-below)
	profile.Draw(img, box, g, terrain.Span{LowM: lowM, HighM: lowM + t.riseM}, float64(t.letters.Scale()), groundInk(p))
}

// groundInk is the colours of profiles.
func groundInk(p look.Palette) profile.Ink {
	below := p[look.Quiet]
	below.A = 0x40
	return profile.Ink{Ground: below, Line: p[look.Ink], Gap: p[look.Caution]}
}

// left is where a text of a column begins.
func (t *table) left(text string, s lettering.Style, c int, at, wide []float32) float32 {
	x := at[c]
	if c > 0 {
		x -= t.offset.X
	}
	if t.cols[c].style.figure {
		return x + wide[c] - cellPad - t.letters.Width(text, s)
	}
	return x + cellPad
}

// ground draws what lies beneath the texts of a row: the choice, the line below, and
// above a row where the route is broken the line that says so.
func (t *table) ground(img *image.RGBA, i int, top float32, p look.Palette) {
	op := draw.Src // nothing lies below; Over would take some half a millisecond
	if t.rows[i].off {
		t.box(img, 0, top, t.size.Width, rowHeight-1, p[look.Well])
		t.box(img, 0, top, offBar, rowHeight-1, p[look.Quiet])
		op = draw.Over
	}
	if i == t.selected {
		draw.Draw(img, t.pixels(0, top, t.size.Width, rowHeight-1), image.NewUniform(p[look.Hover]), image.Point{}, op)
	}
	t.box(img, 0, top+rowHeight-1, t.size.Width, 1, p[look.Hair])
	if t.rows[i].gap != "" {
		t.box(img, 0, top-gapHeight, t.size.Width, gapHeight-1, p[look.CautionWash])
		text := t.letters.Fit(t.rows[i].gap, small(), t.size.Width-2*cellPad)
		t.letters.Write(img, text, small(), cellPad, top-5, p[look.Caution])
	}
}

// writeRow writes some cells of a row; a leg without a reading has the reason in
// place of its figures.
func (t *table) writeRow(img *image.RGBA, i, from, to int, p look.Palette) {
	at, wide, _ := spans(t.cols, t.size.Width)
	r, top := t.rows[i], headHeight+t.tops[i]-t.offset.Y
	for c := from; c < to; c++ {
		s := t.cols[c].style
		if i == t.selected && c == t.cursor {
			t.chosen(img, i, p)
		}
		st := r.style(c, s)
		room, indent := t.seen(c, at, wide)-2*cellPad, float32(0)
		if r.off && c == 1 {
			indent, room = offIndent, room-offIndent
		}
		if room <= 0 {
			continue
		}
		ink, under := r.inks(s, p)
		if s.ground {
			t.drawGround(img, r.ground, at[c]-t.offset.X, top, wide[c], p)
		}
		words := r.cell(c)
		text := t.letters.Fit(words.text, st, room)
		t.letters.Write(img, text, st, t.left(text, st, c, at, wide)+indent, top+17, ink)
		if text := t.letters.Fit(words.under, small(), room); text != "" {
			t.letters.Write(img, text, small(), t.left(text, small(), c, at, wide)+indent, top+33, under)
		}
	}
	if r.fault != "" && from > 0 {
		t.writeFault(img, r.fault, at, wide, top, p)
	}
}

// style is the way in which a cell is written.
func (r row) style(c int, s style) lettering.Style {
	st := plain()
	switch {
	case r.off && c == 0:
		st.Size, st.Bold = small().Size, true
	case r.off && c == 1:
	case s.bold:
		st = bold()
	}
	return st
}

// inks are the colours of both lines of a cell.
func (r row) inks(s style, p look.Palette) (ink, under color.NRGBA) {
	ink, under = p[look.Ink], p[look.Quiet]
	if r.stopped && s.stops {
		ink = p[look.Fault]
		if !s.figure {
			under = ink
		}
	}
	return ink, under
}

// chosen draws the chosen cell while the table has the keys: without them a drawn
// cell would ask for letters that go elsewhere.
func (t *table) chosen(img *image.RGBA, i int, p look.Palette) {
	if !t.focused {
		return
	}
	at, size := t.cellAt(i, t.cursor)
	t.box(img, at.X, at.Y, size.Width, size.Height-1, p[look.Select])
	t.frame(img, at, size, p[look.Accent])
}

// writeFault writes why a leg has no reading over the cells of its figures.
func (t *table) writeFault(img *image.RGBA, text string, at, wide []float32, top float32, p look.Palette) {
	first := slices.IndexFunc(t.cols, func(c column) bool { return c.style.figure })
	last := first
	for last+1 < len(t.cols) && t.cols[last+1].style.figure {
		last++
	}
	x := max(at[first]-t.offset.X, wide[0]) + cellPad
	right := min(at[last]+wide[last]-t.offset.X, t.size.Width) - cellPad
	for i, line := range t.letters.Wrap(text, small(), max(right-x, 160)) {
		if i < 2 {
			t.letters.Write(img, line, small(), x, top+16+float32(i)*15, p[look.Fault])
		}
	}
}

func (t *table) frame(img *image.RGBA, at fyne.Position, s fyne.Size, c color.Color) {
	t.box(img, at.X, at.Y, s.Width, 1, c)
	t.box(img, at.X, at.Y+s.Height-1, s.Width, 1, c)
	t.box(img, at.X, at.Y, 1, s.Height, c)
	t.box(img, at.X+s.Width-1, at.Y, 1, s.Height, c)
}

// box fills a rectangle given in units of the window.
func (t *table) box(img *image.RGBA, x, y, w, h float32, c color.Color) {
	r := t.pixels(x, y, w, h)
	r.Max.X, r.Max.Y = max(r.Max.X, r.Min.X+1), max(r.Max.Y, r.Min.Y+1)
	draw.Draw(img, r.Intersect(img.Rect), image.NewUniform(c), image.Point{}, draw.Over)
}

// clip is the part of a picture in a rectangle given in units of the window.
func (t *table) clip(img *image.RGBA, x, y, w, h float32) *image.RGBA {
	return img.SubImage(t.pixels(x, y, w, h)).(*image.RGBA)
}

func (t *table) pixels(x, y, w, h float32) image.Rectangle {
	px := func(v float32) int { return int(v*t.letters.Scale() + 0.5) }
	return image.Rect(px(x), px(y), px(x+w), px(y+h))
}
