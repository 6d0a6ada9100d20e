package overlay

import (
	"context"
	"math"
	"slices"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/canvas/view"
)

// cornered is a calibration by four points in one corner of a picture of
// 600 × 400 pixels, 5 m each: it gets worse towards the other.
func cornered(t testing.TB) *calib.Calibration {
	t.Helper()
	var points []calib.ControlPoint
	for _, p := range [][2]float64{{60, 80}, {240, 70}, {230, 230}, {70, 220}} {
		points = append(points, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: 5 * p[0], N: 3000 - 5*p[1]}})
	}
	c, err := calib.Fit(points, calib.Options{Width: 600, Height: 400})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func localScene(t testing.TB) Scene {
	t.Helper()
	l, ok := LocalOf(context.Background(), cornered(t), 600, 400)
	if !ok {
		t.Fatal("the error was not worked out")
	}
	return Scene{Local: l}
}

func TestLocalOf(t *testing.T) {
	t.Parallel()
	c := cornered(t)
	l := localScene(t).Local
	for _, at := range []calib.PicturePt{{Col: 150, Row: 150}, {Col: 600, Row: 400}, {Col: 0, Row: 400}, {Col: 333, Row: 222}} {
		want := c.Covariance(at, 0).Radius95()
		if got := l.errorAt(view.PicPt{X: at.Col, Y: at.Row}); math.Abs(got-want) > 0.02*want {
			t.Errorf("at %v: got %.3f m, want %.3f", at, got, want)
		}
	}
	if l.LeastM < 3 || l.LeastM > 8 || l.MostM < 15 || l.MostM > 60 {
		t.Errorf("from %.1f to %.1f m, want from about 4 to some tens", l.LeastM, l.MostM)
	}
	if want := []float64{5, 10, 20}; !slices.Equal(l.Levels[:3], want) {
		t.Errorf("levels: got %v, want %v first", l.Levels, want)
	}
	if len(l.Hull) != 4 {
		t.Errorf("hull: got %v, want four corners", l.Hull)
	}
	for _, k := range l.Contours {
		if len(k.Lines) == 0 {
			t.Errorf("no contour of %v m", k.M)
		}
		for _, line := range k.Lines {
			for _, p := range line {
				if got := l.field.value(p); !(math.Abs(got-k.M) < 0.01*k.M) {
					t.Fatalf("the contour of %v m runs where it is %v m", k.M, got)
				}
			}
		}
	}
	if _, ok := LocalOf(ended(), c, 600, 400); ok {
		t.Error("it was worked out although it was cancelled")
	}
}

func ended() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// A matrix that came with the picture is as uncertain everywhere: there is
// nothing to hatch.
func TestLocalOfGivenIsFlat(t *testing.T) {
	t.Parallel()
	c, err := calib.FromMatrix([6]float64{5, 0, 0, 0, -5, 3000}, 4, 0)
	if err != nil {
		t.Fatal(err)
	}
	l, _ := LocalOf(context.Background(), c, 600, 400)
	if math.Abs(l.MostM-13.01) > 0.02 || l.LeastM != l.MostM || len(l.Levels) != 0 || l.Hull != nil {
		t.Errorf("from %v to %v m, levels %v, hull %v; want 13 m everywhere", l.LeastM, l.MostM, l.Levels, l.Hull)
	}
}

func TestLevelsBetween(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		least, most float64
		want        []float64
	}{
		{4, 30, []float64{5, 10, 20}},
		{3.1, 3.3, nil},
		{3.1, 3.5, []float64{3.2}},
		{2.1, 4.5, []float64{3, 4}},
		{0.9, 1e9, []float64{1, 2, 5, 10, 20, 50}},
		{0, 5, nil},
		{math.Inf(1), 0, nil},
		{1, math.Inf(1), nil},
		{math.NaN(), math.NaN(), nil},
	} {
		got := levelsBetween(c.least, c.most)
		same := slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9*b })
		if !same {
			t.Errorf("between %v and %v: got %v, want %v", c.least, c.most, got, c.want)
		}
	}
}

// A hill's contour is one closed line; of a saddle the middle decides.
func TestContour(t *testing.T) {
	t.Parallel()
	f := newField(470, 470)
	for j := range f.rows {
		for i := range f.cols {
			p := f.knot(i, j)
			f.at[j*f.cols+i] = math.Hypot(p.X-235, p.Y-235)
		}
	}
	lines := f.contour(100)
	if len(lines) != 1 {
		t.Fatalf("got %d lines around a hill, want 1", len(lines))
	}
	if l := lines[0]; l[0] != l[len(l)-1] || len(l) < 60 {
		t.Errorf("the line has %d points and is not closed", len(l))
	}
	for _, p := range lines[0] {
		if d := math.Hypot(p.X-235, p.Y-235); math.Abs(d-100) > 0.3 {
			t.Errorf("got a point %.2f px from the top, want 100", d)
		}
	}
	saddle := field{cols: 2, rows: 2, stepX: 1, stepY: 1, at: []float64{2, 0, 0, 2}}
	for _, m := range []float64{0.9, 1.1} {
		lines := saddle.contour(m)
		joined := len(lines) == 2 && len(lines[0]) == 2
		if !joined {
			t.Fatalf("saddle at %v: got %v, want two lines", m, lines)
		}
		// Below the middle's 1 the two high corners are joined, and the lines cut
		// off the low ones, to the right of and under the middle's diagonal.
		mid := view.PicPt{X: (lines[0][0].X + lines[0][1].X) / 2, Y: (lines[0][0].Y + lines[0][1].Y) / 2}
		if high := math.Abs(mid.X-mid.Y) < 0.2; high != (m > 1) {
			t.Errorf("saddle at %v: a line has its middle at %v", m, mid)
		}
	}
}

// Beyond a photograph's horizon, and wherever else the sheet is not to be
// trusted, it is hatched as the worst however small the figures are there.
func TestUntrustedIsHatchedAsTheWorst(t *testing.T) {
	t.Parallel()
	var points []calib.ControlPoint
	for _, p := range [][2]float64{{100, 300}, {500, 300}, {200, 200}, {400, 200}} {
		w := (p[1] - 100) / 100 // seen slanting: the horizon is row 100
		points = append(points, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: (p[0] - 300) * 5 / w, N: 1000 / w}})
	}
	c, err := calib.Fit(points, calib.Options{Medium: calib.Photograph})
	if err != nil {
		t.Fatal(err)
	}
	l, _ := LocalOf(context.Background(), c, 600, 400)
	if !l.Untrusted() || len(l.Reach) == 0 || len(l.hatch) != mostLevels {
		t.Fatalf("untrusted %v, reach %v, hatched at %v", l.Untrusted(), l.Reach, l.hatch)
	}
	for _, at := range []view.PicPt{{X: 300, Y: 20}, {X: 300, Y: 105}} {
		if got := l.errorAt(at); got != unknownM {
			t.Errorf("at %v: got ± %v m, want none", at, got)
		}
	}
	if got := l.errorAt(view.PicPt{X: 300, Y: 260}); !(got > 1 && got < 100) {
		t.Errorf("amid the points: got ± %v m, want some metres", got)
	}
	if l.MostM > 1000 {
		t.Errorf("within reach: up to ± %v m", l.MostM)
	}
}
