package checksheet

import "math"

// Coord is easting and northing in metres.
type Coord struct{ E, N float64 }

// Truth is where everything of one sheet really lies.
type Truth struct {
	Middle  Coord   // at the middle of the picture
	MPP     float64 // metres a pixel there
	sin, co float64 // of the turn of grid north, clockwise from picture up
	warp    warp
}

// Picture returns where grid coordinates lie in the picture.
func (t *Truth) Picture(g Coord) Pt {
	e, n := (g.E-t.Middle.E)/t.MPP, (g.N-t.Middle.N)/t.MPP
	q := t.warp(Pt{t.co*e + t.sin*n, t.sin*e - t.co*n})
	return Pt{q.X + Width/2, q.Y + Height/2}
}

// Grid returns what lies at a position in the picture: Picture turned round by
// Newton's method.
func (t *Truth) Grid(p Pt) Coord {
	g := t.Middle
	for range 60 {
		q := t.Picture(g)
		if math.Hypot(q.X-p.X, q.Y-p.Y) < 1e-7 {
			break
		}
		h := t.MPP
		e, n := t.Picture(Coord{g.E + h, g.N}), t.Picture(Coord{g.E, g.N + h})
		a, b, c, d := e.X-q.X, n.X-q.X, e.Y-q.Y, n.Y-q.Y
		det := a*d - b*c
		dx, dy := p.X-q.X, p.Y-q.Y
		g.E += h * (d*dx - b*dy) / det
		g.N += h * (a*dy - c*dx) / det
	}
	return g
}

// Probes returns 7 × 7 positions from edge to edge of the picture.
func Probes() []Pt {
	var list []Pt
	for i := range 7 {
		for j := range 7 {
			list = append(list, Pt{Width * (0.02 + 0.16*float64(i)), Height * (0.02 + 0.16*float64(j))})
		}
	}
	return list
}
