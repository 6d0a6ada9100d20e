package sheet

import (
	"math"
	"strconv"

	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// contours draws a line every 10 m and a heavier one every 50 m with its figure.
func (m *maker) contours() {
	plain, heavy := ink.NewPen(), ink.NewPen()
	for z := 10; z < 500; z += 10 {
		for _, l := range m.g.Height.Contours(float64(z) + 0.01) {
			if l.Length() < 60 {
				continue
			}
			l = l.Round(2)
			if z%50 != 0 {
				m.outsideRock(l, func(piece ground.Line) { plain.Stroke(m.line(piece), contourW) })
				continue
			}
			heavy.Stroke(m.line(l), indexW)
			m.figures(l, z)
		}
	}
	m.c.Ink(plain, relief, 1)
	m.c.Ink(heavy, reliefDk, 1)
}

// outsideRock hands on the parts of a line that do not cross crags.
func (m *maker) outsideRock(l ground.Line, draw func(ground.Line)) {
	var piece ground.Line
	for _, p := range l {
		if m.g.Crag.At(p) <= 0.6 {
			piece = append(piece, p)
			continue
		}
		if len(piece) > 3 {
			draw(piece)
		}
		piece = nil
	}
	if len(piece) > 3 {
		draw(piece)
	}
}

// figures books the height along an index contour, top uphill, where the line is
// straight and the text stands upright.
func (m *maker) figures(l ground.Line, z int) {
	text := strconv.Itoa(z)
	const size = 23.0
	line := m.line(l)
	width := m.faces.figure.Width(text, size, 0)
	total := ink.Length(line)
	for s := 300.0; s+width < total; s += 1500 {
		best, score := 0.0, math.Inf(1)
		for d := 0.0; d < 1000 && s+d+width < total; d += 12 {
			if v := m.awkward(line, s+d, width); v < score {
				best, score = s+d, v
			}
		}
		if score > 1.4 {
			continue
		}
		mid, _ := ink.At(line, best+width/2)
		m.texts = append(m.texts, lettering{
			kind: contourFigure, text: text, size: size, at: mid,
			path: ink.Cut(line, best-30, best+width+30), from: 30,
		})
	}
}

// awkward scores a place for a figure: bends, upside-down text, rock, crowding by other texts.
func (m *maker) awkward(line []ink.Pt, s, width float64) float64 {
	p, a := ink.At(line, s)
	mid, b := ink.At(line, s+width/2)
	q, c := ink.At(line, s+width)
	bend := math.Abs(math.Remainder(b-a, 2*math.Pi)) + math.Abs(math.Remainder(c-b, 2*math.Pi))
	dir := math.Atan2(q.Y-p.Y, q.X-p.X)
	score := 2.5*bend + math.Max(0, math.Abs(dir)-1.2)*1.5
	if s < 40 {
		score += 5
	}
	for _, t := range m.texts {
		if d := math.Hypot(t.at.X-mid.X, t.at.Y-mid.Y); d < 90 {
			score += 5
		}
	}
	if m.g.Crag.At(m.ground(mid)) > 0 || m.nearName(mid, 50) {
		score += 5
	}
	return score
}

// crags draws rock: a firm upper edge and strokes that run down from it, thinning out.
func (m *maker) crags() {
	soft := &ground.Field{W: m.g.Crag.W, H: m.g.Crag.H, Cell: m.g.Crag.Cell}
	for _, v := range m.g.Crag.Z {
		if v > 0 {
			v = 1
		}
		soft.Z = append(soft.Z, v)
	}
	soft.Blur(7)
	edge, strokes := ink.NewPen(), ink.NewPen()
	for n, l := range soft.Contours(0.42) {
		m.cragEdge(soft, l.Round(1), uint64(n), edge, strokes)
	}
	m.c.Ink(strokes, rockInk, 1)
	m.c.Ink(edge, rockInk, 1)
}

func (m *maker) cragEdge(rock *ground.Field, l ground.Line, seed uint64, edge, strokes *ink.Pen) {
	var upper ground.Line
	total := l.Length()
	n := int64(0)
	for s := 0.0; s < total; s += 17 + 6*ground.Unit(n, 1, seed) {
		n++
		p, dir := l.Along(s)
		gx, gy := m.g.Height.Grad(p)
		// The rock lies to the left of the line; it is an upper edge where the ground falls to the left.
		fall := math.Sin(dir)*gx - math.Cos(dir)*gy
		if steep := math.Hypot(gx, gy); fall < 0.35*steep || steep < 0.3 {
			m.cragLine(upper, edge)
			upper = nil
			continue
		}
		upper = append(upper, p)
		m.hachure(rock, p, ground.Unit(n, 2, seed), strokes)
	}
	m.cragLine(upper, edge)
}

func (m *maker) cragLine(l ground.Line, edge *ink.Pen) {
	if len(l) > 1 {
		edge.Stroke(m.line(l.Round(2)), 3.6)
	}
}

// hachure runs down the fall line from p through the rock in one or more tapering strokes.
func (m *maker) hachure(rock *ground.Field, p ground.Point, luck float64, strokes *ink.Pen) {
	const step = 4.0
	length := 34 + 44*luck
	width := 4.4
	for run := 0; run < 4; run++ {
		line := ground.Line{p}
		for d := 0.0; d < length && rock.At(p) > 0.12; d += step {
			gx, gy := m.g.Height.Grad(p)
			s := math.Max(math.Hypot(gx, gy), 1e-6)
			p = ground.Point{X: p.X - step*gx/s, Y: p.Y - step*gy/s}
			line = append(line, p)
		}
		if len(line) > 2 {
			strokes.Swell(m.line(line), width, 0.9)
		}
		if rock.At(p) <= 0.3 {
			return
		}
		for range 3 {
			gx, gy := m.g.Height.Grad(p)
			s := math.Max(math.Hypot(gx, gy), 1e-6)
			p = ground.Point{X: p.X - step*gx/s, Y: p.Y - step*gy/s}
		}
		length, width = 20+26*luck, 3.2
	}
}
