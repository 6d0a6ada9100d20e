package escape_test

import (
	"math"
	"slices"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// tile is terrain of posts 10 m apart, 2 km square around the cairn of walk.
func tile(h func(e, n float64) float64) *terrain.Tile {
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		panic(err)
	}
	t := &terrain.Tile{Name: "made", System: sys, NorthWest: geodesy.Grid{E: eastM - 1000, N: northM + 1000}, StepE: 10, StepN: 10, Cols: 201, Rows: 201, UnitM: 1}
	for i := range t.Cols * t.Rows {
		t.Heights = append(t.Heights, float32(h(10*float64(i%t.Cols)-1000, 1000-10*float64(i/t.Cols))))
	}
	return t
}

// uncounted is walk without anybody's counts.
func uncounted() *plan.Plan {
	return edit(walk(), func(e *plan.Escape) {
		for i := range e.Legs {
			e.Legs[i].Climb, e.Legs[i].Descent = plan.Counted{}, plan.Counted{}
		}
	})
}

// On a plane that rises 1 in 4 to the north: leg 1 falls by 100 m, leg 2 is level for 300 m and
// falls by 100 m on the last 400.
func TestOverTerrain(t *testing.T) {
	t.Parallel()
	e := only(t, uncounted(), tile(func(_, n float64) float64 { return 500 + n/4 }))
	if got := about(e.Cautions); !slices.Equal(got, []caution.Code{caution.BlindTerrain}) || caution.Has(e.Cautions, caution.SteepnessUnknown) {
		t.Errorf("cautions %v", e.Cautions)
	}
	if math.Abs(e.Descent.M-200) > 0.01 || e.Climb.M > 0.01 || e.AgainM > 0.01 || math.Abs(e.Legs[1].Profile.LengthM()-e.Legs[1].LengthM) > 1e-6 {
		t.Errorf("%+v down, %+v up, %.1f m again", e.Descent, e.Climb, e.AgainM)
	}
	// 8.003 + 3.333 min, then 10.504 + 3.333 min: all of both descents is steeper than 12°, also
	// on leg 2, which as a whole falls by 8°.
	if math.Abs(e.Minutes-25.174) > 0.005 {
		t.Errorf("%.3f min", e.Minutes)
	}
}

// Ground of 27° under a compass leg is a stop, under a line a note; convex ground is marked;
// a dip that is climbed out of counts as climbed again; off the terrain nothing is known.
func TestGroundOfALeg(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		h        func(e, n float64) float64
		one, two []caution.Code
	}{
		"level":                       {func(_, _ float64) float64 { return 500 }, nil, nil},
		"steep under the compass leg": {func(_, n float64) float64 { return 500 + 0.51*max(n, -350) }, []caution.Code{caution.SteepAhead}, nil},
		"steep under the line":        {func(e, n float64) float64 { return 500 + 0.51*min(max(n, -750), -500) }, []caution.Code{caution.ConvexGround}, []caution.Code{caution.SteepBeside, caution.ConvexGround}},
		"steepens below":              {func(_, n float64) float64 { return 500 + 0.36*min(n+250, 0) }, []caution.Code{caution.ConvexGround}, nil},
		"a void under the compass leg": {func(_, n float64) float64 {
			if math.Abs(n+200) < 20 {
				return math.NaN()
			}
			return 500
		}, []caution.Code{caution.SteepnessUnknown, caution.NoTerrain}, nil},
	} {
		e := only(t, uncounted(), tile(c.h))
		for i, want := range [][]caution.Code{c.one, c.two} {
			var got []caution.Code
			for _, k := range e.Legs[i].Cautions {
				if k.Code != caution.NothingDrawn {
					got = append(got, k.Code)
				}
			}
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("%s, leg %d: %v, want %v", name, i+1, got, want)
			}
		}
		if unknown := name == "a void under the compass leg"; math.IsNaN(e.Minutes) != unknown {
			t.Errorf("%s: %v min", name, e.Minutes)
		}
	}
	dip := only(t, uncounted(), tile(func(_, n float64) float64 { return 500 - min(max(-n-100, 0), 60) + min(max(-n-200, 0), 60) }))
	if math.Abs(dip.AgainM-60) > 0.5 || !caution.Has(dip.Cautions, caution.EscapeClimbsAgain) {
		t.Errorf("%.1f m are climbed again, want 60: %v", dip.AgainM, dip.Cautions)
	}
}

// The slope that counts as over-steep is the plan's to set. Under leg 1 the ground falls at 0.51,
// 27.0°: over-steep from 25° and from 27°, not from 28°. What does not show goes with it: with posts
// 10 m apart 2 × 10 m × tan 25° is 9.3, so 10 m, and tan 40° makes it 16.8, so 20 m.
func TestOverSteepOfThePlan(t *testing.T) {
	t.Parallel()
	ground := tile(func(_, n float64) float64 { return 500 + 0.51*max(n, -350) })
	for deg, want := range map[int]struct {
		steep bool
		blind string
	}{0: {true, "10 m"}, 27: {true, "15 m"}, 28: {false, "15 m"}, 40: {false, "20 m"}} {
		e := only(t, uncounted().SetOverSteep(deg), ground)
		steep := caution.Of(caution.SteepAhead, "from the start of the leg", "27°").About("leg 1")
		if got := slices.Contains(e.Legs[0].Cautions, steep); got != want.steep || caution.Has(e.Legs[0].Cautions, caution.SteepAhead) != got {
			t.Errorf("from %d°: %v", deg, e.Legs[0].Cautions)
		}
		if !slices.Contains(e.Cautions, caution.Of(caution.BlindTerrain, want.blind)) {
			t.Errorf("from %d°: want crags of %s not to show: %v", deg, want.blind, e.Cautions)
		}
	}
}
