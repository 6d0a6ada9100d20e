package terrain

import (
	"math"

	"legwright/app/geodesy"
)

// lattice is the tiles of a model whose posts belong to one regular lattice.
type lattice struct {
	system       *geodesy.System
	origin       geodesy.Grid // the first post of its first tile
	stepE, stepN float64
	tiles        []placed
	spacingM     float64 // the wider of the two spacings on the ground, in its middle
	stretched    bool    // lengths on the grid are not those on the ground, or differ by direction
}

// placed is a tile with the place of its first post on the lattice.
type placed struct {
	*Tile
	col, row int
}

const (
	// snapped is how near to a whole number of posts a coordinate counts as on the
	// post: micrometres.
	snapped = 1e-7
	// stretchedBy is the departure of a grid's scale from 1 from which slopes
	// are taken on the ground and not on the grid. At 25° it changes a slope by 0.1°.
	stretchedBy = 0.005
)

// newLattice returns the lattice of a tile.
func newLattice(t *Tile) *lattice {
	l := &lattice{system: t.System, origin: t.NorthWest, stepE: t.StepE, stepN: t.StepN, tiles: []placed{{Tile: t}}}
	se := t.SouthEast()
	middle := geodesy.Grid{E: (t.NorthWest.E + se.E) / 2, N: (t.NorthWest.N + se.N) / 2}
	l.spacingM = max(t.StepE, t.StepN)
	if f, err := l.system.FactorsAt(middle); err == nil {
		l.spacingM = max(math.Hypot(f.Ground(t.StepE, 0)), math.Hypot(f.Ground(0, t.StepN)))
	}
	for _, at := range [...]geodesy.Grid{t.NorthWest, middle, se, {E: t.NorthWest.E, N: se.N}, {E: se.E, N: t.NorthWest.N}} {
		f, err := l.system.FactorsAt(at)
		l.stretched = l.stretched || err != nil || !f.Conformal() || math.Abs(f.Scale-1) > stretchedBy
	}
	return l
}

// take adds a tile if its posts lie on the lattice.
func (l *lattice) take(t *Tile) bool {
	const same = 1e-9 // of the spacing
	if t.System.Code() != l.system.Code() || math.Abs(t.StepE/l.stepE-1) > same || math.Abs(t.StepN/l.stepN-1) > same {
		return false
	}
	x, y := l.at(t.NorthWest)
	col, row := math.Round(x), math.Round(y)
	const off, far = 1e-4, 1e9 // posts
	if math.Abs(x-col) > off || math.Abs(y-row) > off || math.Abs(col) > far || math.Abs(row) > far {
		return false
	}
	l.tiles = append(l.tiles, placed{t, int(col), int(row)})
	return true
}

// at returns grid coordinates as columns and rows of the lattice.
func (l *lattice) at(g geodesy.Grid) (x, y float64) {
	return snap((g.E - l.origin.E) / l.stepE), snap((l.origin.N - g.N) / l.stepN)
}

func snap(v float64) float64 {
	if r := math.Round(v); math.Abs(v-r) < snapped {
		return r
	}
	return v
}

// post returns the height of a post in metres, NaN for none.
func (l *lattice) post(col, row int) float64 {
	for _, t := range l.tiles {
		c, r := col-t.col, row-t.row
		if c < 0 || r < 0 || c >= t.Cols || r >= t.Rows {
			continue
		}
		if h := t.Height(r*t.Cols + c); !math.IsNaN(h) {
			return h * t.UnitM
		}
	}
	return math.NaN()
}

// blend is the bilinear mean of what value gives at the four posts round a place; a post
// without weight is not asked. It is NaN where a post that counts is.
func blend(x, y float64, value func(col, row int) float64) float64 {
	const reach = 1 << 40
	if !(math.Abs(x) < reach && math.Abs(y) < reach) {
		return math.NaN()
	}
	col, row := int(math.Floor(x)), int(math.Floor(y))
	u, v := x-float64(col), y-float64(row)
	sum := 0.0
	for _, p := range [...]struct {
		col, row int
		weight   float64
	}{{col, row, (1 - u) * (1 - v)}, {col + 1, row, u * (1 - v)}, {col, row + 1, (1 - u) * v}, {col + 1, row + 1, u * v}} {
		if p.weight != 0 {
			sum += p.weight * value(p.col, p.row)
		}
	}
	return sum
}

// height returns the height in metres at a place on the lattice, NaN for none. Most places
// lie inside one tile, which is asked without the detour by single posts.
func (l *lattice) height(g geodesy.Grid) float64 {
	x, y := l.at(g)
	for _, t := range l.tiles {
		col, row := math.Floor(x)-float64(t.col), math.Floor(y)-float64(t.row)
		if !(col >= 0 && row >= 0 && col < float64(t.Cols-1) && row < float64(t.Rows-1)) {
			continue
		}
		u, v := x-math.Floor(x), y-math.Floor(y)
		north := int(row)*t.Cols + int(col)
		south := north + t.Cols
		h := (t.Height(north)*(1-u)+t.Height(north+1)*u)*(1-v) + (t.Height(south)*(1-u)+t.Height(south+1)*u)*v
		if !math.IsNaN(h) {
			return h * t.UnitM
		}
	}
	return blend(x, y, l.post)
}

// gradient returns the rise per metre on the lattice's grid toward its east and north
// (Horn 1981), at posts exactly and bilinear between them; NaN for none.
func (l *lattice) gradient(g geodesy.Grid) (east, north float64) {
	x, y := l.at(g)
	east = blend(x, y, func(c, r int) float64 {
		return (l.side(c+1, r, 0, 1) - l.side(c-1, r, 0, 1)) / (8 * l.stepE)
	})
	north = blend(x, y, func(c, r int) float64 {
		return (l.side(c, r-1, 1, 0) - l.side(c, r+1, 1, 0)) / (8 * l.stepN)
	})
	return east, north
}

// side is one side of Horn's kernel: the middle post twice and its two neighbours.
func (l *lattice) side(col, row, dCol, dRow int) float64 {
	return l.post(col-dCol, row-dRow) + 2*l.post(col, row) + l.post(col+dCol, row+dRow)
}
