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

	walkerRoom = 0.13 // from the walker's middle to where something else may be written
)

// write adds the names of the ends, where the compass is, and the figure at the index.
func (d *Drawing) write(v View) {
	from, to, taken := d.arrange(v)
	if v.Place != teach.InHand { // there stands the walker
		d.name(or(v.Names.From, "FROM"), v.From, from)
	}
	d.name(or(v.Names.To, "TO"), v.To, to)
	d.northMark()
	where := "On the map"
	if v.Ground > 0.5 {
		where = "On the ground"
	}
	px := float32(d.Side())
	d.cased(where, d.words(), margin*px, px*(1-margin), d.ink.Quiet)
	d.figure(v, taken)
}

// arrange chooses the directions of the names from their positions, and returns what the
// figure must not cover, the name of TO last.
func (d *Drawing) arrange(v View) (from, to Point, taken []box) {
	px := float32(d.Side())
	out := along(units.Angle(math.Atan2(v.To[0]-v.From[0], v.To[1]-v.From[1])), 0, 1)
	walker := along(v.Body, -v.Stand, 0)
	from, to = out.away(v.From, walker), out.away(v.To, walker)
	taken = []box{around(px, walker, walkerRoom), around(px, v.To, 2*endRadius), around(px, v.Led.To, 2*endRadius)}
	if v.Place != teach.InHand {
		name, _ := d.nameBox(or(v.Names.From, "FROM"), v.From, from)
		taken = append(taken, name)
	}
	text := or(v.Names.To, "TO")
	if back := (Point{-to[0], -to[1]}); d.crowd(v, text, back, taken) < d.crowd(v, text, to, taken) {
		to = back
	}
	name, _ := d.nameBox(text, v.To, to)
	return from, to, append(taken, name)
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

// name writes a name beside a position, in a direction from it. A position outside the
// picture has no name.
func (d *Drawing) name(text string, at, out Point) {
	b, style := d.nameBox(text, at, out)
	if b != (box{}) {
		d.cased(d.letters.Fit(text, style, nameWide*float32(d.Side())), style, b.left, b.bottom, d.ink.Text)
	}
}

// nameBox is what a name covers, within the picture, and how it is written.
func (d *Drawing) nameBox(text string, at, out Point) (box, lettering.Style) {
	style := d.words()
	style.Bold = true
	if max(math.Abs(at[0]), math.Abs(at[1])) > 1 {
		return box{}, style
	}
	px := float32(d.Side())
	w, h := d.letters.Width(d.letters.Fit(text, style, nameWide*px), style), d.letters.Cap(style)
	half := px / 2
	gap := 2*endRadius*half + h/2
	x := half + float32(at[0])*half + float32(out[0])*(w/2+gap)
	y := half - float32(at[1])*half - float32(out[1])*(h/2+gap)
	x = min(max(x-w/2, margin*px), px*(1-margin)-w)
	y = min(max(y+h/2, margin*px+h), px*(1-3*margin)-h)
	return box{x, y - h, x + w, y}, style
}

// crowd is how much of the name of TO and of the figure covers something, if the name is
// written in a direction from its position.
func (d *Drawing) crowd(v View, text string, out Point, taken []box) float32 {
	name, _ := d.nameBox(text, v.To, out)
	_, covered := d.corner(v, append(taken[:len(taken):len(taken)], name))
	return name.common(taken) + covered
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

// index is the figure at the index, as it is written, with its unit.
type index struct {
	number, unit string
	large, small lettering.Style
	wide, all    float32 // the number, and both
}

func (d *Drawing) indexOf(v View) index {
	x := index{large: lettering.Style{Size: 1, Bold: true}, small: d.words()}
	x.large.Size = figureCap * float32(d.Side()) / d.letters.Cap(x.large)
	x.number, x.unit, _ = strings.Cut(v.Index, " ")
	if v.Stop {
		x.number = "!\u2009" + x.number
	}
	x.wide = d.letters.Width(x.number, x.large)
	x.all = x.wide + x.small.Size/4 + d.letters.Width(x.unit, x.small)
	return x
}

// corner is where the figure begins: in the upper corner that the plate leaves free, or in
// the other one where it covers less of what is taken; and how much it covers there.
func (d *Drawing) corner(v View, taken []box) (x, covered float32) {
	if v.Index == "" {
		return 0, 0
	}
	px, all := float32(d.Side()), d.indexOf(v).all
	x, other := 2*margin*px, px*(1-2*margin)-all
	if upper(v.Plate) > 0 {
		x, other = other, x
	}
	covers := func(x float32) float32 { return figureBox(px, x, all).wider(margin * px).common(taken) }
	if covers(other) < covers(x) {
		x = other
	}
	return x, covers(x)
}

// figureBox is what a figure covers that begins at x, in a picture of so many pixels.
func figureBox(px, x, wide float32) box {
	return box{x, 2 * margin * px, x + wide, (2*margin + figureCap) * px}
}

// figure writes the figure at the index large into an upper corner. One that nobody may
// walk on has a mark before it and is struck through in a frame.
func (d *Drawing) figure(v View, taken []box) {
	if v.Index == "" {
		return
	}
	f, ink := d.indexOf(v), d.ink.Text
	if v.Stop {
		ink = d.ink.Wrong
	}
	x, _ := d.corner(v, taken)
	line := (2*margin + figureCap) * float32(d.Side())
	d.cased(f.number, f.large, x, line, ink)
	d.cased(f.unit, f.small, x+f.wide+f.small.Size/4, line, d.ink.Quiet)
	if v.Stop {
		d.strike(x, x+f.wide, line)
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
