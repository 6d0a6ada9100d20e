package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
)

// hills is ground that repeats nowhere on a sheet: waves of lengths from 0.9 to 7 km that
// have no common measure, some 300 m from the lowest to the highest.
func hills(g geodesy.Grid) float64 {
	h := 300.0
	for i, w := range []float64{900, 1270, 1790, 2530, 3570, 5050, 7140} {
		sin, cos := math.Sincos(2.4 * float64(i))
		h += math.Pow(w/7140, 0.7) * 90 * math.Sin(2*math.Pi*((g.E*cos+g.N*sin)/w)+float64(i))
	}
	return h
}

func level(geodesy.Grid) float64 { return 100 }

// ridges repeat every kilometre in both directions.
func ridges(g geodesy.Grid) float64 {
	return 200 + 50*math.Sin(2*math.Pi*g.E/1000) + 50*math.Sin(2*math.Pi*g.N/1000)
}

// contoured is a sheet with a slip, or none, and heights read off its contours, which are
// those of the ground.
type contoured struct {
	m       made
	ground  func(geodesy.Grid) float64
	terrain func(geodesy.Grid) float64 // what the files say; nil: the ground
	heights int
	slip    func(i int, ref *geodesy.Grid) // of control point i
	refs    []geodesy.Grid
}

// contour finds where a contour of 10 m crosses a line to the east.
func (x contoured) contour(g geodesy.Grid) (geodesy.Grid, float64) {
	const step = 2
	for range 2000 {
		a, b := x.ground(g), x.ground(geodesy.Grid{E: g.E + step, N: g.N})
		if m := 10 * math.Ceil(min(a, b)/10); m < max(a, b) {
			return geodesy.Grid{E: g.E + step*(m-a)/(b-a), N: g.N}, m
		}
		g.E += step
	}
	return g, x.ground(g)
}

func (x contoured) judged(t *testing.T, seed uint64) (Verdict, Sheet) {
	t.Helper()
	rng := rand.New(rand.NewPCG(61, seed))
	points := x.m.points(rng, x.refs...)
	for i := range points {
		if x.slip != nil {
			x.slip(i, &points[i].Ref)
		}
	}
	var evidence []Evidence
	for i := range x.heights { // spread over the sheet
		g := geodesy.Grid{E: 21500 + 3000*float64(i%4) + 1500*rng.Float64(), N: 750000 + 2800*float64(i/4%4) + 1400*rng.Float64()}
		at, m := x.contour(g)
		evidence = append(evidence, Evidence{
			Evidence: calib.Evidence{Source: calib.FromTerrain, At: x.m.click(rng, at), SigmaPx: x.m.sigma, Text: fmt.Sprintf("%.0f m", m)}, HeightM: m,
		})
	}
	s := x.m.sheet(t, "a", points, evidence...)
	s.PostM, s.ContourM = 30, 10
	known := x.terrain
	if known == nil {
		known = x.ground
	}
	s.Ground = func(g geodesy.Grid) (float64, bool) { // the sheet's ground and 5 km round it
		inside := g.E > 20300-5000 && g.E < 35300+5000 && g.N > 748400-5000 && g.N < 760400+5000
		return known(g), inside
	}
	return verdict(s), s
}

func hilly() contoured { return contoured{m: usual(), ground: hills, heights: 12, refs: corners()} }

// Heights of spread contours check a sound sheet, and to about as many metres as contours
// on slopes can tell.
func TestHeightsCheckASoundSheet(t *testing.T) {
	t.Parallel()
	for seed := range uint64(6) {
		v, _ := hilly().judged(t, seed)
		if !v.Checked || v.Scope != OnGrid || !(v.WithinM >= 20 && v.WithinM <= 300) {
			t.Errorf("seed %d: checked %v to %.0f m, open %+v, cautions %v", seed, v.Checked, v.WithinM, v.Open, v.Cautions)
		}
		for i, r := range v.Evidence {
			if !r.Agrees() {
				t.Errorf("seed %d: height %d: %+v", seed, i+1, r)
			}
		}
	}
}

