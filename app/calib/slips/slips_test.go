package slips

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// A made sheet: 3000 × 2400 pixels of 5 m, north up, whose top-left corner is at
// E 20,300 N 760,400, so that lines each 1,000 m meet inside it.
const wide, high, mpp = 3000, 2400, 5.0

func at(e, n float64) calib.PicturePt {
	return calib.PicturePt{Col: (e - 20300) / mpp, Row: (760400 - n) / mpp}
}

// clicked returns control points at references, clicked with 0.7 pixels.
func clicked(rng *rand.Rand, refs ...geodesy.Grid) []calib.ControlPoint {
	out := make([]calib.ControlPoint, len(refs))
	for i, g := range refs {
		p := at(g.E, g.N)
		out[i] = calib.ControlPoint{At: calib.PicturePt{Col: p.Col + 0.7*rng.NormFloat64(), Row: p.Row + 0.7*rng.NormFloat64()}, Ref: g}
	}
	return out
}

func km(list ...[2]float64) []geodesy.Grid {
	out := make([]geodesy.Grid, len(list))
	for i, p := range list {
		out[i] = geodesy.Grid{E: 1000 * p[0], N: 1000 * p[1]}
	}
	return out
}

func corners() []geodesy.Grid {
	return km([2]float64{21, 760}, [2]float64{35, 760}, [2]float64{35, 749}, [2]float64{21, 749})
}

// weighed fits the points and checks the list against them and evidence.
func weighed(t *testing.T, points []calib.ControlPoint, evidence ...calib.ControlPoint) *Judged {
	t.Helper()
	c, err := calib.Fit(points, calib.Options{Width: wide, Height: high})
	if err != nil {
		t.Fatal(err)
	}
	var trusted []Point
	for i := range 7 {
		for j := range 7 {
			p := calib.PicturePt{Col: wide * (float64(i) + 0.5) / 7, Row: high * (float64(j) + 0.5) / 7}
			trusted = append(trusted, Point{At: p, WidthM: c.HalfWidth95M(p)})
		}
	}
	return Weigh(c.Judge(evidence), List(&Sheet{Points: points, ExtentM: wide * mpp}), trusted)
}

// The tables of reliability give δ² = 17.075 for α = 0.001 and β = 0.20 (Baarda, A
// testing procedure for use in geodetic networks, 1968), as the normal distribution
// does; the same sum gives the bound for one error in 4,000 either way.
func TestVisibleIsBaardasNonCentrality(t *testing.T) {
	t.Parallel()
	n := distuv.UnitNormal
	sum := func(z ...float64) float64 { return (z[0] + z[1]) * (z[0] + z[1]) }
	if got := sum(n.Quantile(1-0.001/2), n.Quantile(1-0.20)); math.Abs(got-17.075) > 0.001 {
		t.Errorf("Baarda's δ² is %.4f, want 17.075", got)
	}
	if rare := n.Survival(math.Sqrt(Visible) / 2); rare > 1.0/3900 || rare < 1.0/4100 {
		t.Errorf("either error is 1 in %.0f, want 4,000", 1/rare)
	}
}

// Baarda's minimal detectable bias of one of n equal observations of one quantity is
// δ·σ·√(n/(n−1)). Four places that evidence may lie at share nothing but the
// calibration, so the judge's own bᵀPb must give the same as the mean of n levels.
func TestMinimalBiasOfAMean(t *testing.T) {
	t.Parallel()
	c, err := calib.FromMatrix([6]float64{mpp, 0, 20300, 0, -mpp, 760400}, 1e5, 0) // its own place is as good as unknown
	if err != nil {
		t.Fatal(err)
	}
	const n = 4
	rows := make([]calib.ControlPoint, n)
	for i := range rows { // at one place, so that paper is common to all
		rows[i] = calib.ControlPoint{At: at(28000, 754000), Ref: geodesy.Grid{E: 28000, N: 754000}}
	}
	_, bb := c.Judge(rows).Gain([]calib.Shift{{I: 0, East: 1}})
	want := (1 - 1.0/n) / math.Pow(calib.DefaultSigmaPx*mpp, 2)
	if math.Abs(bb/want-1) > 1e-3 {
		t.Errorf("bᵀPb of 1 m is %g, want %g", bb, want)
	}
}

