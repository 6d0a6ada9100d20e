package terrain_test

import (
	"errors"
	"math"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// surface is a tile of posts 10 m apart on UTM 30 whose heights are those of a function of metres east
// and north of its middle.
func surface(t testing.TB, posts int, h func(e, n float64) float64) (*terrain.Tile, geodesy.Grid) {
	middle := geodesy.Grid{E: 500000, N: 6_300_000}
	half := 10 * float64(posts-1) / 2
	tile := &terrain.Tile{
		Name: "made", System: system(t, 32630), NorthWest: geodesy.Grid{E: middle.E - half, N: middle.N + half},
		StepE: 10, StepN: 10, Cols: posts, Rows: posts, UnitM: 1,
	}
	for i := range posts * posts {
		tile.Heights = append(tile.Heights, float32(h(10*float64(i%posts)-half, half-10*float64(i/posts))))
	}
	return tile, middle
}

func move(g geodesy.Grid, e, n float64) geodesy.Grid { return geodesy.Grid{E: g.E + e, N: g.N + n} }

// TestPlane: on a plane the slope is the same everywhere, and a profile is straight.
func TestPlane(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 101, func(e, n float64) float64 { return 300 + 0.3*e - 0.4*n })
	g := ground(t, tile.System, tile)
	for _, at := range []geodesy.Grid{middle, move(middle, 123.4, -217.9), move(middle, -300, 5)} {
		s, ok := g.Slope(at)
		want := math.Atan(0.5) * 180 / math.Pi
		toward := math.Atan2(-0.3, 0.4)*180/math.Pi + 360
		if !ok || math.Abs(s.Steep.Deg()-want) > 1e-4 || math.Abs(s.Downhill.Angle().Deg()-toward) > 1e-3 {
			t.Errorf("slope at %v: got %v, %v, want %.4f° toward %.3f°", at, s, ok, want, toward)
		}
	}
	p := g.Profile(move(middle, -200, 0), move(middle, 200, 0), 7)
	if n := len(p.Points); n != 59 || !p.Whole() {
		t.Fatalf("profile: got %d points, whole %v, want 59 at most 7 m apart", n, p.Whole())
	}
	for _, q := range p.Points {
		along := q.AlongM * 400 / p.LengthM() // the grid's scale is not 1
		if want := 240 + 0.3*along; math.Abs(q.HeightM-want) > 1e-4 {
			t.Fatalf("height %.1f m along: got %.4f, want %.4f", q.AlongM, q.HeightM, want)
		}
	}
	if up, down, ok := p.Climb(); !ok || math.Abs(up-120) > 1e-3 || down != 0 {
		t.Errorf("climb: got %v up, %v down, %v, want 120, 0", up, down, ok)
	}
}

// TestCone: over a cone of 400 m and 1 in 2 the profile passes the top, and the ground falls away
// from it on all sides.
func TestCone(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 101, func(e, n float64) float64 { return 400 - 0.5*math.Hypot(e, n) })
	g := ground(t, tile.System, tile)
	p := g.Profile(move(middle, -300, 0), move(middle, 400, 0), 1)
	if up, down, _ := p.Climb(); math.Abs(up-150) > 0.25 || math.Abs(down-200) > 0.25 { // the top lies within half a metre of a point
		t.Errorf("over the top: got %.3f up, %.3f down, want 150, 200", up, down)
	}
	for _, q := range p.Points {
		along := q.AlongM * 700 / p.LengthM()
		if want := 400 - 0.5*math.Abs(along-300); math.Abs(q.HeightM-want) > 1e-3 {
			t.Fatalf("height %.1f m along: got %.4f, want %.4f", q.AlongM, q.HeightM, want)
		}
	}
	for _, d := range [][2]float64{{200, 0}, {0, 200}, {-150, 150}, {-90, -310}} {
		s, ok := g.Slope(move(middle, d[0], d[1]))
		toward := math.Mod(math.Atan2(d[0], d[1])*180/math.Pi+360, 360)
		if off := math.Remainder(s.Downhill.Angle().Deg()-toward, 360); !ok || math.Abs(off) > 0.3 || math.Abs(s.Steep.Deg()-26.565) > 0.1 {
			t.Errorf("slope at %v: got %v, %v, want 26.565° toward %.1f°", d, s, ok, toward)
		}
	}
	if s, ok := g.Slope(middle); !ok || !s.Level {
		t.Errorf("slope on the top: got %v, %v, want level", s, ok)
	}
}

