package terrain_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/app/units"
)

// along is a profile of heights 10 m apart.
func along(heights ...float64) terrain.Profile {
	var p terrain.Profile
	for i, h := range heights {
		p.Points = append(p.Points, terrain.Point{AlongM: 10 * float64(i), HeightM: h})
	}
	return p
}

func TestClimb(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		p        terrain.Profile
		up, down float64
	}{
		{"level", along(100, 100, 100), 0, 0},
		{"bumps below the dead band", along(100, 104, 100, 104, 100, 104.9, 100), 4.9, 4.9}, // the highest point once
		{"a dip that stands out", along(100, 130, 124, 150), 56, 6},
		{"a dip that does not", along(100, 130, 126, 150), 50, 0},
		{"the highest point low over both ends", along(100, 102, 90), 2, 12},
		{"the lowest point", along(100, 98, 130), 32, 2},
		{"down, up, down", along(200, 150, 180, 100), 30, 130},
		{"one point", along(50), 0, 0},
		{"bump near the end", along(0, 100, 97), 100, 3},
	} {
		up, down, ok := c.p.Climb()
		if !ok || math.Abs(up-c.up) > 1e-9 || math.Abs(down-c.down) > 1e-9 {
			t.Errorf("%s: got %g up, %g down, %v, want %g, %g", c.name, up, down, ok, c.up, c.down)
		}
	}
	for name, p := range map[string]terrain.Profile{"nothing": {}, "a void": along(1, math.NaN(), 3)} {
		if up, down, ok := p.Climb(); ok {
			t.Errorf("%s: got %g up, %g down, want no answer", name, up, down)
		}
	}
}

// TestClimbKeepsItsPromises: whatever the ground, up less down is the difference of the
// ends, neither is less than the way over the lowest and highest point, nor more than every rise counted.
func TestClimbKeepsItsPromises(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		h, heights := 300.0, []float64{}
		for range 2 + rng.IntN(60) {
			h += rng.NormFloat64() * 6
			heights = append(heights, h)
		}
		p := along(heights...)
		up, down, ok := p.Climb()
		low, high, _ := p.Extremes()
		n, raw := len(heights), 0.0
		for i := 1; i < n; i++ {
			raw += max(heights[i]-heights[i-1], 0)
		}
		least := max(heights[high]-heights[0], heights[n-1]-heights[low])
		if low < high {
			least = max(least, heights[high]-heights[low])
		}
		if !ok || math.Abs(up-down-(heights[n-1]-heights[0])) > 1e-9 || up < least-1e-9 || up > raw+1e-9 {
			t.Fatalf("%v: got %g up, %g down, want between %g and %g up", heights, up, down, least, raw)
		}
	}
}

// TestProfileLeavesTheGround: a line that leaves the posts has voids, and so no climb.
func TestProfileLeavesTheGround(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 21, func(_, _ float64) float64 { return 7 })
	g := ground(t, tile.System, tile)
	p := g.Profile(middle, move(middle, 200, 0), 10)
	if p.Whole() || p.Voids() != 11 || len(p.Points) != 22 { // a grid metre is longer on the ground here: 21 steps of 9.5 m
		t.Errorf("line half outside: got %d voids of %d points", p.Voids(), len(p.Points))
	}
	if _, _, ok := p.Climb(); ok {
		t.Error("climb of it: got one, want none")
	}
	if p := g.Profile(middle, middle, 0); len(p.Points) != 1 || p.LengthM() != 0 {
		t.Errorf("line of no length: got %v", p)
	}
	if p := g.Profile(middle, geodesy.Grid{E: math.NaN()}, 0); p.Whole() || len(p.Points) != 0 {
		t.Errorf("impossible line: got %v", p)
	}
	if p := (terrain.Ground{}).Profile(middle, move(middle, 1, 1), 0); p.Whole() || p.LengthM() != 0 {
		t.Errorf("no model: got %v", p)
	}
}

// Parts of 30 m that fall at more than 12°, which is 6.38 m, count, and nothing else: 0.2 of 30 m is
// 11.3°, 0.25 is 14.0°.
func TestDown(t *testing.T) {
	t.Parallel()
	void := along(100, 90, 80, 70)
	void.Points[1].HeightM = math.NaN()
	for name, c := range map[string]struct {
		p            terrain.Profile
		length, drop float64
	}{
		"level":                {along(100, 100, 100, 100), 0, 0},
		"gentle":               {along(100, 98, 96, 94), 0, 0},
		"steep":                {along(100, 97.5, 95, 92.5), 30, 7.5},
		"steep upwards":        {along(92.5, 95, 97.5, 100), 0, 0},
		"gentle, then steep":   {along(100, 98, 96, 94, 90, 86, 82), 30, 12},
		"a step of 10 m alone": {along(100, 97, 97, 97), 0, 0},
		"not all known":        {void, 0, 0},
		"one point":            {along(50), 0, 0},
	} {
		length, drop := c.p.Down(units.Degrees(12), units.Degrees(90))
		if math.Abs(length-c.length) > 1e-9 || math.Abs(drop-c.drop) > 1e-9 {
			t.Errorf("%s: %g m falling %g m, want %g and %g", name, length, drop, c.length, c.drop)
		}
	}
}

// Parts between two slopes count, the lower one not itself: 10 m over 30 m are 18.4°, 6 m 11.3°, 2 m
// 3.8°. From the other end the same line rises.
func TestDownBands(t *testing.T) {
	t.Parallel()
	p := along(100, 99, 98, 98, 96, 94, 92, 88, 84, 82, 90, 90, 90)
	for _, c := range []struct{ above, most, length, drop float64 }{{0, 5, 30, 2}, {5, 12, 30, 6}, {12, 90, 30, 10}, {0, 90, 90, 18}} {
		if length, drop := p.Down(units.Degrees(c.above), units.Degrees(c.most)); math.Abs(length-c.length) > 1e-9 || math.Abs(drop-c.drop) > 1e-9 {
			t.Errorf("%v: %g m falling %g m", c, length, drop)
		}
	}
	back := p.Reversed()
	if length, drop := back.Down(0, units.Degrees(90)); length != 30 || drop != 8 || back.LengthM() != p.LengthM() || back.Points[0].AlongM != 0 {
		t.Errorf("from the other end: %g m falling %g m: %v", length, drop, back)
	}
}

// Ways that lead on from each other are one way; where one is without terrain all of it is.
func TestJoined(t *testing.T) {
	t.Parallel()
	a, b := terrain.Profile{Points: []terrain.Point{{AlongM: 0, HeightM: 10}, {AlongM: 5, HeightM: 20}}}, terrain.Profile{Points: []terrain.Point{{AlongM: 0, HeightM: 20}, {AlongM: 3, HeightM: 15}, {AlongM: 6, HeightM: math.NaN()}}}
	if got := fmt.Sprint(terrain.Joined(a, b)); got != "{[{0 10} {5 20} {8 15} {11 NaN}]}" {
		t.Errorf("joined they are %s", got)
	}
	if got := terrain.Joined(a, terrain.Profile{}, b); got.Points != nil || terrain.Joined().Points != nil {
		t.Errorf("with one unknown: %v", got)
	}
}