func TestStepOf(t *testing.T) {
	t.Parallel()
	grid := func(refs ...geodesy.Grid) []Coords {
		out := make([]Coords, len(refs))
		for i, g := range refs {
			out[i] = OnGrid(calib.ControlPoint{Ref: g})
		}
		return out
	}
	for _, tc := range []struct {
		name   string
		coords []Coords
		extent float64
		want   float64
	}{
		{"corners of kilometre squares", grid(corners()...), 15000, 1000},
		{"half kilometres", grid(geodesy.Grid{E: 20500, N: 749000}, geodesy.Grid{E: 25000, N: 743500}), 15000, 500},
		{"two on every tenth line", grid(km([2]float64{20, 740}, [2]float64{30, 750})...), 15000, 5000},
		{"100 km squares of a small scale", grid(km([2]float64{100, 700}, [2]float64{300, 700}, [2]float64{100, 900})...), 1500000, 100000},
		{"lines each 2 km", grid(km([2]float64{616, 5134}, [2]float64{626, 5124}, [2]float64{628, 5132}, [2]float64{616, 5126})...), 15000, 2000},
		{"a feature among intersections", grid(append(corners(), geodesy.Grid{E: 27400, N: 752300})...), 15000, 1000},
	} {
		if got := StepOf(tc.coords, false, tc.extent); got != tc.want {
			t.Errorf("%s: %g m, want %g", tc.name, got, tc.want)
		}
	}
}

// A row of points one line out was taken without a word: four corners, the top row
// 1,000 m too far north. It is named with what lies on the other side of the line.
func TestRowOneLineOut(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 1))
	for _, layout := range [][]geodesy.Grid{
		corners(),
		km([2]float64{21, 760}, [2]float64{28, 760}, [2]float64{35, 760}, [2]float64{21, 749}, [2]float64{28, 749}, [2]float64{35, 749}),
		km([2]float64{21, 760}, [2]float64{24, 760}, [2]float64{28, 760}, [2]float64{31, 760}, [2]float64{35, 760},
			[2]float64{21, 749}, [2]float64{24, 749}, [2]float64{28, 749}, [2]float64{31, 749}, [2]float64{35, 749}),
	} {
		for range 20 {
			points := clicked(rng, layout...)
			for i := range points {
				if points[i].Ref.N == 760000 {
					points[i].Ref.N += 1000
				}
			}
			set := weighed(t, points).Name()
			var words []string
			for _, s := range set {
				words = append(words, s.Words)
			}
			text := strings.Join(words, "; ")
			if !strings.Contains(text, "the top row") || !strings.Contains(text, "1,000 m too far north") || !strings.Contains(text, "the bottom row") || !strings.Contains(text, "1,000 m too far south") {
				t.Fatalf("%d points: %q", len(points), text)
			}
		}
	}
}

// One point a square out, or with a digit wrong, is named alone among five spread
// points, and no sound one is named.
func TestOnePointIsNamed(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 2))
	layout := append(corners(), geodesy.Grid{E: 27000, N: 755000})
	for i := range layout {
		for _, size := range []float64{1000, -1000, 10000, 2000} {
			points := clicked(rng, layout...)
			if set := weighed(t, points).Name(); len(set) > 0 {
				t.Fatalf("sound points: %q", set[0].Words)
			}
			points[i].Ref.E += size
			set := weighed(t, points).Name()
			if len(set) != 1 || !slices.Equal(set[0].Points, []int{i}) || set[0].Size != size {
				t.Errorf("point %d out by %g m: %v", i+1, size, set)
			}
		}
	}
}

