package lattice

import (
	"math"
	"testing"
)

// lineFigures are of pictures with lines that might be taken for grid lines.
type lineFigures struct {
	Pictures int
	Grids    int // of them have a grid
	Right    int // whose main lines or tenths were named, each where it is
	Wrong    int // pictures in which other lines were named as a grid or among it
}

// amiss is how far from its place, in pixels, a line is another one.
const amiss = 3

// others counts what becomes of n pictures of otherLines.
func others(t *testing.T, n int) (f lineFigures) {
	t.Helper()
	for s := range n {
		r, kind := otherLines(uint64(4000 + s))
		f.Pictures++
		if r.square > 0 {
			f.Grids++
		}
		l, why := find(t, r.draw())
		if l == nil {
			if r.square > 0 {
				t.Logf("%d %s: %s", s, kind, why)
			}
			continue
		}
		if _, err := r.named(l); err != nil {
			continue
		}
		worst := math.Inf(1)
		if r.square > 0 && r.hold(l, "").why != "numbering" {
			worst = slicesMax(r.hold(l, "").errs)
		}
		if worst > amiss {
			f.Wrong++
			t.Logf("%d %s: named %d intersections, squares of %.0f × %.0f px, the worst %.1f px off", s, kind, len(l.Intersections), l.WidthPx, l.HeightPx, worst)
			continue
		}
		f.Right++
	}
	return f
}

func slicesMax(v []float64) (most float64) {
	for _, x := range v {
		most = max(most, x)
	}
	return most
}

// divided makes a sheet whose squares are divided by fainter tenths.
func divided(seed uint64) recipe {
	r := newRecipe(seed, seed%2 == 1)
	r.width = max(r.width, 1.8)
	r.square = 180 + 1100*math.Pow(float64(seed%10)/9, 1.5)
	r.square = min(r.square, float64(min(r.w, r.h))/3.2)
	r.gx, r.gy = math.Mod(r.gx, r.square), math.Mod(r.gy, r.square)
	r.tenth = 0.2 + 0.3*float64(seed%7)/6
	return r
}

// tenths counts in how many of n sheets with faint tenths the main lines are
// found and named, or all tenths as such.
func tenths(t *testing.T, n int) (f lineFigures) {
	t.Helper()
	for s := range n {
		r := divided(uint64(3000 + s))
		f.Pictures, f.Grids = f.Pictures+1, f.Grids+1
		l, why := find(t, r.draw())
		if l == nil {
			t.Logf("%d, squares of %.0f px: %s", s, r.square, why)
			continue
		}
		v := r.hold(l, "")
		_, err := r.named(l)
		switch {
		case err != nil:
			t.Logf("%d, squares of %.0f px: %v", s, r.square, err)
		case v.solved && slicesMax(v.errs) <= amiss:
			f.Right++
		default:
			f.Wrong++
			t.Logf("%d, squares of %.0f px: found %.1f px, %s", s, r.square, l.SquarePx, v.why)
		}
	}
	return f
}

// Frames, graticules, tables and other straight lines are never named as a grid
// or among its lines.
func TestOtherLines(t *testing.T) {
	if testing.Short() {
		t.Skip("makes big pictures")
	}
	f := others(t, 24)
	if f.Wrong > 0 || f.Right < f.Grids*3/4 {
		t.Errorf("got %+v, want none wrong and three in four grids", f)
	}
}

// Where faint lines divide the squares, the main ones are the grid.
func TestTenths(t *testing.T) {
	if testing.Short() {
		t.Skip("makes big pictures")
	}
	if f := tenths(t, 10); f.Wrong > 0 || f.Right < 9 {
		t.Errorf("got %+v, want 9 of 10 right and none wrong", f)
	}
}
