package terrain

import (
	"context"
	"errors"
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// MostSteepCells bounds the ground that SteepAreas looks at.
const MostSteepCells = 400_000

// ErrTooMuchGround is returned for more cells than MostSteepCells.
var ErrTooMuchGround = errors.New("that is too much ground at once: zoom in")

// SteepAreas are the areas of over-steep ground in a box.
type SteepAreas struct {
	Outlines [][]geodesy.Grid // around cells, without the first point again at the end
	CellM    float64          // side of a cell
	Voids    int              // cells where the terrain has no heights: no area is known there
}

// SteepAreas finds the ground of a box on which a post around is as steep as limit or
// steeper, in square cells as large as the closest posts stand apart. Areas have no holes:
// a hollow of a few cells counts as steep, and around a larger one the area is cut in two.
// The cells are those of every box: what another one shows again has the same outline there.
// tell hears the share that is done. Errors: ErrTooMuchGround, and that of ctx.
func (g Ground) SteepAreas(ctx context.Context, box Box, limit units.Angle, tell func(done, all int)) (SteepAreas, error) {
	if g.m == nil {
		return SteepAreas{}, nil
	}
	cellM := g.m.ClosestM()
	box.SouthWest = geodesy.Grid{E: math.Floor(box.SouthWest.E/cellM) * cellM, N: math.Floor(box.SouthWest.N/cellM) * cellM}
	cols, rows := cellsAlong(box.NorthEast.E-box.SouthWest.E, cellM), cellsAlong(box.NorthEast.N-box.SouthWest.N, cellM)
	if cols*rows > MostSteepCells || !(cellM > 0) {
		return SteepAreas{}, ErrTooMuchGround
	}
	m := newMask(int(cols), int(rows))
	out := SteepAreas{CellM: cellM}
	for j := range m.rows {
		if ctx.Err() != nil {
			return SteepAreas{}, ctx.Err()
		}
		for i := range m.cols {
			deg, _ := g.SteepestRound(geodesy.Grid{E: box.SouthWest.E + (float64(i)+0.5)*cellM, N: box.SouthWest.N + (float64(j)+0.5)*cellM})
			if deg != deg {
				out.Voids++
			}
			m.on[j*m.cols+i] = deg >= limit.Deg()
		}
		tell(j+1, m.rows)
	}
	for _, o := range m.outlines() {
		line := make([]geodesy.Grid, len(o))
		for i, c := range o {
			line[i] = geodesy.Grid{E: box.SouthWest.E + float64(c.x)*cellM, N: box.SouthWest.N + float64(c.y)*cellM}
		}
		out.Outlines = append(out.Outlines, line)
	}
	return out, nil
}

func cellsAlong(m, cellM float64) float64 { return math.Max(math.Ceil(m/cellM), 1) }

// mask is a net of cells, some of them on; rows count from the south.
type mask struct {
	cols, rows int
	on         []bool
	set        []int // which set of cells a cell was put into last
	sets       int
}

func newMask(cols, rows int) *mask {
	return &mask{cols: cols, rows: rows, on: make([]bool, cols*rows), set: make([]int, cols*rows)}
}

// corner is a corner of cells.
type corner struct{ x, y int }

// smallHole is how many cells a hollow has at most that counts as a part of the area.
const smallHole = 4

// outlines are the outlines of the areas that are on, each free of holes and of corners
// at which it touches itself.
func (m *mask) outlines() (out [][]corner) {
	m.closePinches()
	var all []int
	for c, on := range m.on {
		if on {
			all = append(all, c)
		}
	}
	for work := m.connected(all); len(work) > 0; {
		cells := work[len(work)-1]
		work = work[:len(work)-1]
		outer, hole := m.around(cells)
		if hole == nil {
			out = append(out, outer)
			continue
		}
		cut := (least(hole) + most(hole) + 1) / 2
		var left, right []int
		for _, c := range cells {
			if c%m.cols < cut {
				left = append(left, c)
			} else {
				right = append(right, c)
			}
		}
		work = append(append(work, m.connected(left)...), m.connected(right)...)
	}
	return out
}

func least(loop []corner) int {
	x := loop[0].x
	for _, c := range loop {
		x = min(x, c.x)
	}
	return x
}

func most(loop []corner) int {
	x := loop[0].x
	for _, c := range loop {
		x = max(x, c.x)
	}
	return x
}

// closePinches turns cells on until no two that are on meet at a corner alone: there an
// outline would touch itself.
func (m *mask) closePinches() {
	for again := true; again; {
		again = false
		for j := range m.rows - 1 {
			for i := range m.cols - 1 {
				a, b := j*m.cols+i, (j+1)*m.cols+i
				sw, se, nw, ne := m.on[a], m.on[a+1], m.on[b], m.on[b+1]
				if sw == ne && se == nw && sw != se {
					m.on[a], m.on[a+1], m.on[b], m.on[b+1] = true, true, true, true
					again = true
				}
			}
		}
	}
}

// connected divides cells into sets that hang together by their sides.
func (m *mask) connected(cells []int) (out [][]int) {
	m.sets++
	waiting := m.sets
	for _, c := range cells {
		m.set[c] = waiting
	}
	for _, first := range cells {
		if m.set[first] != waiting {
			continue
		}
		m.sets++
		part := []int{first}
		m.set[first] = m.sets
		for n := 0; n < len(part); n++ {
			for _, next := range m.beside(part[n]) {
				if next >= 0 && m.set[next] == waiting {
					m.set[next] = m.sets
					part = append(part, next)
				}
			}
		}
		out = append(out, part)
	}
	return out
}

// beside are the cells south, east, north and west of one, −1 for none.
func (m *mask) beside(c int) [4]int {
	i, j := c%m.cols, c/m.cols
	out := [4]int{-1, -1, -1, -1}
	if j > 0 {
		out[0] = c - m.cols
	}
	if i+1 < m.cols {
		out[1] = c + 1
	}
	if j+1 < m.rows {
		out[2] = c + m.cols
	}
	if i > 0 {
		out[3] = c - 1
	}
	return out
}

// around returns the outer border of cells that hang together, and one of its holes that
// is not small, nil where there is none. The area lies left of both.
func (m *mask) around(cells []int) (outer, hole []corner) {
	m.sets++
	for _, c := range cells {
		m.set[c] = m.sets
	}
	next := map[corner]corner{}
	var starts []corner // in a fixed order, so that the same area has the same first corner again
	for _, c := range cells {
		i, j := c%m.cols, c/m.cols
		ring := [5]corner{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}, {i, j}}
		for side, other := range m.beside(c) {
			if other < 0 || m.set[other] != m.sets {
				next[ring[side]] = ring[side+1]
				starts = append(starts, ring[side])
			}
		}
	}
	for _, start := range starts {
		if _, open := next[start]; !open {
			continue
		}
		loop, twice := follow(next, start)
		switch {
		case twice > 0:
			outer = loop
		case -twice > 2*smallHole:
			hole = loop
		}
	}
	return outer, hole
}

// follow takes a loop out of the sides of cells: its corners, and twice its area in cells,
// below 0 for a hole.
func follow(next map[corner]corner, start corner) (loop []corner, twice int) {
	for at := start; ; {
		to, ok := next[at]
		if !ok {
			break
		}
		delete(next, at)
		twice += at.x*to.y - to.x*at.y
		if n := len(loop); n > 1 && straight(loop[n-2], loop[n-1], at) {
			loop[n-1] = at
		} else {
			loop = append(loop, at)
		}
		at = to
	}
	if n := len(loop); n > 2 && straight(loop[n-2], loop[n-1], loop[0]) {
		loop = loop[:n-1]
	}
	if n := len(loop); n > 2 && straight(loop[n-1], loop[0], loop[1]) {
		loop = loop[1:]
	}
	return loop, twice
}

func straight(a, b, c corner) bool { return a.x == b.x && b.x == c.x || a.y == b.y && b.y == c.y }
