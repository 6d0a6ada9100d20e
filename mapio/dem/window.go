package dem

import (
	"fmt"
	"image"
	"math"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// void is the height of a post without one.
var void = float32(math.NaN())

// posts is the whole lattice of a file, of which a window is read.
type posts struct {
	system       *geodesy.System
	northWest    geodesy.Grid
	stepE, stepN float64 // metres on the grid
	cols, rows   int
}

// window returns the posts that the area needs, at least 2 × 2, with one more on each
// side where there is one. Errors wrap ErrElsewhere and ErrTooLarge.
func (p posts) window(a terrain.Area) (image.Rectangle, error) {
	r := image.Rect(0, 0, p.cols, p.rows)
	if !a.Everywhere() {
		box, ok := a.On(p.system)
		if !ok {
			return r, fmt.Errorf("%w: its grid, %s, does not reach the sheet; choose a file that covers the sheet", ErrElsewhere, p.system.Name())
		}
		r = r.Intersect(image.Rect(
			whole(math.Floor((box.SouthWest.E-p.northWest.E)/p.stepE))-1, whole(math.Floor((p.northWest.N-box.NorthEast.N)/p.stepN))-1,
			whole(math.Ceil((box.NorthEast.E-p.northWest.E)/p.stepE))+2, whole(math.Ceil((p.northWest.N-box.SouthWest.N)/p.stepN))+2,
		))
	}
	if r.Dx() < 2 || r.Dy() < 2 {
		return r, fmt.Errorf("%w: it does not reach the sheet; choose a file that covers the sheet", ErrElsewhere)
	}
	if n := int64(r.Dx()) * int64(r.Dy()); n > terrain.MaxPosts {
		return r, fmt.Errorf("%w: %d × %d heights would have to be read, but at most %d million can be; choose a coarser file", ErrTooLarge, r.Dx(), r.Dy(), terrain.MaxPosts/1_000_000)
	}
	return r, nil
}

// whole is a number of posts within what images can hold.
func whole(v float64) int { return int(min(max(v, -1<<30), 1<<30)) }

// tile takes the memory for a window of whole heights or of others, none of them set.
func (p posts) tile(r image.Rectangle, unitM float64, whole bool) *terrain.Tile {
	t := &terrain.Tile{
		System:    p.system,
		NorthWest: geodesy.Grid{E: p.northWest.E + p.stepE*float64(r.Min.X), N: p.northWest.N - p.stepN*float64(r.Min.Y)},
		StepE:     p.stepE, StepN: p.stepN, Cols: r.Dx(), Rows: r.Dy(), UnitM: unitM,
	}
	if n := r.Dx() * r.Dy(); whole {
		t.Whole = make([]int16, n)
	} else {
		t.Heights = make([]float32, n)
	}
	return t
}
