package calib

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"legwright/app/caution"
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
		{"easting and northing of one swapped", ref(112000, 834000), ref(834000, 116000), 254, "axes-swapped unlikely-rotation unlikely-scale no-redundancy"},
		{"digit of a hundred kilometres", ref(112000, 834000), ref(416000, 834000), 0, "unlikely-scale no-redundancy"},
	} {
		c := mustFit(t, []ControlPoint{{At: left, Ref: tc.a}, {At: right, Ref: tc.b}}, Options{DPI: tc.dpi})
		if got := codes(c); got != tc.want {
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
		if got := caution.Has(c.Cautions(), caution.UnlikelyRotation); got != tc.want {
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
	if w := mustFit(t, m.points(PicturePt{500, 500}, PicturePt{560, 500}), Options{}); !caution.Has(w.Cautions(), caution.WeakBase) {
		t.Errorf("60 px apart: got %q, want weak-base", codes(w))
	}
	if w := mustFit(t, m.points(PicturePt{500, 500}, PicturePt{900, 500}), Options{}); caution.Has(w.Cautions(), caution.WeakBase) {
		t.Errorf("400 px apart: got %q, want no weak-base", codes(w))
	}
}

// Points that fit the mirror image alone are called so, in general position, on
// stretched paper and beside a point that stands on its line.
func TestMirroredAndSwapped(t *testing.T) {
	t.Parallel()
	at := []PicturePt{{410, 380}, {3590, 430}, {3200, 2890}, {780, 2410}, {2010, 1390}, {2900, 1800}}
	flip := func(p []ControlPoint) []ControlPoint {
		for i := range p {
			p[i].At.Col = 4000 - p[i].At.Col
		}
		return p
	}
	all := func(p []ControlPoint) []ControlPoint { return swappedAt(p) }
	for _, tc := range []struct {
		name    string
		points  int
		stretch float64
		change  func([]ControlPoint) []ControlPoint
		want    caution.Caution
	}{
		{"mirrored, three", 3, 1, flip, caution.Of(caution.Mirrored)},
		{"mirrored, four", 4, 1, flip, caution.Of(caution.Mirrored)},
		{"mirrored, six on stretched paper", 6, 1.004, flip, caution.Of(caution.Mirrored)},
		{"swapped, three", 3, 1, all, caution.Of(caution.AxesSwapped, "every control point")},
		{"swapped, six on stretched paper", 6, 1.004, all, caution.Of(caution.AxesSwapped, "every control point")},
	} {
		for seed := range uint64(40) {
			points := shaken(sheetTruth().points(at[:tc.points]...), 0.7, rand.New(rand.NewPCG(seed, 9)))
			for i := range points {
				points[i].At.Col *= tc.stretch
			}
			c := mustFit(t, tc.change(points), Options{DPI: 254, Width: 4000, Height: 3200})
			if k := c.Cautions(); len(k) == 0 || k[0] != tc.want || caution.Has(k, caution.PoorFit) {
				t.Errorf("%s, seed %d: got %+v, want %+v first and no poor fit", tc.name, seed, k, tc.want)
			}
		}
	}
}

// Sound points must not be accused, and points that fit badly all over must be
// called so.
func TestPoorFit(t *testing.T) {
	t.Parallel()
	at := []PicturePt{{410, 380}, {3590, 430}, {3200, 2890}, {780, 2410}, {2010, 1390}}
	accused, missed := 0, 0
	const runs = 400
	for seed := range uint64(runs) {
		rng := rand.New(rand.NewPCG(seed, 5))
		n := 3 + int(seed%3)
		if codes(mustFit(t, shaken(sheetTruth().points(at[:n]...), 0.7, rng), Options{})) != "" {
			accused++
		}
		if !caution.Stops(mustFit(t, shaken(sheetTruth().points(at...), 25, rng), Options{}).Cautions(), caution.All) {
			missed++
		}
	}
	if missed > runs/20 { // five points may agree by chance
		t.Errorf("25 px of noise not called a poor fit: %d of %d", missed, runs)
	}
	if accused > 4 { // one in a thousand expected
		t.Errorf("sound points accused: got %d of %d, want at most 4", accused, runs)
	}
}

// TestSlipThatLeavesNoScale: on an exact square of points, swapped or
// mirrored coordinates leave a similarity without any scale. The refusal names
// the slip.
func TestSlipThatLeavesNoScale(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		ref  func(col, row float64) geodesy.Grid
		says string
	}{
		{"axes swapped", func(col, row float64) geodesy.Grid { return geodesy.Grid{E: 735000 - 10*row, N: 211000 + 10*col} }, "swapped at every control point"},
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
// easting typed beyond the other two make such a map, and a caution must say so.
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
		if got := codes(c); strings.Contains(got, string(caution.Mirrored)) != (typedEast > 0) {
			t.Errorf("%.0f m east: got cautions %q", typedEast, got)
		}
	}
}
