package terrain

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

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
	Small    int              // smaller areas that have no outline here
	LeastM2  float64          // the smallest area that has one
}

// leastCells is how many cells an area has at least that SteepAreas outlines: so many lie
// around one post.
const leastCells = 4

// SteepAreas finds the ground of a box on which a post around is as steep as limit or
// steeper, in square cells as large as the closest posts stand apart. Ground that hangs
// together is one area. Areas have no holes: a hollow of a few cells counts as steep, and
// from a larger one a narrow slit leads out of the area. Areas of fewer than leastCells
// cells it only counts, unless they reach the border of the box and may go on beyond it.
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
	out := SteepAreas{CellM: cellM, LeastM2: leastCells * cellM * cellM}
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
		if m.inside(o) && cellsIn(o) < leastCells {
			out.Small++
			continue
		}
		line := make([]geodesy.Grid, len(o))
		for i, c := range o {
			line[i] = geodesy.Grid{E: box.SouthWest.E + c.x*cellM, N: box.SouthWest.N + c.y*cellM}
		}
		out.Outlines = append(out.Outlines, line)
	}
	return out, nil
}

// inside reports whether an outline stays off the border of the net.
func (m *mask) inside(outline []vertex) bool {
	return !slices.ContainsFunc(outline, func(v vertex) bool {
		return v.x == 0 || v.y == 0 || v.x == float64(m.cols) || v.y == float64(m.rows)
	})
}

// cellsIn is the area in an outline, in cells.
func cellsIn(outline []vertex) float64 {
	twice := 0.0
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		twice += a.x*b.y - b.x*a.y
	}
	return twice / 2
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

// vertex is a corner of an outline, in cells.
type vertex struct{ x, y float64 }

// outlines are the outlines of the areas that are on, each free of holes and of corners
// at which it touches itself.
func (m *mask) outlines() (out [][]vertex) {
	m.closePinches()
	var all []int
	for c, on := range m.on {
		if on {
			all = append(all, c)
		}
	}
	for _, cells := range m.connected(all) {
		outer, holes := m.around(cells)
		out = append(out, slit(outer, holes))
	}
	return out
}

// A slit lies beside the middle of a column of cells, and is a fiftieth of a cell wide.
const slitWest, slitEast = 0.70, 0.72

// slit makes one outline of the border of an area and its holes: from the northernmost side
// of each hole a slit leads north, to the border or into a hole that reaches farther north.
func slit(outer []corner, holes [][]corner) []vertex {
	out := verticesOf(outer)
	slices.SortStableFunc(holes, func(a, b []corner) int { return cmp.Compare(northOf(b), northOf(a)) })
	for _, h := range holes {
		hole := verticesOf(h)
		top := -1 // the side that begins there leads east along the north of the hole
		for i := range hole {
			if a, b := hole[i], hole[(i+1)%len(hole)]; a.y == b.y && a.x < b.x && (top < 0 || a.y > hole[top].y) {
				top = i
			}
		}
		west, east, from := hole[top].x+slitWest, hole[top].x+slitEast, hole[top].y
		to := -1 // the side that begins there is the nearest one to the north; it leads west
		for i := range out {
			if a, b := out[i], out[(i+1)%len(out)]; a.y == b.y && b.x < west && east < a.x && a.y > from && (to < 0 || a.y < out[to].y) {
				to = i
			}
		}
		end := out[to].y
		in := []vertex{{east, end}, {east, from}}
		for k := range hole {
			in = append(in, hole[(top+1+k)%len(hole)])
		}
		out = slices.Insert(out, to+1, append(in, vertex{west, from}, vertex{west, end})...)
	}
	return out
}

func verticesOf(loop []corner) []vertex {
	out := make([]vertex, len(loop))
	for i, c := range loop {
		out[i] = vertex{float64(c.x), float64(c.y)}
	}
	return out
}

func northOf(loop []corner) int {
	y := loop[0].y
	for _, c := range loop {
		y = max(y, c.y)
	}
	return y
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

// around returns the outer border of cells that hang together, and those of its holes that
// are not small. The area lies left of all of them.
func (m *mask) around(cells []int) (outer []corner, holes [][]corner) {
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
			holes = append(holes, loop)
		}
	}
	return outer, holes
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
