package calib

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// sheetTruth is a 1:25 000 sheet scanned at 254 dpi, a degree askew.
func sheetTruth() truth { return truth{2.5, 1.1, geodesy.Grid{E: 112000, N: 834000}} }

func TestPairsThatAreUnlikely(t *testing.T) {
	t.Parallel()
	ref := func(e, n float64) geodesy.Grid { return geodesy.Grid{E: e, N: n} }
	left, right := PicturePt{400, 1500}, PicturePt{2000, 1500} // 4 km apart at 2.5 m a pixel
	for _, tc := range []struct {
		name string
		a, b geodesy.Grid
		dpi  float64
		want string
	}{
		{"sound", ref(112000, 834000), ref(116000, 834000), 254, "no-redundancy"},
		{"sound, dpi unknown", ref(112000, 834000), ref(116000, 834000), 0, "no-redundancy"},
		{"scan on its side", ref(112000, 834000), ref(112000, 838000), 254, "no-redundancy"},
		{"3% paper stretch", ref(112000, 834000), ref(116120, 834000), 254, "no-redundancy"},
		{"one square out", ref(112000, 834000), ref(117000, 834000), 254, "unlikely-scale no-redundancy"},
		{"one square out across", ref(112000, 834000), ref(116000, 836000), 0, "unlikely-rotation no-redundancy"},
		{"easting and northing of one exchanged", ref(112000, 834000), ref(834000, 116000), 254, "swapped-point unlikely-rotation unlikely-scale no-redundancy"},
		{"digit of a hundred kilometres", ref(112000, 834000), ref(416000, 834000), 0, "unlikely-scale no-redundancy"},
	} {
		c := mustFit(t, []ControlPoint{{At: left, Ref: tc.a}, {At: right, Ref: tc.b}}, Options{DPI: tc.dpi})
		if got := codes(c.Warnings()); got != tc.want {
			t.Errorf("%s: got %q, want %q", tc.name, got, tc.want)
		}
	}
}

func TestRotationLimit(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		turn float64
		want bool
	}{{14.9, false}, {15.1, true}, {-14.9, false}, {-15.1, true}, {75.1, false}, {74.9, true}, {179, false}, {45, true}} {
		m := sheetTruth()
		m.turnDeg = tc.turn
		c := mustFit(t, m.points(PicturePt{0, 0}, PicturePt{3000, 1000}), Options{})
		if got := text(c.Warnings(), CodeUnlikelyRotation) != ""; got != tc.want {
			t.Errorf("turned %g°: got %v, want %v", tc.turn, got, tc.want)
		}
	}
}

func TestUsualScales(t *testing.T) {
	t.Parallel()
	for _, scale := range usualScales() {
		for _, tc := range []struct {
			factor float64
			want   bool
		}{{1, false}, {1.039, false}, {0.962, false}, {1.045, true}, {0.955, true}} {
			mpp := scale * tc.factor * 0.0254 / 300
			if got := unlikelyScale(mpp, 300) != ""; got != tc.want {
				t.Errorf("1:%g times %g: got unlikely %v, want %v", scale, tc.factor, got, tc.want)
			}
		}
	}
}

func TestWeakBase(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	if w := mustFit(t, m.points(PicturePt{500, 500}, PicturePt{560, 500}), Options{}).Warnings(); text(w, CodeWeakBase) == "" {
		t.Errorf("60 px apart: got %q, want weak-base", codes(w))
	}
	if w := mustFit(t, m.points(PicturePt{500, 500}, PicturePt{900, 500}), Options{}).Warnings(); text(w, CodeWeakBase) != "" {
		t.Errorf("400 px apart: got %q, want no weak-base", codes(w))
	}
}

// slipCase changes sound points by one slip, which must be named.
type slipCase struct {
	name   string
	points int
	change func([]ControlPoint)
	code   string
	words  string
}

