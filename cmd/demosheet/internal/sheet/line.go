package sheet

import (
	"math"

	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

func (m *maker) streams() {
	pen := ink.NewPen()
	for _, s := range m.g.Streams {
		w := 2.2 + 2.4*math.Sqrt(math.Min(s.AreaM2/2.5e6, 1))
		pen.Stroke(m.line(s.Line), w)
	}
	m.c.Ink(pen, waterInk, 1)
}

func (m *maker) coast() {
	pen := ink.NewPen()
	for _, l := range m.g.Shore {
		pen.Stroke(m.line(l.Round(1)), coastW)
	}
	m.c.Ink(pen, coastInk, 1)
}

// way is a path or a road on the sheet.
type way struct {
	road bool
	line []ink.Pt
}

// planWays lays the road and the paths over the ground between fixed points.
func (m *maker) planWays() []way {
	var out []way
	for _, r := range wayPoints() {
		out = append(out, way{r.road, m.line(m.g.Way(r.steepCost, r.via...))})
	}
	return out
}

func (m *maker) drawWays() {
	path, edge, fill := ink.NewPen(), ink.NewPen(), ink.NewPen()
	for _, w := range m.ways {
		if w.road {
			edge.Stroke(w.line, roadW)
			fill.Stroke(w.line, roadW-4.4)
			continue
		}
		path.Dash(w.line, pathW, 17, 8)
	}
	m.c.Ink(path, pathInk, 1)
	m.c.Ink(edge, roadEdge, 1)
	m.c.Ink(fill, roadFill, 1)
}

// walls draws dry-stone walls: a thin line with a stone set across it now and then.
func (m *maker) walls() {
	pen := ink.NewPen()
	for _, w := range wallLines() {
		wall(pen, m.line(w))
	}
	m.c.Ink(pen, wallInk, 1)
}

func wall(pen *ink.Pen, line []ink.Pt) {
	pen.Stroke(line, wallW)
	for s := 14.0; s < ink.Length(line); s += 28 {
		p, dir := ink.At(line, s)
		pen.Stroke([]ink.Pt{
			{X: p.X - 3.6*math.Sin(dir), Y: p.Y + 3.6*math.Cos(dir)},
			{X: p.X + 3.6*math.Sin(dir), Y: p.Y - 3.6*math.Cos(dir)},
		}, 2.2)
	}
}

// bog draws wet ground: broken level strokes with a tuft here and there.
func (m *maker) bog() {
	pen := ink.NewPen()
	x0, y0, x1, y1 := m.frameBox()
	row := int64(0)
	for y := y0 + 9; y < y1; y += 17 {
		row++
		col := int64(0)
		for x := x0 + 22*float64(row%2); x < x1; x += 44 {
			col++
			luck := ground.Unit(col, row, 5)
			p := ink.Pt{X: x + 8*luck, Y: y}
			if !m.boggy(m.ground(p)) || !m.boggy(m.ground(ink.Pt{X: p.X + 26, Y: y})) || m.nearName(p, 20) {
				continue
			}
			if luck > 0.72 {
				tuft(pen, p, 20+10*luck)
				continue
			}
			pen.Stroke([]ink.Pt{p, {X: p.X + 20 + 10*luck, Y: y}}, 2)
		}
	}
	m.c.Ink(pen, waterInk, 0.8)
}

// tuft draws a level stroke with rushes on it.
func tuft(pen *ink.Pen, p ink.Pt, length float64) {
	pen.Stroke([]ink.Pt{p, {X: p.X + length, Y: p.Y}}, 2)
	for _, lean := range []float64{-4, 0, 4} {
		pen.Stroke([]ink.Pt{{X: p.X + length/2, Y: p.Y}, {X: p.X + length/2 + lean, Y: p.Y - 9 + math.Abs(lean)/2}}, 1.7)
	}
}

func (m *maker) boggy(p ground.Point) bool {
	z := m.g.Height.At(p)
	return z > 7 && z < 200 && m.gentle.Slope(p) < 5 && !m.g.Wet(p) && !dryPlace(p) &&
		ground.Noise(p, 620, 2, 101) > -0.05
}

// plantation tones the wood; trees fills it with its sign.
func (m *maker) plantation() {
	pen := ink.NewPen()
	for _, w := range woods() {
		pen.Area(m.line(w))
	}
	m.c.Ink(pen, woodTone, 0.8)
}

func (m *maker) trees() {
	pen := ink.NewPen()
	for _, w := range woods() {
		outline := m.line(w)
		lo, hi := bounds(outline)
		row := int64(0)
		for y := lo.Y + 14; y < hi.Y; y += 25 {
			row++
			col := int64(0)
			for x := lo.X + 15*float64(row%2); x < hi.X; x += 31 {
				col++
				p := ink.Pt{X: x + 12*ground.Unit(col, row, 7) - 6, Y: y + 10*ground.Unit(col, row, 8) - 5}
				if within(outline, p) && margin(outline, p) > 13 && m.clearOf(p, 17) && !m.nearName(ink.Pt{X: p.X, Y: p.Y}, 14) {
					tree(pen, p)
				}
			}
		}
	}
	m.c.Ink(pen, woodInk, 1)
}

// tree draws the sign of a tree: two boughs and a stem.
func tree(pen *ink.Pen, p ink.Pt) {
	pen.Stroke([]ink.Pt{{X: p.X - 5, Y: p.Y + 2}, {X: p.X, Y: p.Y - 9}, {X: p.X + 5, Y: p.Y + 2}}, 2)
	pen.Stroke([]ink.Pt{{X: p.X, Y: p.Y - 9}, {X: p.X, Y: p.Y + 7}}, 2)
}

// clearOf reports whether p is at least d pixels from every way and, nearly, from every stream.
func (m *maker) clearOf(p ink.Pt, d float64) bool {
	for _, w := range m.ways {
		if margin(w.line, p) < d {
			return false
		}
	}
	for _, s := range m.g.Streams {
		if margin(m.line(s.Line), p) < d-3 {
			return false
		}
	}
	return true
}