// A sheet with a usual slip is never checked by heights that are those of the ground, whichever
// slip it is: they are read at the places to which the slip moves them.
func TestHeightsShowEachSlip(t *testing.T) {
	t.Parallel()
	all := func(e, n float64) func(int, *geodesy.Grid) {
		return func(_ int, g *geodesy.Grid) { g.E, g.N = g.E+e, g.N+n }
	}
	for name, slip := range map[string]func(int, *geodesy.Grid){
		"all one square east":        all(1000, 0),
		"all one square south":       all(0, -1000),
		"all ten squares north":      all(0, 10_000),
		"all 100 km east":            all(100_000, 0),
		"the northern line":          func(_ int, g *geodesy.Grid) { g.N += map[bool]float64{true: 1000}[g.N > 755_000] },
		"the eastern line":           func(_ int, g *geodesy.Grid) { g.E -= map[bool]float64{true: 1000}[g.E > 30_000] },
		"one point's easting":        func(i int, g *geodesy.Grid) { g.E += map[bool]float64{true: 1000}[i == 2] },
		"one point's digits swapped": func(i int, g *geodesy.Grid) { g.N += map[bool]float64{true: 9000}[i == 1] },
	} {
		for seed := range uint64(4) {
			x := hilly()
			x.slip = slip
			if v, _ := x.judged(t, seed); v.Checked {
				t.Errorf("%s, seed %d: checked by %s to %.0f m", name, seed, v.By, v.WithinM)
			}
		}
	}
	x := hilly()
	x.slip = all(1000, 0)
	if v, _ := x.judged(t, 1); !has(v, caution.HeightsDisagree) {
		t.Errorf("a square out: %v", v.Cautions)
	}
}

// What would agree whatever slip was made checks nothing: level ground, ground that repeats
// every square, five heights, heights close together, no terrain, and heights in feet.
func TestHeightsThatShowNothing(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*contoured){
		"level ground":              func(x *contoured) { x.ground = level },
		"ground that repeats":       func(x *contoured) { x.ground = ridges },
		"five heights":              func(x *contoured) { x.heights = 5 },
		"two control points":        func(x *contoured) { x.refs = corners()[:2]; x.heights = 6; x.ground = level },
		"the terrain is in feet":    func(x *contoured) { x.terrain = func(g geodesy.Grid) float64 { return hills(g) * 3.28 } },
		"the terrain is of a plain": func(x *contoured) { x.terrain = level },
	} {
		x := hilly()
		change(&x)
		if v, _ := x.judged(t, 3); v.Checked {
			t.Errorf("%s: checked to %.0f m", name, v.WithinM)
		}
	}
	_, s := hilly().judged(t, 3)
	s.Ground = nil
	if v := verdict(s); v.Checked {
		t.Error("without terrain the sheet is checked")
	}
	_, s = hilly().judged(t, 3)
	first := s.Evidence[0]
	for i := range s.Evidence {
		s.Evidence[i] = first
	}
	if v := verdict(s); v.Checked {
		t.Error("one contour clicked twelve times checks the sheet")
	}
}

// Fewer heights never check what more did not, and the order does not matter.
func TestHeightsInAnyOrder(t *testing.T) {
	t.Parallel()
	v, s := hilly().judged(t, 2)
	slices.Reverse(s.Evidence)
	if again := verdict(s); again.Checked != v.Checked || math.Abs(again.WithinM-v.WithinM) > 1e-6 {
		t.Errorf("in reverse: %v to %v m, want %v to %v m", again.Checked, again.WithinM, v.Checked, v.WithinM)
	}
	s.Evidence = s.Evidence[:leastHeights-1]
	if less := verdict(s); less.Checked || less.Evidence[0].Counts {
		t.Errorf("%d heights check the sheet", leastHeights-1)
	}
}

// TestScanEndsEarlyAlike: what the scan finds is what all its places say together: on ground that
// repeats nowhere, on ground that repeats, on level ground, and where terrain ends near the sheet.
func TestScanEndsEarlyAlike(t *testing.T) {
	t.Parallel()
	narrow := func(within float64) func(geodesy.Grid) float64 {
		return func(g geodesy.Grid) float64 {
			if math.Abs(g.E-27_800) > within || math.Abs(g.N-754_400) > within {
				return math.NaN()
			}
			return hills(g)
		}
	}
	seen := map[bool]int{}
	for name, ground := range map[string]func(geodesy.Grid) float64{
		"hills": hills, "ridges": ridges, "level": level, "narrow": narrow(9_000), "narrower": narrow(7_000),
	} {
		x := hilly()
		x.ground = hills
		if name == "ridges" || name == "level" {
			x.ground = ground
		}
		_, s := x.judged(t, 3)
		s.Ground = func(g geodesy.Grid) (float64, bool) { m := ground(g); return m, m == m }
		h := heightsOf(&s)
		tried, far := 0, 0.0
		for _, to := range shifts() {
			sum, known := h.misfit(func(calib.PicturePt) (float64, float64) { return to.eastM, to.northM }, h.most(rare))
			if known {
				tried++
			}
			if known && sum <= h.most(rare) {
				far = math.Max(far, to.outM)
			}
		}
		chance := tried >= leastTried && far <= fineReachM
		if !h.agrees() || h.chance != chance || h.withinM != far {
			t.Errorf("%s: agrees %v, got %v to %v m, want %v to %v m of %d places", name, h.agrees(), h.chance, h.withinM, chance, far, tried)
		}
		seen[chance]++
	}
	if seen[true] == 0 || seen[false] < 2 {
		t.Errorf("kinds of ground tried: %v", seen)
	}
}
