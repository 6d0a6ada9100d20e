package ground

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"legwright/app/geodesy"
)

// far puts a point on a grid as people walk on: hundreds of kilometres from its origin.
func far(e, n float64) geodesy.Grid { return geodesy.Grid{E: 254_000 + e, N: 771_000 + n} }

func grids(en ...float64) (out []geodesy.Grid) {
	for i := 0; i+1 < len(en); i += 2 {
		out = append(out, far(en[i], en[i+1]))
	}
	return out
}

// A crag 200 m by 100 m, worked out by hand.
func TestNearestToACrag(t *testing.T) {
	t.Parallel()
	crag := Area(grids(0, 0, 200, 0, 200, 100, 0, 100))
	for _, c := range []struct {
		what         string
		a, b         geodesy.Grid
		dist, alongM float64
	}{
		{"passes 40 m south", far(-100, -40), far(300, -40), 40, 100},
		{"ends 30-40-50 from a corner", far(-130, -40), far(-30, -40), 50, 100},
		{"passes a corner at 45°", far(200, 160), far(260, 100), 60 / math.Sqrt2, 30 * math.Sqrt2},
		{"enters after 50 m", far(-50, 50), far(100, 50), 0, 50},
		{"goes through", far(-50, 50), far(250, 50), 0, 50},
		{"starts inside", far(20, 20), far(20, 500), 0, 0},
		{"lies inside", far(20, 20), far(80, 80), 0, 0},
		{"touches a corner", far(-50, 50), far(50, 150), 0, 50 * math.Sqrt2},
		{"runs along its side", far(-10, 100), far(210, 100), 0, 10},
		{"has no length", far(-30, 50), far(-30, 50), 30, 0},
	} {
		got := crag.Nearest(c.a, c.b)
		if math.Abs(got.DistM-c.dist) > 1e-6 || math.Abs(got.AlongM-c.alongM) > 1e-6 {
			t.Errorf("a leg that %s: %.6f m after %.6f m, want %.6f m after %.6f m", c.what, got.DistM, got.AlongM, c.dist, c.alongM)
		}
	}
	if d := crag.DistanceM(far(100, 50)); d != 0 {
		t.Errorf("the middle lies %v m from the area", d)
	}
	spans := crag.Meets(far(-50, 50), far(250, 50))
	if len(spans) != 1 || math.Abs(spans[0].FromM-50) > 1e-6 || math.Abs(spans[0].ToM-250) > 1e-6 || math.Abs(spans[0].LengthM()-200) > 1e-6 {
		t.Errorf("it lies inside over %v, want 50 to 250 m", spans)
	}
}

// A stream with a bend is crossed twice; a haven may be a single point.
func TestLinesAndPoints(t *testing.T) {
	t.Parallel()
	stream := Line(grids(0, 0, 100, 100, 200, 0))
	spans := stream.Meets(far(0, 50), far(300, 50))
	if len(spans) != 2 || math.Abs(spans[0].FromM-50) > 1e-6 || math.Abs(spans[1].FromM-150) > 1e-6 || spans[0].LengthM() > 1e-6 {
		t.Errorf("crossed at %v, want at 50 and 150 m", spans)
	}
	if stream.Contains(far(100, 50)) || stream.Contains(far(50, 50)) {
		t.Error("a line has an inside")
	}
	hut := Line(grids(30, 40))
	if d := hut.DistanceM(far(0, 0)); math.Abs(d-50) > 1e-9 {
		t.Errorf("a point lies %v m away, want 50", d)
	}
	if n := hut.Nearest(far(0, 0), far(100, 0)); math.Abs(n.DistM-40) > 1e-9 || math.Abs(n.AlongM-30) > 1e-9 {
		t.Errorf("nearest %+v, want 40 m after 30 m", n)
	}
	if d := (Shape{}).DistanceM(far(0, 0)); !math.IsInf(d, 1) || !math.IsInf(Line(nil).Nearest(far(0, 0), far(1, 1)).DistM, 1) {
		t.Error("nothing is near")
	}
}

func TestTangledOutlines(t *testing.T) {
	t.Parallel()
	for what, c := range map[string]struct {
		outline []geodesy.Grid
		want    bool
	}{
		"a square":             {grids(0, 0, 10, 0, 10, 10, 0, 10), false},
		"a square, clockwise":  {grids(0, 10, 10, 10, 10, 0, 0, 0), false},
		"a bow tie":            {grids(0, 0, 10, 10, 10, 0, 0, 10), true},
		"a spike":              {grids(0, 0, 10, 0, 20, 0, 10, 0, 10, 10), true},
		"corners on one line":  {grids(0, 0, 10, 10, 20, 20), true},
		"a corner on the side": {grids(0, 0, 10, 0, 10, 10, 5, 0, 0, 10), true},
		"two points":           {grids(0, 0, 10, 0), false},
	} {
		if got := Tangled(c.outline); got != c.want {
			t.Errorf("%s: tangled %v, want %v", what, got, c.want)
		}
	}
}