// TestStretchedGrids: a plane of 1 in 2 toward the east is as steep on a model in degrees and on one whose
// grid draws a metre 1.7 m long.
func TestStretchedGrids(t *testing.T) {
	t.Parallel()
	utm := system(t, 32630)
	middle := geodesy.Grid{E: 430000, N: 6_300_000}
	for _, code := range []int{4326, 3857} {
		s := system(t, code)
		ll, _, err := utm.ToWGS84(middle)
		if err != nil {
			t.Fatal(err)
		}
		own, _, _, err := s.FromWGS84(ll)
		if err != nil {
			t.Fatal(err)
		}
		const posts, step = 41, 20.0
		tile := &terrain.Tile{
			Name: "plane", System: s, NorthWest: move(own, -step*posts/2, step*posts/2), StepE: step, StepN: step,
			Cols: posts, Rows: posts, UnitM: 1,
		}
		for i := range posts * posts {
			ll, _, err := s.ToWGS84(move(tile.NorthWest, step*float64(i%posts), -step*float64(i/posts)))
			if err != nil {
				t.Fatal(err)
			}
			at, _, _, err := utm.FromWGS84(ll)
			if err != nil {
				t.Fatal(err)
			}
			tile.Heights = append(tile.Heights, float32(1000+0.5*(at.E-middle.E)))
		}
		got, ok := ground(t, utm, tile).Slope(middle)
		if !ok || math.Abs(got.Steep.Deg()-26.565) > 0.02 || math.Abs(got.Downhill.Angle().Deg()-270) > 0.02 {
			t.Errorf("slope on EPSG:%d: got %.3f° toward %.3f°, %v, want 26.565° toward 270°", code, got.Steep.Deg(), got.Downhill.Angle().Deg(), ok)
		}
	}
}

// TestTilesJoin: a surface cut into tiles that share their outermost posts, or lie side by side, is the same
// surface, and a hole in one of them is filled by another.
func TestTilesJoin(t *testing.T) {
	t.Parallel()
	whole, middle := surface(t, 61, func(e, n float64) float64 { return 500 + 40*math.Sin(e/30) + 30*math.Cos(n/50) })
	want := ground(t, whole.System, whole)
	for name, overlap := range map[string]int{"shared posts": 1, "side by side": 0} {
		left, right := part(whole, 0, 30), part(whole, 30-overlap, 61)
		g := ground(t, whole.System, left, right)
		for x := -250.0; x < 250; x += 3.7 {
			at := move(middle, x, x/3)
			a, okA := want.Height(at)
			b, okB := g.Height(at)
			s, okS := want.Slope(at)
			q, okQ := g.Slope(at)
			if !okA || !okB || !okS || !okQ || a != b || s != q {
				t.Fatalf("%s, at %v: got %v, %v and %v, %v, want %v and %v", name, at, b, okB, q, okQ, a, s)
			}
		}
	}
	holed := part(whole, 0, 61)
	holed.Heights[30*61+30] = float32(math.NaN())
	if _, ok := ground(t, whole.System, holed).Height(move(middle, 1, 1)); ok {
		t.Error("height beside a void: got one, want none")
	}
	if h, ok := ground(t, whole.System, holed).Height(move(middle, 10, 0)); !ok || math.IsNaN(h) {
		t.Errorf("height at the post beside a void: got %v, %v, want one", h, ok)
	}
	if _, ok := ground(t, whole.System, holed, whole).Height(move(middle, 1, 1)); !ok {
		t.Error("height beside a void that another tile fills: got none")
	}
}

// part is some columns of a tile.
func part(t *terrain.Tile, from, to int) *terrain.Tile {
	out := *t
	out.NorthWest.E += t.StepE * float64(from)
	out.Cols, out.Heights = to-from, nil
	for r := range t.Rows {
		out.Heights = append(out.Heights, t.Heights[r*t.Cols+from:r*t.Cols+to]...)
	}
	return &out
}

// TestClosestPostsAnswer: of two models of the same ground the finer answers where it has ground.
func TestClosestPostsAnswer(t *testing.T) {
	t.Parallel()
	fine, middle := surface(t, 21, func(_, _ float64) float64 { return 1 })
	coarse := *fine
	coarse.StepE, coarse.StepN, coarse.NorthWest = 50, 50, move(middle, -500, 500)
	coarse.Heights = make([]float32, len(fine.Heights))
	for _, tiles := range [][]*terrain.Tile{{fine, &coarse}, {&coarse, fine}} {
		g := ground(t, fine.System, tiles...)
		if h, _ := g.Height(middle); h != 1 {
			t.Errorf("inside both: got %v, want 1 of the finer", h)
		}
		if h, ok := g.Height(move(middle, 300, 0)); !ok || h != 0 {
			t.Errorf("inside the coarser: got %v, %v, want 0", h, ok)
		}
	}
	m, err := terrain.NewModel(fine, &coarse)
	if err != nil || math.Abs(m.SpacingM()-50) > 0.1 {
		t.Errorf("spacing: got %.2f, %v, want 50, the wider", m.SpacingM(), err)
	}
}

