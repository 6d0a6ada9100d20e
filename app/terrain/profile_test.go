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

// Where ground is first as steep as a slope counts, that slope itself too, and how steep it is at
// most; where it is not known, it is neither.
func TestOverSteepProfile(t *testing.T) {
	t.Parallel()
	unknown := math.NaN()
	for name, c := range map[string]struct {
		deg         []float64
		first, most float64
		whole       bool
	}{
		"gentle":            {[]float64{3, 24.9, 0}, -1, 0, true},
		"from the start":    {[]float64{25, 3, 3}, 0, 25, true},
		"twice":             {[]float64{3, 27, 3, 41, 26}, 10, 41, true},
		"beside a void":     {[]float64{3, unknown, 31}, 20, 31, false},
		"nothing is known":  {[]float64{unknown, unknown}, -1, 0, false},
		"there is no point": {nil, -1, 0, false},
	} {
		p := along(c.deg...)
		for i, deg := range c.deg {
			p.Points[i].Steep = units.Degrees(deg)
		}
		first, most, whole := p.OverSteep(units.Degrees(25))
		if first != c.first || math.Abs(most.Deg()-c.most) > 1e-9 || whole != c.whole {
			t.Errorf("%s: first %g m, at most %v°, whole %v, want %+v", name, first, most.Deg(), whole, c)
		}
		if n := len(p.Points); n > 0 {
			back, _, _ := p.Reversed().OverSteep(units.Degrees(25))
			if want := p.LengthM() - lastSteep(c.deg); back != want && c.first >= 0 || back >= 0 != (c.first >= 0) {
				t.Errorf("%s, from the other end: first %g m, want %g", name, back, want)
			}
		}
	}
}

// lastSteep is where along slopes 10 m apart the last one of 25° or more is.
func lastSteep(deg []float64) (m float64) {
	for i, d := range deg {
		if d >= 25 {
			m = 10 * float64(i)
		}
	}
	return m
}

// Underfoot has the heights of Profile, and at each point the slope that Slope has there, on
// whichever grid the posts are; beside a void it has a height and no slope.
func TestUnderfoot(t *testing.T) {
	t.Parallel()
	hills := func(e, n float64) float64 { return 500 + 60*math.Sin(e/80) + 50*math.Cos(n/60) }
	tile, middle := surface(t, 101, hills)
	tile.Heights[45*101+80] = float32(math.NaN())
	degrees := stretched(t, 4326, hills)
	for name, g := range map[string]terrain.Ground{"its own grid": ground(t, tile.System, tile), "degrees": ground(t, tile.System, degrees)} {
		a, b := move(middle, -350, -60), move(middle, 350, 55)
		got, want, without := g.Underfoot(a, b), g.Profile(a, b, 0), 0
		if len(got.Points) != len(want.Points) || len(got.Points) < 50 {
			t.Fatalf("%s: %d points, Profile has %d", name, len(got.Points), len(want.Points))
		}
		for i, q := range got.Points {
			share := float64(i) / float64(len(got.Points)-1)
			s, ok := g.Slope(move(a, share*(b.E-a.E), share*(b.N-a.N)))
			if h := want.Points[i].HeightM; q.AlongM != want.Points[i].AlongM || q.HeightM != h && (q.HeightM == q.HeightM || h == h) {
				t.Fatalf("%s: point %d is %+v, Profile has %+v", name, i, q, want.Points[i])
			}
			if known := q.Steep == q.Steep; known != ok || ok && math.Abs((q.Steep-s.Steep).Deg()) > 1e-9 {
				t.Fatalf("%s: point %d is %v° steep, Slope has %v°, %v", name, i, q.Steep.Deg(), s.Steep.Deg(), ok)
			}
			if q.HeightM == q.HeightM && q.Steep != q.Steep {
				without++
			}
		}
		if holed := name == "its own grid"; without > 0 != holed || want.Whole() == holed {
			t.Errorf("%s: %d points have a height and no slope, the profile is whole %v", name, without, want.Whole())
		}
	}
}

// stretched is a tile of posts 20 m apart on a grid that is not in metres on the ground, around the
// middle of surface.
func stretched(t *testing.T, code int, h func(e, n float64) float64) *terrain.Tile {
	t.Helper()
	_, middle := surface(t, 2, h)
	utm, s := system(t, 32630), system(t, code)
	convert := func(from, to *geodesy.System, at geodesy.Grid) geodesy.Grid {
		ll, _, err := from.ToWGS84(at)
		if err != nil {
			t.Fatal(err)
		}
		out, _, _, err := to.FromWGS84(ll)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	const posts = 61
	own, east := convert(utm, s, middle), convert(utm, s, move(middle, 20, 0))
	step := east.E - own.E
	tile := &terrain.Tile{
		Name: "stretched", System: s, NorthWest: move(own, -step*posts/2, step*posts/2), StepE: step, StepN: step, Cols: posts, Rows: posts, UnitM: 1,
	}
	for i := range posts * posts {
		at := convert(s, utm, move(tile.NorthWest, step*float64(i%posts), -step*float64(i/posts)))
		tile.Heights = append(tile.Heights, float32(h(at.E-middle.E, at.N-middle.N)))
	}
	return tile
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
	a, b := terrain.Profile{Points: []terrain.Point{{0, 10, 1}, {5, 20, 2}}}, terrain.Profile{Points: []terrain.Point{{0, 20, 2}, {3, 15, 3}, {6, math.NaN(), 4}}}
	if got := fmt.Sprint(terrain.Joined(a, b)); got != "{[{0 10 1} {5 20 2} {8 15 3} {11 NaN 4}]}" {
		t.Errorf("joined they are %s", got)
	}
	if got := terrain.Joined(a, terrain.Profile{}, b); got.Points != nil || terrain.Joined().Points != nil {
		t.Errorf("with one unknown: %v", got)
	}
}
