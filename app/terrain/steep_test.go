package terrain_test

import (
	"math"
	"testing"

	"legwright/app/terrain"
	"legwright/app/units"
)

// TestBlindHeight: 2 × spacing × tan(over-steep), rounded up to 5 m.
func TestBlindHeight(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ spacing, steepDeg, want float64 }{
		{30, 20, 25}, {92, 20, 70}, {30, 25, 30}, {5, 25, 5}, {10, 25, 10}, {1, 25, 5},
	} {
		if got := terrain.BlindHeight(c.spacing, units.Degrees(c.steepDeg)); got != c.want {
			t.Errorf("posts %g m apart, %g°: got %g m, want %g", c.spacing, c.steepDeg, got, c.want)
		}
	}
	for spacing, want := range map[float64]float64{5: 25, 15: 25, 15.1: 20, 92: 20} {
		if got := terrain.OverSteep(spacing).Deg(); math.Abs(got-want) > 1e-9 {
			t.Errorf("over-steep with posts %g m apart: got %g°, want %g", spacing, got, want)
		}
	}
}

// TestConvex: a brow is convex to somebody above it, and no slope that keeps or eases is.
func TestConvex(t *testing.T) {
	t.Parallel()
	brow := func(e, _ float64) float64 { // level, 5° to the brow, then 30°
		return 500 - math.Tan(5*math.Pi/180)*max(e, -300) - (math.Tan(30*math.Pi/180)-math.Tan(5*math.Pi/180))*max(e, 0)
	}
	tile, middle := surface(t, 101, brow)
	g := ground(t, tile.System, tile)
	for e, want := range map[float64]bool{-100: true, -20: true, -200: false, 100: false} {
		if got, ok := g.Convex(move(middle, e, 0)); !ok || got != want {
			t.Errorf("%g m from the brow: got %v, %v, want %v", e, got, ok, want)
		}
	}
	plateau, middle := surface(t, 101, func(e, n float64) float64 { return 500 - 0.5*max(math.Hypot(e, n)-100, 0) }) // level, then 27°
	level := ground(t, plateau.System, plateau)
	for e, want := range map[float64]bool{0: true, 70: true, -70: true} {
		if got, ok := level.Convex(move(middle, e, 0)); !ok || got != want {
			t.Errorf("%g m from the middle of a plateau: got %v, %v, want %v", e, got, ok, want)
		}
	}
	hollow, middle := surface(t, 101, func(e, n float64) float64 { return 500 + 0.5*max(math.Hypot(e, n)-100, 0) })
	if got, ok := ground(t, hollow.System, hollow).Convex(middle); got || !ok {
		t.Errorf("on the floor of a hollow: got %v, %v, want not convex", got, ok)
	}
	if _, ok := g.Convex(move(middle, 480, 0)); ok {
		t.Error("where the way down leaves the terrain: got an answer, want none")
	}
}