// TestNothingKnown: no model, other ground and impossible places are no ground.
func TestNothingKnown(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 21, func(_, _ float64) float64 { return 7 })
	m, err := terrain.NewModel()
	if err != nil || m.SpacingM() != 0 || !m.On(tile.System).IsZero() {
		t.Fatalf("no tiles: got %v, %v", m, err)
	}
	g := ground(t, tile.System, tile)
	for name, at := range map[string]geodesy.Grid{
		"outside": move(middle, 5000, 0), "just outside": move(middle, 100.01, 0), "NaN": {E: math.NaN(), N: 1}, "far": {E: 1e300, N: 1e300},
	} {
		if h, ok := g.Height(at); ok {
			t.Errorf("%s: got height %v, want none", name, h)
		}
		if _, ok := g.Slope(at); ok {
			t.Errorf("%s: got a slope, want none", name)
		}
	}
	if _, ok := m.On(tile.System).Height(middle); ok {
		t.Error("without a model: got a height")
	}
	if h, ok := g.Height(move(middle, 100, 100)); !ok || h != 7 {
		t.Errorf("on the outermost post: got %v, %v, want 7", h, ok)
	}
}

// TestBadTiles: tiles that contradict themselves are refused.
func TestBadTiles(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(*terrain.Tile){
		"no grid":     func(x *terrain.Tile) { x.System = nil },
		"one column":  func(x *terrain.Tile) { x.Cols = 1 },
		"too few":     func(x *terrain.Tile) { x.Heights = x.Heights[1:] },
		"two lists":   func(x *terrain.Tile) { x.Heights, x.Whole = x.Heights[5:], make([]int16, 5) },
		"no step":     func(x *terrain.Tile) { x.StepE = 0 },
		"NaN corner":  func(x *terrain.Tile) { x.NorthWest.N = math.NaN() },
		"no unit":     func(x *terrain.Tile) { x.UnitM = math.NaN() },
		"turned over": func(x *terrain.Tile) { x.StepN = -10 },
	} {
		tile, _ := surface(t, 5, func(_, _ float64) float64 { return 0 })
		spoil(tile)
		_, err := terrain.NewModel(tile)
		if bad := (*terrain.BadTile)(nil); !errors.As(err, &bad) {
			t.Errorf("%s: got %v, want a *BadTile", name, err)
		}
	}
}

// TestWholeHeights: whole numbers give the ground that the same heights give as floats, to the
// bit: heights, slopes, voids and range.
func TestWholeHeights(t *testing.T) {
	t.Parallel()
	floats, middle := surface(t, 61, func(e, n float64) float64 { return math.Round(200*math.Sin(e/90) - 150*math.Cos(n/70)) })
	floats.Heights[30*61+30] = float32(math.NaN())
	whole := *floats
	whole.Heights = nil
	for i := range floats.Posts() {
		whole.Whole = append(whole.Whole, terrain.NoHeight)
		if h := floats.Height(i); h == h {
			whole.Whole[i] = int16(h)
		}
	}
	want, got, voids := ground(t, floats.System, floats), ground(t, floats.System, &whole), 0
	for i := range 2000 {
		at := geodesy.Grid{E: middle.E - 290 + 0.29*float64(i), N: middle.N + 290 - 11.3*float64(i%50)}
		if i%100 == 0 {
			at = middle
		}
		x, known := want.Height(at)
		if y, ok := got.Height(at); y != x || ok != known {
			t.Fatalf("height at %v: got %v, %v, want %v, %v", at, y, ok, x, known)
		}
		steep, level := want.Slope(at)
		if y, ok := got.Slope(at); y != steep || ok != level {
			t.Fatalf("slope at %v: got %v, %v, want %v, %v", at, y, ok, steep, level)
		}
		if !known {
			voids++
		}
	}
	if voids < 20 || voids > 1000 {
		t.Errorf("%d of 2000 places have no height: the void is not tried, or little else is", voids)
	}
	low, high, none := floats.Range()
	if l, h, n := whole.Range(); l != low || h != high || n != none || n != 1 {
		t.Errorf("range: got %v to %v with %d voids, want %v to %v with %d", l, h, n, low, high, none)
	}
}

// TestFeet: heights in feet come out in metres.
func TestFeet(t *testing.T) {
	t.Parallel()
	tile, middle := surface(t, 5, func(_, _ float64) float64 { return 1000 })
	tile.UnitM = 0.3048
	if h, ok := ground(t, tile.System, tile).Height(middle); !ok || math.Abs(h-304.8) > 1e-9 {
		t.Errorf("height: got %v, %v, want 304.8", h, ok)
	}
	if low, high, voids := tile.Range(); math.Abs(low-304.8) > 1e-9 || low != high || voids != 0 {
		t.Errorf("range: got %v to %v with %d voids, want 304.8 alone", low, high, voids)
	}
}