// Coordinates swapped at one point, references swapped between two and a digit worth
// hundreds of kilometres are named alone among five points in general position.
func TestSwapsAndGreatDigitsAreNamed(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 4))
	layout := append(corners(), geodesy.Grid{E: 27000, N: 755000})
	for name, tc := range map[string]struct {
		change func(p []calib.ControlPoint)
		points []int
		words  string
	}{
		"one swapped":      {func(p []calib.ControlPoint) { p[2].Ref = geodesy.Grid{E: p[2].Ref.N, N: p[2].Ref.E} }, []int{2}, "easting and northing look swapped"},
		"two swapped":      {func(p []calib.ControlPoint) { p[1].Ref, p[4].Ref = p[4].Ref, p[1].Ref }, []int{1, 4}, "their references look swapped"},
		"300 km too great": {func(p []calib.ControlPoint) { p[3].Ref.E += 300_000 }, []int{3}, "the easting looks 300,000 m too great"},
		"ten squares down": {func(p []calib.ControlPoint) { p[0].Ref.N -= 10_000 }, []int{0}, "the northing looks 10,000 m too small"},
	} {
		for range 20 {
			points := clicked(rng, layout...)
			tc.change(points)
			set := weighed(t, points).Name()
			if len(set) != 1 || !set[0].Certain() || !slices.Equal(set[0].Points, tc.points) || !strings.Contains(set[0].Words, tc.words) {
				t.Fatalf("%s: %+v, want %q of points %v", name, set, tc.words, tc.points)
			}
		}
	}
}

// Two points leave everything open; four spread ones all but what is common to all;
// and one exact reference from elsewhere closes that.
func TestWhatIsOpen(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 3))
	kinds := func(open []Slip) map[Kind]int {
		out := map[Kind]int{}
		for _, s := range open {
			out[s.Kind]++
		}
		return out
	}
	if k := kinds(weighed(t, clicked(rng, corners()[0], corners()[2])).Open(nil)); k[OfPoint] == 0 || k[OfAll] == 0 {
		t.Errorf("two points: %v", k)
	}
	four := clicked(rng, corners()...)
	if k := kinds(weighed(t, four).Open(nil)); k[OfPoint]+k[OfLine] > 0 || k[OfAll] == 0 {
		t.Errorf("four points: %v", k)
	}
	pillar := calib.ControlPoint{At: at(29340, 751270), Ref: geodesy.Grid{E: 29340, N: 751270}, SigmaRefM: 100 / math.Sqrt(12)}
	if open := weighed(t, four, pillar).Open(nil); len(open) > 0 {
		t.Errorf("with a pillar of six figures: %d open, first %q", len(open), open[0].Words)
	}
	loose := pillar
	loose.SigmaRefM = 1000 / math.Sqrt(12)
	if k := kinds(weighed(t, four, loose).Open(nil)); k[OfAll] == 0 {
		t.Error("a pillar of four figures closes a square")
	}
}

// Beside points of a file, the lines of typed points slip as they do by themselves.
func TestLinesBesideAFilesPoints(t *testing.T) {
	t.Parallel()
	s := &Sheet{ExtentM: 15000}
	for i, g := range [][2]float64{{21000, 60000}, {35000, 60000}, {35000, 49000}, {21000, 49000}} {
		p := calib.ControlPoint{At: calib.PicturePt{Col: g[0] / 5, Row: -g[1] / 5}, Ref: geodesy.Grid{E: g[0], N: g[1]}}
		if i > 1 {
			p.Source = calib.FilePoint
		}
		s.Points = append(s.Points, p)
	}
	var got [][]int
	for _, f := range List(s) {
		if f.Kind == OfLine {
			got = append(got, f.Points)
		}
	}
	want := [][]int{{0, 1}, {0, 1}} // the row's northing, and the easting of all that was typed
	if !reflect.DeepEqual(got, want) {
		t.Errorf("lines %v, want %v", got, want)
	}
}