func TestAlongALine(t *testing.T) {
	t.Parallel()
	wall := Line(grids(0, 0, 100, 0, 100, 100))
	if on := wall.Foot(far(130, 40)); on.AlongM != 140 || on.OffM != 30 || on.At != far(100, 40) {
		t.Errorf("foot %+v, want 140 m along, 30 m off", on)
	}
	same := func(got []geodesy.Grid, want ...float64) {
		t.Helper()
		w := grids(want...)
		if len(got) != len(w) {
			t.Fatalf("got %v, want %v", got, w)
		}
		for i := range w {
			if math.Hypot(got[i].E-w[i].E, got[i].N-w[i].N) > 1e-6 {
				t.Errorf("got %v, want %v", got, w)
			}
		}
	}
	same(wall.Between(40, 160), 40, 0, 100, 0, 100, 60)
	same(wall.Between(160, 40), 100, 60, 100, 0, 40, 0)
	same(wall.Between(0, 100), 0, 0, 100, 0)
	same(wall.Between(100, 150), 100, 0, 100, 50)
	same(wall.Between(-5, 1e9), 0, 0, 100, 0, 100, 100)
	if l := wall.LengthM(); l != 200 {
		t.Errorf("%v m long, want 200", l)
	}
}

// drawStar draws an outline that does not cross itself, around a point.
func drawStar(t *rapid.T) []geodesy.Grid {
	n := rapid.IntRange(3, 12).Draw(t, "corners")
	var out []geodesy.Grid
	for i := range n {
		r := rapid.Float64Range(20, 300).Draw(t, "r")
		a := 2 * math.Pi * float64(i) / float64(n)
		out = append(out, far(r*math.Sin(a), r*math.Cos(a)))
	}
	return out
}

func drawPoint(t *rapid.T, name string) geodesy.Grid {
	return far(rapid.Float64Range(-500, 500).Draw(t, name+" e"), rapid.Float64Range(-500, 500).Draw(t, name+" n"))
}

// The distance of a leg agrees with simplefeatures', which measures it in another way,
// and no position on the leg is nearer.
func TestNearestAgainstAnotherLibrary(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		outline := drawStar(t)
		shape := Area(outline)
		if rapid.Bool().Draw(t, "line") {
			shape = Line(outline)
		}
		a, b := drawPoint(t, "a"), drawPoint(t, "b")
		if a == b {
			return // no line to simplefeatures
		}
		got := shape.Nearest(a, b)
		want, _ := geom.Distance(geom.NewLineStringXY(a.E, a.N, b.E, b.N).AsGeometry(), shape.geom)
		if math.Abs(got.DistM-want) > 1e-6 {
			t.Fatalf("distance %v, want %v", got.DistM, want)
		}
		if d := shape.DistanceM(got.At); math.Abs(d-got.DistM) > 1e-6 {
			t.Fatalf("at %v the shape is %v m away, not %v", got.At, d, got.DistM)
		}
		for i := range 201 {
			s := float64(i) / 200
			at := geodesy.Grid{E: a.E + s*(b.E-a.E), N: a.N + s*(b.N-a.N)}
			if d := shape.DistanceM(at); d < got.DistM-1e-6 {
				t.Fatalf("%v of the way the shape is %v m away, nearer than %v", s, d, got.DistM)
			}
		}
	})
}

// What a leg meets of an area is where its positions lie inside.
func TestMeetsIsInside(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		shape := Area(drawStar(t))
		a, b := drawPoint(t, "a"), drawPoint(t, "b")
		length := math.Hypot(b.E-a.E, b.N-a.N)
		if length == 0 {
			return // TestNearestToACrag has legs without length
		}
		spans := shape.Meets(a, b)
		for i := range 201 {
			m := length * float64(i) / 200
			at := geodesy.Grid{E: a.E + m/length*(b.E-a.E), N: a.N + m/length*(b.N-a.N)}
			in := false
			for _, s := range spans {
				in = in || m > s.FromM-1e-6 && m < s.ToM+1e-6
			}
			if shape.Contains(at) && !in {
				t.Fatalf("%v m along it is inside, but in none of %v", m, spans)
			}
			if !shape.Contains(at) && in && shape.DistanceM(at) > 1e-5 {
				t.Fatalf("%v m along it is outside, but in one of %v", m, spans)
			}
		}
	})
}

