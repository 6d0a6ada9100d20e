package terrain_test

import (
	"math"
	"testing"

	"legwright/app/geodesy"
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
		if got := terrain.OverSteep(spacing, 0).Deg(); math.Abs(got-want) > 1e-9 {
			t.Errorf("over-steep with posts %g m apart: got %g°, want %g", spacing, got, want)
		}
		if got := terrain.OverSteep(spacing, units.Degrees(31)).Deg(); math.Abs(got-31) > 1e-9 {
			t.Errorf("set to 31°, with posts %g m apart: got %g°", spacing, got)
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

// The steepest of the posts around is never gentler than what Slope blends there, equals it at
// a post, and is that of a narrow band anywhere beside it; a void round the position is said.
func TestSteepestRound(t *testing.T) {
	t.Parallel()
	const n, step = 9, 10.0
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	made := func(height func(col int) float64) terrain.Ground {
		tile := &terrain.Tile{System: sys, NorthWest: geodesy.Grid{E: 200_000, N: 700_000}, StepE: step, StepN: step, Cols: n, Rows: n, UnitM: 1}
		for range n {
			for col := range n {
				tile.Heights = append(tile.Heights, float32(height(col)))
			}
		}
		m, err := terrain.NewModel(tile)
		if err != nil {
			t.Fatal(err)
		}
		return m.On(sys)
	}
	at := func(x float64) geodesy.Grid { return geodesy.Grid{E: 200_000 + x, N: 700_000 - 43} }
	edge := made(func(col int) float64 { return 10 * math.Max(float64(col)-4, 0) }) // level, then 45°
	for x := 15.0; x <= 65; x += 2.5 {
		s, ok := edge.Slope(at(x))
		got, whole := edge.SteepestRound(at(x))
		if !ok || !whole || got < s.Steep.Deg()-1e-9 {
			t.Errorf("at %v: steepest %v, whole %v, slope %v", x, got, whole, s.Steep.Deg())
		}
		if x == 60 && math.Abs(got-45) > 1e-9 {
			t.Errorf("on the slope: %v, want 45", got)
		}
		if x > 40 && x < 50 && math.Abs(got-45) > 1e-9 { // its lower post has 26.6°, the upper 45°
			t.Errorf("beside the slope at %v: %v, want 45", x, got)
		}
	}
	hole := made(func(col int) float64 {
		if col == 7 {
			return math.NaN()
		}
		return 10 * float64(col)
	})
	if got, whole := hole.SteepestRound(at(53)); whole || math.Abs(got-45) > 1e-9 {
		t.Errorf("beside a void: %v, whole %v", got, whole)
	}
	if got, whole := hole.SteepestRound(at(-50)); whole || got == got {
		t.Errorf("off the posts: %v, whole %v", got, whole)
	}
}
