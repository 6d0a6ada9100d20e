package terrain

import (
	"math"

	"legwright/app/geodesy"
)

const (
	cellM = 250.0 // side of the squares within which positions are interpolated
	bentM = 0.005 // the most that their middle may be out by
)

// quick converts many positions of one area from one grid to others.
type quick struct {
	from  *geodesy.System
	cells map[cellAt]*cell
}

// cellAt is a square on the grid that positions come from, and the grid they go to.
type cellAt struct {
	onto *geodesy.System
	e, n float64 // of its south-west corner, in squares
}

// cell is the corners of a square on the other grid.
type cell struct {
	sw, se, nw, ne geodesy.Grid
	bent           bool // between them the conversion is not even, or not possible
}

// Quick returns the same ground for thousands of questions about one area: between the
// corners of squares of 250 m positions are interpolated, to within a centimetre. It may
// not be used from several goroutines.
func (g Ground) Quick() Ground {
	if g.m != nil {
		g.quick = &quick{g.sys, map[cellAt]*cell{}}
	}
	return g
}

// onto converts a position to another grid; ok is false where it has to be computed.
func (q *quick) onto(s *geodesy.System, at geodesy.Grid) (own geodesy.Grid, ok bool) {
	key := cellAt{s, math.Floor(at.E / cellM), math.Floor(at.N / cellM)}
	c := q.cells[key]
	if c == nil {
		c = newCell(q.from, key)
		q.cells[key] = c
	}
	return c.at(at.E/cellM-key.e, at.N/cellM-key.n), !c.bent
}

func newCell(from *geodesy.System, k cellAt) *cell {
	c, exact := &cell{}, Ground{sys: from}
	convert := func(e, n float64) geodesy.Grid {
		g, ok := exact.onto(k.onto, geodesy.Grid{E: (k.e + e) * cellM, N: (k.n + n) * cellM})
		c.bent = c.bent || !ok
		return g
	}
	c.sw, c.se, c.nw, c.ne = convert(0, 0), convert(1, 0), convert(0, 1), convert(1, 1)
	middle, between := convert(0.5, 0.5), c.at(0.5, 0.5)
	c.bent = c.bent || !(math.Hypot(middle.E-between.E, middle.N-between.N) <= bentM)
	return c
}

// at interpolates at parts of the side from the south-west corner.
func (c *cell) at(e, n float64) geodesy.Grid {
	mean := func(sw, se, nw, ne float64) float64 { return (sw*(1-e)+se*e)*(1-n) + (nw*(1-e)+ne*e)*n }
	return geodesy.Grid{E: mean(c.sw.E, c.se.E, c.nw.E, c.ne.E), N: mean(c.sw.N, c.se.N, c.nw.N, c.ne.N)}
}