func slipCases() []slipCase {
	swapAll := func(p []ControlPoint) {
		for i := range p {
			p[i].Ref = swapped(p[i].Ref)
		}
	}
	flip := func(p []ControlPoint) {
		for i := range p {
			p[i].At.Col = 4000 - p[i].At.Col
		}
	}
	return []slipCase{
		{"easting 1 km too great", 4, func(p []ControlPoint) { p[1].Ref.E += 1000 }, CodeDigitOut, "control point 2: easting looks 1 000 m too great"},
		{"northing 3 km too small", 5, func(p []ControlPoint) { p[0].Ref.N -= 3000 }, CodeDigitOut, "control point 1: northing looks 3 000 m too small"},
		{"easting 100 km too great", 4, func(p []ControlPoint) { p[3].Ref.E += 100000 }, CodeDigitOut, "control point 4: easting looks 100 000 m too great"},
		{"easting 70 m too small", 6, func(p []ControlPoint) { p[4].Ref.E -= 70 }, CodeDigitOut, "control point 5: easting looks 70 m too small"},
		{"northing a power of ten", 4, func(p []ControlPoint) { p[2].Ref.N += 9e6 }, CodeDigitOut, "control point 3: northing looks 9 000 000 m too great"},
		{"one point exchanged", 4, func(p []ControlPoint) { p[2].Ref = swapped(p[2].Ref) }, CodeSwappedPoint, "control point 3: easting and northing look exchanged"},
		{"one of three exchanged", 3, func(p []ControlPoint) { p[0].Ref = swapped(p[0].Ref) }, CodeSwappedPoint, "control point 1: easting and northing look exchanged"},
		{"all exchanged", 4, swapAll, CodeSwappedAll, "at every control point"},
		{"all of three exchanged", 3, swapAll, CodeSwappedAll, "at every control point"},
		{"mirrored", 4, flip, CodeMirrored, "mirrored"},
		{"mirrored, three", 3, flip, CodeMirrored, "mirrored"},
		{"two references exchanged", 5, func(p []ControlPoint) { p[1].Ref, p[3].Ref = p[3].Ref, p[1].Ref }, CodeExchanged, "control points 2 and 4"},
		{"out of place", 6, func(p []ControlPoint) { p[2].At.Col += 333; p[2].At.Row -= 77 }, CodeOutlier, "control point 3 does not fit"},
	}
}

// Points in general position, each shaken as clicks are: one slip each, one
// explanation each.
func TestSlipsAreNamed(t *testing.T) {
	t.Parallel()
	at := []PicturePt{{410, 380}, {3590, 430}, {3200, 2890}, {780, 2410}, {2010, 1390}, {2900, 1800}}
	for _, tc := range slipCases() {
		named := 0
		const runs = 40
		var last *Calibration
		for seed := range uint64(runs) {
			pts := shaken(sheetTruth().points(at[:tc.points]...), 0.7, rand.New(rand.NewPCG(seed, 9)))
			tc.change(pts)
			last = mustFit(t, pts, Options{DPI: 254})
			w := last.Warnings()
			if len(w) == 1 && w[0].Code == tc.code && strings.Contains(w[0].Text, tc.words) {
				named++
			}
		}
		if named < runs-2 {
			t.Errorf("%s: named alone in %d of %d runs; last %+v", tc.name, named, runs, last.Warnings())
		}
	}
}

// Three crossings in a right angle with equal legs leave two readings of one
// slip; both must be named.
func TestAmbiguousSlipNamesAll(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	pts := m.points(PicturePt{400, 2400}, PicturePt{2000, 2400}, PicturePt{400, 800})
	for i := range pts { // true grid crossings, upright
		pts[i].Ref = []geodesy.Grid{{E: 112000, N: 834000}, {E: 116000, N: 834000}, {E: 112000, N: 838000}}[i]
	}
	pts[1].Ref.E += 1000
	all := ""
	for _, w := range mustFit(t, pts, Options{}).Warnings() {
		all += w.Text + "\n"
	}
	for _, want := range []string{
		"control point 2: easting looks 1 000 m too great",
		"control point 3: northing looks 1 000 m too small",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("got %q, want %q among them", all, want)
		}
	}
	// The dpi settles it: only one of them leaves a usual scale.
	w := mustFit(t, pts, Options{DPI: 254}).Warnings()
	if got := text(w, CodeDigitOut); got != "control point 2: easting looks 1 000 m too great" {
		t.Errorf("with dpi: got %q", got)
	}
}

