package calib

import (
	"math"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// pillars are places off all printed lines, in the picture of sheetTruth.
func pillars() []PicturePt {
	return []PicturePt{{411, 433}, {3613, 427}, {3571, 2813}, {443, 2779}, {1969, 1511}, {2777, 907}}
}

// TestSlipsAreNotProved: a feature agrees with a fit that one misread point has
// spoilt as far as its own residuals allow, and must not make it right.
func TestSlipsAreNotProved(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	for name, c := range map[string]struct {
		slip func([]ControlPoint)
		says string
	}{
		"a digit":       {func(p []ControlPoint) { p[4].Ref.E += 1000 }, "correct the control points first"},
		"two exchanged": {func(p []ControlPoint) { p[0].Ref, p[1].Ref = p[1].Ref, p[0].Ref }, "correct the control points first"},
		"none":          {func([]ControlPoint) {}, ""},
	} {
		points := m.points(pillars()...)
		c.slip(points)
		fitted, err := Fit(points, Options{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		at := PicturePt{1234, 2345}
		if f := ExamineFeature(fitted, at, fitted.ToGrid(at), 0, 0.7); f.Agrees != (c.says == "") || !strings.Contains(f.Reason, c.says) {
			t.Errorf("%s: got %+v, want %q", name, f, c.says)
		}
	}
}

// TestMirroredIsNotProved: neither a file's matrix that mirrors, nor a feature
// on the line of the control points of a picture that may be mirrored about it.
func TestMirroredIsNotProved(t *testing.T) {
	t.Parallel()
	c, err := FromMatrix([6]float64{5, 0, 20_000, 0, 5, 740_000}, 5)
	if err != nil {
		t.Fatal(err)
	}
	if f := ExamineFeature(c, PicturePt{333, 444}, geodesy.Grid{E: 21_665, N: 742_220}, 0, 0.7); f.Agrees || !strings.Contains(f.Reason, "mirrors") {
		t.Errorf("a matrix that mirrors: got %+v", f)
	}
	m := sheetTruth()
	c = mustFit(t, m.points(PicturePt{411, 400}, PicturePt{3613, 400}), Options{DPI: 254})
	for row, want := range map[float64]bool{400: false, 401: false, 2000: true} {
		at := PicturePt{1777, row}
		if f := ExamineFeature(c, at, m.grid(at), 0, 0.7); f.Agrees != want || !want && !strings.Contains(f.Reason, "mirrored") {
			t.Errorf("two points on row 400, a feature on row %g: got %+v, want agrees %v", row, f, want)
		}
	}
}

// TestBentFitIsProvedAmongItsPoints: far outside them its own error says little.
func TestBentFitIsProvedAmongItsPoints(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	c := mustFit(t, m.points(pillars()...), Options{Medium: Photograph})
	for at, want := range map[PicturePt]bool{{1800, 1700}: true, {9000, 9000}: false} {
		if f := ExamineFeature(c, at, c.ToGrid(at), 0, 0.7); f.Agrees != want {
			t.Errorf("a feature at %v: got %+v, want agrees %v", at, f, want)
		}
	}
}

// TestFineGridsAreWatched: crossings of lines each 200 m or 100 m, all read wrong
// alike, are not proved by another one, where the picture has room for such
// lines; a feature off them proves, and one point at a round reference does not
// make a grid.
func TestFineGridsAreWatched(t *testing.T) {
	t.Parallel()
	const col0, row0 = 300.0, 300.0
	for _, c := range []struct {
		name   string
		mpp    float64
		refs   [][2]float64 // of control points, metres east and south of a corner of the kilometre grid
		e, s   float64      // of the feature
		sigmaM float64
		want   string // of the reason, "" where it proves
	}{
		{"100 m", 0.5, [][2]float64{{100, 100}, {900, 100}, {100, 700}}, 600, 300, 0, "every 100 m"},
		{"200 m", 0.5, [][2]float64{{200, 200}, {800, 200}, {200, 600}}, 400, 400, 0, "every 200 m"},
		{"200 m, between its lines", 0.5, [][2]float64{{200, 200}, {800, 200}, {200, 600}}, 500, 300, 0, ""},
		{"some on both", 0.5, [][2]float64{{200, 200}, {800, 200}, {100, 700}, {300, 100}}, 300, 300, 0, "every 100 m"},
		{"one of two at a corner of the kilometre grid", 0.5, [][2]float64{{0, 0}, {900, 700}}, 300, 200, 0, "every 100 m"},
		{"a feature off the lines", 0.5, [][2]float64{{100, 100}, {900, 100}, {100, 700}}, 633, 341, 0, ""},
		{"a reference of few figures", 0.5, [][2]float64{{100, 100}, {900, 100}, {100, 700}}, 633, 341, 100 / math.Sqrt(12), "more figures"},
		{"no room for such lines", 5, [][2]float64{{100, 100}, {9900, 100}, {100, 7700}}, 5600, 3300, 0, ""},
		{"one round reference among others", 0.5, [][2]float64{{0, 0}, {1000, 0}, {300, 700}, {613, 511}}, 400, 200, 0, ""},
	} {
		var points []ControlPoint
		place := func(e, s float64) PicturePt { return PicturePt{col0 + e/c.mpp, row0 + s/c.mpp} }
		for _, r := range c.refs {
			points = append(points, ControlPoint{At: place(r[0], r[1]), Ref: geodesy.Grid{E: 20_000 + r[0], N: 740_000 - r[1]}})
		}
		fitted := mustFit(t, points, Options{})
		f := ExamineFeature(fitted, place(c.e, c.s), geodesy.Grid{E: 20_000 + c.e, N: 740_000 - c.s}, c.sigmaM, 0.7)
		if f.Agrees != (c.want == "") || !strings.Contains(f.Reason, c.want) {
			t.Errorf("%s: got %+v, want %q", c.name, f, c.want)
		}
	}
}
