package sheet

import (
	"image/color"

	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// entry is one line of the key: a drawing round the middle of its cell, and what it means.
type entry struct {
	text string
	draw func(p ink.Pt)
}

// key draws the signs of the sheet in columns of four.
func (m *maker) key(x, y float64) {
	const rows, rowH, colW = 4, 56.0, 400.0
	for i, e := range m.entries() {
		p := ink.Pt{X: x + float64(i/rows)*colW + 40, Y: y + float64(i%rows)*rowH}
		e.draw(p)
		m.say(m.faces.roman, e.text, p.X+66, p.Y+11, 32, 0.4, nameInk)
	}
}

func (m *maker) entries() []entry {
	stroke := func(p ink.Pt) []ink.Pt { return []ink.Pt{{X: p.X - 40, Y: p.Y}, {X: p.X + 40, Y: p.Y}} }
	one := func(draw func(pen *ink.Pen, p ink.Pt), c color.RGBA) func(p ink.Pt) {
		return func(p ink.Pt) {
			pen := ink.NewPen()
			draw(pen, p)
			m.c.Ink(pen, c, 1)
		}
	}
	return []entry{
		{"Road", func(p ink.Pt) {
			edge, fill := ink.NewPen(), ink.NewPen()
			edge.Butt(stroke(p), roadW)
			fill.Butt(stroke(p), roadW-4.4)
			m.c.Ink(edge, roadEdge, 1)
			m.c.Ink(fill, roadFill, 1)
		}},
		{"Path", one(func(pen *ink.Pen, p ink.Pt) { pen.Dash(stroke(p), pathW, 17, 8) }, pathInk)},
		{"Dry-stone wall", one(func(pen *ink.Pen, p ink.Pt) { wall(pen, stroke(p)) }, wallInk)},
		{"Stream", one(func(pen *ink.Pen, p ink.Pt) { pen.Stroke(ripple(p), 3.2) }, waterInk)},
		{"Crag", m.keyCrag},
		{"Contour, index", func(p ink.Pt) {
			a, b := ink.NewPen(), ink.NewPen()
			a.Stroke(shift(ripple(p), -9), contourW)
			b.Stroke(shift(ripple(p), 9), indexW)
			m.c.Ink(a, relief, 1)
			m.c.Ink(b, reliefDk, 1)
		}},
		{"Bog", one(func(pen *ink.Pen, p ink.Pt) {
			pen.Stroke([]ink.Pt{{X: p.X - 38, Y: p.Y - 8}, {X: p.X - 10, Y: p.Y - 8}}, 2)
			tuft(pen, ink.Pt{X: p.X + 8, Y: p.Y - 8}, 26)
			pen.Stroke([]ink.Pt{{X: p.X - 18, Y: p.Y + 9}, {X: p.X + 10, Y: p.Y + 9}}, 2)
		}, waterInk)},
		{"Wood", func(p ink.Pt) {
			tone, trees := ink.NewPen(), ink.NewPen()
			tone.Rect(p.X-40, p.Y-20, p.X+40, p.Y+20)
			for _, d := range []float64{-24, 0, 24} {
				tree(trees, ink.Pt{X: p.X + d, Y: p.Y + 2})
			}
			m.c.Ink(tone, woodTone, 1)
			m.c.Ink(trees, woodInk, 1)
		}},
		{"Survey pillar", func(p ink.Pt) {
			dark, light, dot := ink.NewPen(), ink.NewPen(), ink.NewPen()
			pillar(dark, light, dot, p)
			m.c.Ink(dark, builtInk, 1)
			m.c.Ink(light, paper, 1)
			m.c.Ink(dot, builtInk, 1)
		}},
		{"Cairn", one(cairn, builtInk)},
		{"House, hut", one(func(pen *ink.Pen, p ink.Pt) { pen.Rect(p.X-8, p.Y-5, p.X+8, p.Y+5) }, builtInk)},
		{"Light", one(star, builtInk)},
	}
}

func ripple(p ink.Pt) []ink.Pt {
	l := ground.Line{{X: p.X - 40, Y: p.Y + 5}, {X: p.X - 18, Y: p.Y - 6}, {X: p.X + 12, Y: p.Y + 7}, {X: p.X + 40, Y: p.Y - 4}}
	return points(l.Round(3))
}

func shift(line []ink.Pt, dy float64) []ink.Pt {
	for i := range line {
		line[i].Y += dy
	}
	return line
}

func (m *maker) keyCrag(p ink.Pt) {
	pen := ink.NewPen()
	top := shift(ripple(p), -8)
	pen.Stroke(top, 3.6)
	for i, s := 0, 4.0; s < ink.Length(top); i, s = i+1, s+8 {
		q, _ := ink.At(top, s)
		pen.Swell([]ink.Pt{q, {X: q.X - 2, Y: q.Y + 15 + 8*ground.Unit(int64(i), 3, 9)}}, 4.4, 0.9)
	}
	m.c.Ink(pen, rockInk, 1)
}