// Sound points must not be accused, and points that fit badly all over (a
// photograph from the side) must be called so without naming a culprit.
func TestNoFalseAccusation(t *testing.T) {
	t.Parallel()
	at := []PicturePt{{410, 380}, {3590, 430}, {3200, 2890}, {780, 2410}, {2010, 1390}}
	accused, named, missed := 0, 0, 0
	const runs = 400
	for seed := range uint64(runs) {
		rng := rand.New(rand.NewPCG(seed, 5))
		n := 3 + int(seed%3)
		if len(mustFit(t, shaken(sheetTruth().points(at[:n]...), 0.7, rng), Options{}).Warnings()) > 0 {
			accused++
		}
		w := mustFit(t, shaken(sheetTruth().points(at...), 25, rng), Options{}).Warnings()
		if len(w) == 0 {
			missed++
		}
		if len(w) > 1 {
			named++
		}
	}
	if missed > runs/20 { // five points may agree by chance
		t.Errorf("25 px of noise not called a poor fit: %d of %d", missed, runs)
	}
	if accused > 4 { // one in a thousand expected
		t.Errorf("sound points accused: got %d of %d, want at most 4", accused, runs)
	}
	if named > runs/20 {
		t.Errorf("culprit named among noisy points: got %d of %d, want at most %d", named, runs, runs/20)
	}
}

// TestSlipThatLeavesNoScale: on an exact square of points, exchanged or
// mirrored coordinates leave a similarity without any scale. The refusal names
// the slip.
func TestSlipThatLeavesNoScale(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		ref  func(col, row float64) geodesy.Grid
		says string
	}{
		{"exchanged", func(col, row float64) geodesy.Grid { return geodesy.Grid{E: 735000 - 10*row, N: 211000 + 10*col} }, "exchanged at every control point"},
		{"mirrored", func(col, row float64) geodesy.Grid { return geodesy.Grid{E: 211000 - 10*col, N: 735000 - 10*row} }, "looks mirrored"},
	} {
		var points []ControlPoint
		for _, at := range []PicturePt{{100, 100}, {600, 100}, {100, 600}, {600, 600}} {
			points = append(points, ControlPoint{At: at, Ref: c.ref(at.Col, at.Row)})
		}
		_, err := Fit(points, Options{})
		var unfit *Unfit
		if !errors.As(err, &unfit) || !errors.Is(err, ErrSingular) || !strings.Contains(unfit.Reason, c.says) {
			t.Errorf("%s: got %v, want a refusal that says %q", c.name, err, c.says)
		}
	}
}

// Four points of a photograph fit a mirrored map as well as their own. Two of one
// easting typed beyond the other two make such a map, and it must be said.
func TestMirroredPhotograph(t *testing.T) {
	t.Parallel()
	at := []PicturePt{{578.66, 599.11}, {1742.55, 44.17}, {407.45, 2199.67}, {1727.96, 255.9}}
	ref := []geodesy.Grid{{E: 205000, N: 585000}, {E: 230000, N: 600000}, {E: 205000, N: 550000}, {E: 230000, N: 595000}}
	for _, typedEast := range []float64{0, 50000} {
		points := make([]ControlPoint, len(at))
		for i := range at {
			points[i] = ControlPoint{At: at[i], Ref: ref[i]}
			if i%2 == 0 {
				points[i].Ref.E += typedEast
			}
		}
		c := mustFit(t, points, Options{Medium: Photograph, Width: 3000, Height: 2400})
		if got := codes(c.Warnings()); strings.Contains(got, CodeMirrored) != (typedEast > 0) {
			t.Errorf("%.0f m east: got warnings %q", typedEast, got)
		}
	}
}
