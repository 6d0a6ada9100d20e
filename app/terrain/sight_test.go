package terrain_test

import (
	"math"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// TestDrop compares curvature less refraction with the handbook's table (k 0.13): from the
// eye to a target at the distance the drop is d²(1 − k)/2R, here as that of a mast half way on twice the
// distance, which is as much.
func TestDrop(t *testing.T) {
	t.Parallel()
	for d, want := range map[float64]float64{1000: 0.068, 5000: 1.71, 10_000: 6.83, 20_000: 27.3} {
		if got := terrain.Drop(d, 2*d); math.Abs(got/want-1) > 0.005 {
			t.Errorf("drop at %g m: got %.4f, want %g", d, got, want)
		}
	}
}

// TestRidgeHides: a ridge hides what is behind it until the eye or the target is lifted.
func TestRidgeHides(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 201, func(e, _ float64) float64 { return 100 + max(0, 60-math.Abs(e)) })
	g := ground(t, tile.System, tile)
	from, to := move(middle, -600, 0), move(middle, 600, 0)
	s, ok := g.Visible(from, 1.7, to, 0)
	if !ok || s.Visible || math.Abs(s.ClearanceM+59.15) > 3.4 || math.Abs(s.AlongM-600) > 3.4 { // the ridge is sharp, a step of 10 m may miss its edge by a third
		t.Errorf("behind the ridge: got %+v, %v, want hidden by 59 m half way", s, ok)
	}
	if s, ok := g.Visible(from, 130, to, 0); !ok || !s.Visible {
		t.Errorf("from above the ridge: got %+v, %v, want visible", s, ok)
	}
	if s, ok := g.Visible(from, 61, to, 60); !ok || !s.Visible || s.ClearanceM > 3.4 {
		t.Errorf("mast seen over the ridge: got %+v, %v, want visible by a metre or two", s, ok)
	}
	if s, ok := g.Visible(from, 1.7, move(from, 29, 0), 0); !ok || !s.Visible || !math.IsInf(s.ClearanceM, 1) {
		t.Errorf("next to the eye: got %+v, %v, want visible with nothing between", s, ok)
	}
	if _, ok := g.Visible(from, 1.7, move(middle, 1001, 0), 0); ok {
		t.Error("target beyond the terrain: got an answer, want none")
	}
}

// TestCurvatureHides: over a level sea an eye at 1.7 m sees a target at the water's edge to 5 km and not
// at 6 km (the horizon lies at √(2R·h/(1−k)) = 5.0 km).
func TestCurvatureHides(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 1401, func(_, _ float64) float64 { return 0 })
	g := ground(t, tile.System, tile)
	for d, want := range map[float64]bool{4000: true, 6000: false} {
		if s, ok := g.Visible(move(middle, -d/2, 0), 1.7, move(middle, d/2, 0), 0); !ok || s.Visible != want {
			t.Errorf("%g m away: got %+v, %v, want visible %v", d, s, ok, want)
		}
	}
}

// The least clearance away from both ends says how near the ground between comes: over level
// ground, where the eye's own height is all, less than that; over a valley far more, although
// both ends lie on the ground.
func TestMidwayClearance(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		height func(x float64) float64
		least  float64
		most   float64
	}{
		{"level", func(float64) float64 { return 10 }, 0, 1.7},
		{"valley", func(x float64) float64 { return math.Abs(x-1000) / 2 }, 49, 53}, // 100 m from an end the ground is 50 m lower
	} {
		tile := &terrain.Tile{System: sys, NorthWest: geodesy.Grid{E: 200_000, N: 700_020}, StepE: 10, StepN: 10, Cols: 201, Rows: 4, UnitM: 1}
		for range tile.Rows {
			for col := range tile.Cols {
				tile.Heights = append(tile.Heights, float32(c.height(10*float64(col))))
			}
		}
		m, err := terrain.NewModel(tile)
		if err != nil {
			t.Fatal(err)
		}
		s, ok := m.On(sys).Visible(geodesy.Grid{E: 200_000, N: 700_000}, 1.7, geodesy.Grid{E: 202_000, N: 700_000}, 0)
		if !ok || !s.Visible || s.MidwayM < c.least || s.MidwayM > c.most || s.ClearanceM > s.MidwayM {
			t.Errorf("%s: %+v, %v; want the middle between %v and %v m clear", c.name, s, ok, c.least, c.most)
		}
	}
}
