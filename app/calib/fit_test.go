package calib

import (
	"errors"
	"math"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// Two intersections of a sheet at 2.5 m a pixel, 1.1° askew, worked by hand: the
// fit has to return the truth it was made from.
func TestSimilarityOfTwoPoints(t *testing.T) {
	t.Parallel()
	for _, turn := range []float64{0, 1.1, -1.1, 90, -90, 179.9, 180, -135} {
		m := truth{2.5, turn, geodesy.Grid{E: 212000, N: 734000}}
		c := mustFit(t, m.points(PicturePt{400, 380}, PicturePt{3610, 2920}), Options{})
		near(t, "metres per pixel", c.MetresPerPixel(), 2.5, 1e-9)
		near(t, "rotation", math.Abs(c.Rotation().Deg()), math.Abs(turn), 1e-9)
		if turn != 180 {
			near(t, "rotation", c.Rotation().Deg(), turn, 1e-9)
		}
		p := PicturePt{1234.5, 99.25}
		got, want := c.ToGrid(p), m.grid(p)
		near(t, "easting", got.E, want.E, 1e-7)
		near(t, "northing", got.N, want.N, 1e-7)
		back := c.ToPicture(want)
		near(t, "column", back.Col, p.Col, 1e-6)
		near(t, "row", back.Row, p.Row, 1e-6)
		if c.DOF() != 0 || math.Abs(c.ClickFactor()-1) > 1e-9 || c.BendFactor() != 1 {
			t.Errorf("dof %d, clicks × %g, bend × %g", c.DOF(), c.ClickFactor(), c.BendFactor())
		}
	}
}

// A north-up sheet of 5 m pixels: E = 310300 + 5·col, N = 4907700 − 5·row.
func TestMatrixAndRotationConventions(t *testing.T) {
	t.Parallel()
	m := truth{5, 0, geodesy.Grid{E: 310300, N: 4907700}}
	c := mustFit(t, m.points(PicturePt{140, 140}, PicturePt{1740, 140}, PicturePt{940, 1340}), Options{})
	for i, want := range [6]float64{5, 0, 310300, 0, -5, 4907700} {
		near(t, "matrix", c.Matrix()[i], want, 1e-8)
	}
	// A picture turned so that north points to its right has its up in the west.
	m.turnDeg = 90
	c = mustFit(t, m.points(PicturePt{0, 0}, PicturePt{1000, 0}), Options{})
	east := c.ToGrid(PicturePt{100, 0})
	near(t, "north grows to the right", east.N-4907700, 500, 1e-8)
	near(t, "rotation", c.Rotation().Deg(), 90, 1e-9)
}

func TestReferenceSigmaCountsAndWeighs(t *testing.T) {
	t.Parallel()
	m := truth{2, 0, geodesy.Grid{E: 250000, N: 750000}}
	pts := m.points(PicturePt{0, 0}, PicturePt{1000, 0}, PicturePt{0, 1000}, PicturePt{1000, 1000})
	pts[3].Ref.E += 60
	pts[3].SigmaRefM = 50 // known to be loose: must hardly pull the others
	c := mustFit(t, pts, Options{})
	near(t, "a firm point", c.Residuals()[0].EastM, 0, 0.2)
	near(t, "the loose point", c.Residuals()[3].EastM, 60, 0.4)
	if k := c.ClickFactor(); k > 1 {
		t.Errorf("clicks × %g, want at most 1: the loose point is within its σ", k)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	m := truth{2.5, 0, geodesy.Grid{E: 212000, N: 734000}}
	good := m.points(PicturePt{0, 0}, PicturePt{1000, 0}, PicturePt{0, 1000})
	with := func(i int, f func(*ControlPoint)) []ControlPoint {
		out := append([]ControlPoint(nil), good...)
		f(&out[i])
		return out
	}
	var (
		bad  *BadPoint
		coin *Coincident
		same *SameReference
		coll *Collinear
		unf  *Unfit
	)
	for _, tc := range []struct {
		name   string
		points []ControlPoint
		o      Options
		is     error
		as     any
	}{
		{"none", nil, Options{}, ErrTooFewPoints, nil},
		{"one", good[:1], Options{}, ErrTooFewPoints, nil},
		{"unknown medium", good, Options{Medium: 7}, nil, &unf},
		{"a lens too long", good, Options{Focal: 1000}, nil, &unf},
		{"too many", make([]ControlPoint, MostPoints+1), Options{}, nil, &unf},
		{"NaN column", with(1, func(p *ControlPoint) { p.At.Col = math.NaN() }), Options{}, nil, &bad},
		{"infinite row", with(1, func(p *ControlPoint) { p.At.Row = math.Inf(1) }), Options{}, nil, &bad},
		{"NaN easting", with(2, func(p *ControlPoint) { p.Ref.E = math.NaN() }), Options{}, nil, &bad},
		{"huge northing", with(2, func(p *ControlPoint) { p.Ref.N = 1e300 }), Options{}, nil, &bad},
		{"negative sigma", with(0, func(p *ControlPoint) { p.SigmaPx = -1 }), Options{}, nil, &bad},
		{"NaN sigma", with(0, func(p *ControlPoint) { p.SigmaRefM = math.NaN() }), Options{}, nil, &bad},
		{"coincident", with(2, func(p *ControlPoint) { p.At = PicturePt{1000.5, 0.5} }), Options{}, nil, &coin},
		{"same reference", with(2, func(p *ControlPoint) { p.Ref = good[0].Ref }), Options{}, nil, &same},
		{"collinear", m.points(PicturePt{0, 0}, PicturePt{1000, 1}, PicturePt{2000, 0}, PicturePt{1500, 900}), Options{Medium: Photograph}, nil, &coll},
		{"NaN dpi", good, Options{DPI: math.NaN()}, nil, &unf},
	} {
		c, err := Fit(tc.points, tc.o)
		switch {
		case err == nil || c != nil:
			t.Errorf("%s: got no error", tc.name)
		case tc.is != nil && !errors.Is(err, tc.is):
			t.Errorf("%s: got %v, want %v", tc.name, err, tc.is)
		case tc.as != nil && !errors.As(err, tc.as):
			t.Errorf("%s: got %T %v, want %T", tc.name, err, err, tc.as)
		case err.Error() == "":
			t.Errorf("%s: empty sentence", tc.name)
		}
	}
	_, err := Fit(with(2, func(p *ControlPoint) { p.Ref = good[0].Ref }), Options{})
	if errors.As(err, &same); same.I != 0 || same.J != 2 {
		t.Errorf("same reference: got %+v, want points 0 and 2", same)
	}
}

func TestExtremePlaces(t *testing.T) {
	t.Parallel()
	corner := truth{0.4, -89.9, geodesy.Grid{E: 9.9e6, N: 9.99e6}}
	c := mustFit(t, corner.points(PicturePt{0, 0}, PicturePt{9999, 7999}, PicturePt{9999, 0}), Options{})
	got, want := c.ToGrid(PicturePt{20000, -5000}), corner.grid(PicturePt{20000, -5000})
	near(t, "easting", got.E, want.E, 1e-6)
	near(t, "northing", got.N, want.N, 1e-6)
	near(t, "rms", c.RMSM(), 0, 1e-7)
	if w := codes(c); w != "" {
		t.Errorf("cautions: got %q, want none", w)
	}
}

// The callers' slice must not be shared, nor what is handed out.
func TestImmutable(t *testing.T) {
	t.Parallel()
	m := truth{2.5, 0, geodesy.Grid{E: 212000, N: 734000}}
	pts := m.points(PicturePt{0, 0}, PicturePt{1000, 0})
	c := mustFit(t, pts, Options{})
	pts[0].At.Col = 7
	c.Points()[1].At.Col = 7
	c.Cautions()[0].Code = "changed"
	c.Residuals()[0].Px = 7
	if p := c.Points(); p[0].At.Col != 0 || p[1].At.Col != 1000 || codes(c) != string(caution.NoRedundancy) || c.Residuals()[0].Px > 1 {
		t.Error("a calibration changed from outside")
	}
}

func FuzzFit(f *testing.F) {
	f.Add(0.0, 0.0, 1000.0, 0.0, 0.0, 1000.0, 212000.0, 734000.0, 214000.0, 734000.0, 212000.0, 732000.0, 1, 300.0)
	f.Add(0.0, 0.0, 1000.0, 3.0, 2000.0, 1.0, 2e5, 7e5, 7e5, 2e5, 1e-3, 9e7, 2, 0.0)
	f.Add(-1e7, 1e7, 1e7, -1e7, 0.0, 2.0, 1e8, -1e8, -1e8, 1e8, 0.0, 0.001, 0, 96.0)
	f.Fuzz(func(t *testing.T, c1, r1, c2, r2, c3, r3, e1, n1, e2, n2, e3, n3 float64, medium int, dpi float64) {
		all := []ControlPoint{
			{At: PicturePt{c1, r1}, Ref: geodesy.Grid{E: e1, N: n1}},
			{At: PicturePt{c2, r2}, Ref: geodesy.Grid{E: e2, N: n2}, SigmaRefM: 5},
			{At: PicturePt{c3, r3}, Ref: geodesy.Grid{E: e3, N: n3}, SigmaPx: 2},
			{At: PicturePt{c1 + 500, r3 - 300}, Ref: geodesy.Grid{E: e1 + 700, N: n3}},
		}
		for n := 2; n <= len(all); n++ {
			c, err := Fit(all[:n], Options{Medium: Medium(medium), DPI: dpi, Width: 3000, Height: 2000})
			if err == nil {
				allFinite(t, c)
			}
		}
	})
}

// allFinite fails where a published number is NaN or infinite.
func allFinite(t *testing.T, c *Calibration) {
	t.Helper()
	m, p := c.Matrix(), PicturePt{10, 20}
	g, cov, j := c.ToGrid(p), c.Covariance(p, 0.5), c.Joint(p, PicturePt{30, 5}, 1, 1)
	back := c.ToPicture(g)
	all := append(m[:], c.MetresPerPixel(), c.Rotation().Rad(), c.RMSM(), c.RMSPx(), c.ClickFactor(), g.E, g.N,
		back.Col, back.Row, cov.EE, cov.EN, cov.NN)
	for _, r := range c.Residuals() {
		all = append(all, r.EastM, r.NorthM, r.Px)
	}
	for i := range j {
		all = append(all, j[i][:]...)
	}
	for i, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("number %d of the calibration is %g", i, v)
		}
	}
	if cov.EE < 0 || cov.NN < 0 {
		t.Fatalf("negative variance: %+v", cov)
	}
}

// TestSharedErrorIsNotAveraged: an error that all points have in common stays,
// however many there are, and is refused where it is not a usable number.
func TestSharedErrorIsNotAveraged(t *testing.T) {
	t.Parallel()
	var points []ControlPoint
	for i := range 100 {
		p := PicturePt{100 * float64(i%10), 100 * float64(i/10)}
		points = append(points, ControlPoint{At: p, Ref: geodesy.Grid{E: 5e5 + 2*p.Col, N: 5e6 - 2*p.Row}})
	}
	for _, medium := range []Medium{Scan, Photograph, Drawn} {
		c, err := Fit(points, Options{Medium: medium, SharedM: 6})
		if err != nil {
			t.Fatal(err)
		}
		if cov := c.Covariance(PicturePt{450, 450}, 0); cov.EE < 36 || cov.NN < 36 || cov.EE > 40 {
			t.Errorf("%s: variance %.2f m², want a little over 36", medium, cov.EE)
		}
	}
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := Fit(points, Options{SharedM: bad}); err == nil {
			t.Errorf("a shared error of %g m was taken", bad)
		}
	}
}
