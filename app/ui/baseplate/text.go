package baseplate

import (
	"image/color"
	"math"
	"strings"

	"legwright/app/lettering"
	"legwright/app/teach"
	"legwright/app/units"
)

// Sizes of what is written, as fractions of the whole side.
const (
	figureCap = 1.0 / 12 // height of the figure at the index
	wordSize  = 0.036    // of the em
	margin    = 0.022
	nameWide  = 0.34
)

// write adds the names of the ends, where the compass is, and the figure at the index.
func (d *Drawing) write(v View) {
	side := units.Angle(math.Atan2(v.To[0]-v.From[0], v.To[1]-v.From[1]))
	out := along(side, 0, 1)
	walker := along(v.Body, -v.Stand, 0)
	if v.Place != teach.InHand { // there stands the walker
		d.name(or(v.Names.From, "FROM"), v.From, out.away(v.From, walker))
	}
	d.name(or(v.Names.To, "TO"), v.To, out.away(v.To, walker))
	d.northMark()
	where := "On the map"
	if v.Ground > 0.5 {
		where = "On the ground"
	}
	px := float32(d.Side())
	d.cased(where, d.words(), margin*px, px*(1-margin), d.ink.Quiet)
	d.figure(v)
}

// away returns the direction, or the other way where a name would cover the walker.
func (p Point) away(at, walker Point) Point {
	const room = 0.16 // from a position to the middle of its name
	far := func(sense float64) float64 {
		return math.Hypot(at[0]+sense*room*p[0]-walker[0], at[1]+sense*room*p[1]-walker[1])
	}
	if far(1) < min(far(-1), 2*room) {
		return Point{-p[0], -p[1]}
	}
	return p
}

func or(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

func (d *Drawing) words() lettering.Style {
	return lettering.Style{Size: max(wordSize*float32(d.Side()), 11)}
}

// name writes a name beside a position, in a direction from it, and keeps it within the
// picture. A position outside has no name.
func (d *Drawing) name(text string, at, out Point) {
	if max(math.Abs(at[0]), math.Abs(at[1])) > 1 {
		return
	}
	style := d.words()
	style.Bold = true
	px := float32(d.Side())
	text = d.letters.Fit(text, style, nameWide*px)
	w, h := d.letters.Width(text, style), d.letters.Cap(style)
	half := px / 2
	gap := 2*endRadius*half + h/2
	x := half + float32(at[0])*half + float32(out[0])*(w/2+gap)
	y := half - float32(at[1])*half - float32(out[1])*(h/2+gap)
	x = min(max(x-w/2, margin*px), px*(1-margin)-w)
	y = min(max(y+h/2, margin*px+h), px*(1-3*margin)-h)
	d.cased(text, style, x, y, d.ink.Text)
}

// cased writes a text with a casing, so that it can be read over lines.
func (d *Drawing) cased(text string, style lettering.Style, x, line float32, ink color.NRGBA) {
	r := max(style.Size/11, 1)
	for _, step := range [][2]float32{{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-0.7, -0.7}, {0.7, -0.7}, {-0.7, 0.7}, {0.7, 0.7}} {
		d.letters.Write(d.out, text, style, x+step[0]*r, line+step[1]*r, d.ink.Casing)
	}
	d.letters.Write(d.out, text, style, x, line, ink)
}

// northMark draws a small arrow up, which is grid north, at the lower right.
func (d *Drawing) northMark() {
	const text = "grid N"
	style, px := d.words(), float32(d.Side())
	w := d.letters.Width(text, style)
	x := px*(1-margin) - w
	d.cased(text, style, x, px*(1-margin), d.ink.Quiet)
	at := Point{2*float64((x+w/2)/px) - 1, 2*(margin+float64(style.Size/px)*1.15) - 1}
	d.segment(at, at.plus(Point{0, 0.1}), 0.008, d.ink.Quiet)
	d.shape(d.ink.Quiet, at.plus(Point{0, 0.13}), at.plus(Point{0.022, 0.06}), at.plus(Point{0, 0.078}), at.plus(Point{-0.022, 0.06}))
}

// figure writes the figure at the index large into an upper corner that the plate leaves
// free. One that nobody may walk on has a mark before it and is struck through in a frame.
func (d *Drawing) figure(v View) {
	if v.Index == "" {
		return
	}
	px, ink := float32(d.Side()), d.ink.Text
	large := lettering.Style{Size: 1, Bold: true}
	large.Size = figureCap * px / d.letters.Cap(large)
	small := d.words()
	number, unit, _ := strings.Cut(v.Index, " ")
	if v.Stop {
		number, ink = "!\u2009"+number, d.ink.Wrong
	}
	w, gap := d.letters.Width(number, large), small.Size/4
	all := w + gap + d.letters.Width(unit, small)
	x, line := 2*margin*px, 2*margin*px+figureCap*px
	if upper(v.Plate) > 0 {
		x = px*(1-2*margin) - all
	}
	d.cased(number, large, x, line, ink)
	d.cased(unit, small, x+w+gap, line, d.ink.Quiet)
	if v.Stop {
		d.strike(x, x+w, line)
	}
}

// strike frames a text from one end to the other and draws a line through it.
func (d *Drawing) strike(from, to, line float32) {
	px := float64(d.Side())
	at := func(x, y float32) Point { return Point{2*float64(x)/px - 1, 1 - 2*float64(y)/px} }
	room := float32(px) * margin / 2
	left, right := from-room, to+room
	top, bottom := line-figureCap*float32(px)-room, line+room
	middle := (top + bottom) / 2
	for _, s := range [][2]Point{
		{at(left, top), at(right, top)},
		{at(left, middle), at(right, middle)},
		{at(left, bottom), at(right, bottom)},
		{at(left, top), at(left, bottom)},
		{at(right, top), at(right, bottom)},
	} {
		d.segment(s[0], s[1], 0.008, d.ink.Wrong)
	}
}
