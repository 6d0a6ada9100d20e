package sheet

import (
	"math"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// symbols draws the small things: buildings, the quay, the pillar, cairns, spot heights.
func (m *maker) symbols() {
	dark, light, dots := ink.NewPen(), ink.NewPen(), ink.NewPen()
	for _, b := range buildings() {
		m.house(dark, b)
	}
	for _, q := range quays() {
		dark.Butt(m.line(q), 9)
	}
	for _, mark := range demo.Marks() {
		p := m.px(at(mark.E, mark.N))
		switch mark.Feature {
		case demo.TrigPillar:
			pillar(dark, light, dots, p)
		case demo.Cairn:
			cairn(dark, p)
		case demo.Hut:
			m.house(dark, building{at(mark.E, mark.N), 26, 17, 0.5})
		}
	}
	for _, s := range spotList() {
		dark.Disc(m.px(at(s.e, s.n)), 4)
	}
	star(dark, m.px(at(29980, 742250)))
	m.c.Ink(dark, builtInk, 1)
	m.c.Ink(light, paper, 1)
	m.c.Ink(dots, builtInk, 1)
}

// building is a rectangle of metres, turned from east anticlockwise.
type building struct {
	At            ground.Point
	Length, Width float64
	Turn          float64
}

func (m *maker) house(pen *ink.Pen, b building) {
	s, c := math.Sincos(b.Turn)
	var outline ground.Line
	for _, k := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		u, v := k[0]*b.Length/2, k[1]*b.Width/2
		outline = append(outline, ground.Point{X: b.At.X + u*c - v*s, Y: b.At.Y + u*s + v*c})
	}
	pen.Area(m.line(outline))
}

// pillar draws a survey pillar: a diamond with its point at the middle.
func pillar(dark, light, dot *ink.Pen, p ink.Pt) {
	dark.Area([]ink.Pt{{X: p.X, Y: p.Y - 16}, {X: p.X + 16, Y: p.Y}, {X: p.X, Y: p.Y + 16}, {X: p.X - 16, Y: p.Y}})
	light.Area([]ink.Pt{{X: p.X, Y: p.Y - 10}, {X: p.X + 10, Y: p.Y}, {X: p.X, Y: p.Y + 10}, {X: p.X - 10, Y: p.Y}})
	dot.Disc(p, 3.6)
}

// cairn draws three stones, two and one; the point is the middle of the heap.
func cairn(pen *ink.Pen, p ink.Pt) {
	pen.Disc(ink.Pt{X: p.X - 6, Y: p.Y + 5}, 5.4)
	pen.Disc(ink.Pt{X: p.X + 6, Y: p.Y + 5}, 5.4)
	pen.Disc(ink.Pt{X: p.X, Y: p.Y - 5}, 5.4)
}

// star draws a light: eight rays from a dot.
func star(pen *ink.Pen, p ink.Pt) {
	for i := range 8 {
		s, c := math.Sincos(float64(i) * math.Pi / 4)
		pen.Swell([]ink.Pt{{X: p.X + 5*c, Y: p.Y + 5*s}, {X: p.X + 17*c, Y: p.Y + 17*s}}, 3.4, 1.2)
	}
	pen.Disc(p, 4.5)
}