// The index leaves nothing out that is near.
func TestIndex(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var shapes []Shape
		for range rapid.IntRange(0, 8).Draw(t, "shapes") {
			at, c := drawPoint(t, "at"), drawPoint(t, "c")
			shapes = append(shapes, Line([]geodesy.Grid{at, c}))
		}
		a, b := drawPoint(t, "a"), drawPoint(t, "b")
		distM := rapid.Float64Range(0, 300).Draw(t, "dist")
		near := map[int]bool{}
		index := NewIndex(shapes)
		for _, n := range index.Near(a, b, distM) {
			if near[n.Shape] = true; n.Near != shapes[n.Shape].Nearest(a, b) || !slices.Equal(n.Spans, shapes[n.Shape].Meets(a, b)) {
				t.Fatalf("shape %d is nearest at %+v, met at %v", n.Shape, n.Near, n.Spans)
			}
		}
		beside := index.Beside(a, b, distM)
		if len(beside) != len(near) {
			t.Fatalf("%d shapes are beside, %d near", len(beside), len(near))
		}
		for _, x := range beside {
			want := shapes[x.Shape].Nearest(a, b)
			if math.Abs(x.DistM-want.DistM) > 1e-9 || x.StartM != shapes[x.Shape].DistanceM(a) {
				t.Fatalf("shape %d is %v m beside, %v m from the start, nearest %+v", x.Shape, x.DistM, x.StartM, want)
			}
		}
		for i, s := range shapes {
			if want := s.Nearest(a, b).DistM <= distM; near[i] != want {
				t.Fatalf("shape %d: near %v, want %v", i, near[i], want)
			}
		}
	})
}

func BenchmarkTangled(b *testing.B) {
	var outline []geodesy.Grid
	for i := range 60 {
		a := 2 * math.Pi * float64(i) / 60
		outline = append(outline, far(200*math.Sin(a), 300*math.Cos(a)))
	}
	for b.Loop() {
		Tangled(outline)
	}
}

func BenchmarkNearest(b *testing.B) {
	var outline []geodesy.Grid
	for i := range 60 {
		a := 2 * math.Pi * float64(i) / 60
		outline = append(outline, far(200*math.Sin(a), 300*math.Cos(a)))
	}
	shape := Area(outline)
	for b.Loop() {
		shape.Nearest(far(-400, 10), far(400, 20))
	}
}

// All within a distance of a shape: its outlines never lie nearer, and no more than 0.3 %
// farther off. A horseshoe closes around a hole, where its arms are farther apart than twice
// the distance; the area around a point is that of the circle, worked out by hand.
func TestAround(t *testing.T) {
	shoe := grids(0, 0, 400, 0, 400, 400, 230, 400, 230, 380, 380, 380, 380, 20, 20, 20, 20, 380, 170, 380, 170, 400, 0, 400)
	for name, c := range map[string]struct {
		s     Shape
		rings int
	}{
		"a point": {Line(grids(50, 50)), 1}, "a line": {Line(grids(0, 0, 100, 0, 100, 80)), 1},
		"an area": {Area(grids(0, 0, 200, 0, 200, 100, 0, 100)), 1}, "a horseshoe": {Area(shoe), 2},
	} {
		rings := c.s.Around(50)
		if len(rings) != c.rings {
			t.Fatalf("%s has %d outlines around it, want %d", name, len(rings), c.rings)
		}
		for _, ring := range rings {
			if ring[0] != ring[len(ring)-1] {
				t.Errorf("%s: an outline is open", name)
			}
			for i := 1; i < len(ring); i++ {
				for _, f := range []float64{0, 0.5} { // corners and the middles of chords
					at := geodesy.Grid{E: ring[i].E + f*(ring[i-1].E-ring[i].E), N: ring[i].N + f*(ring[i-1].N-ring[i].N)}
					if d := c.s.DistanceM(at); d < 50-1e-6 || d > 50.15 {
						t.Errorf("%s: an outline runs %g m off, want 50 to 50.15", name, d)
					}
				}
			}
		}
	}
	circle := Area(Line(grids(50, 50)).Around(50)[0])
	if got, want := planar.Area(circle.ring), math.Pi*50*50; math.Abs(math.Abs(got)/want-1) > 0.005 {
		t.Errorf("the area around a point is %g m², want %g", got, want)
	}
	if Line(nil).Around(50) != nil || Line(grids(0, 0, 9, 9)).Around(0) != nil {
		t.Error("nothing, or no distance, has outlines around it")
	}
}
