package calib

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"legwright/app/geodesy"
)

// Two crossings of a sheet at 2.5 m a pixel, 1.1° askew, worked by hand: the
// fit has to return the truth it was made from.
func TestSimilarityOfTwoPoints(t *testing.T) {
	t.Parallel()
	for _, turn := range []float64{0, 1.1, -1.1, 90, -90, 179.9, 180, -135} {
		m := truth{2.5, turn, geodesy.Grid{E: 212000, N: 734000}}
		c := mustFit(t, m.points(PicturePt{400, 380}, PicturePt{3610, 2920}), Options{})
		near(t, "metres per pixel", c.MetresPerPixel(), 2.5, 1e-12)
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
		if c.Kind() != Similarity || c.DOF() != 0 || c.S0() != 0 || c.VarianceFactor() != 1 {
			t.Errorf("kind %v, dof %d, s0 %g, factor %g", c.Kind(), c.DOF(), c.S0(), c.VarianceFactor())
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

// gonum's QR of the uncentred, unscaled design matrix is an independent way to
// the same least squares solution.
func TestAgainstGonumQR(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{3, 4, 7, 40} {
		for _, kind := range []Kind{Similarity, Affine} {
			pts := randomPoints(rng, n)
			c := mustFit(t, pts, Options{Kind: kind})
			want := qrFit(pts, kind)
			for _, p := range []PicturePt{{0, 0}, {5000, 0}, {2500, 4000}} {
				got := c.ToGrid(p)
				near(t, "easting", got.E, want[0]*p.Col+want[1]*p.Row+want[2], 2e-5)
				near(t, "northing", got.N, want[3]*p.Col+want[4]*p.Row+want[5], 2e-5)
			}
		}
	}
}

func randomPoints(rng *rand.Rand, n int) []ControlPoint {
	m := truth{2.5, 4, geodesy.Grid{E: 612345, N: 5123456}}
	at := make([]PicturePt, n)
	for i := range at {
		at[i] = PicturePt{rng.Float64() * 5000, rng.Float64() * 4000}
	}
	return shaken(m.points(at...), 2, rng)
}

func qrFit(pts []ControlPoint, kind Kind) [6]float64 {
	k := 6
	if kind == Similarity {
		k = 4
	}
	a, b := mat.NewDense(2*len(pts), k, nil), mat.NewVecDense(2*len(pts), nil)
	for i, p := range pts {
		if kind == Similarity {
			a.SetRow(2*i, []float64{p.At.Col, p.At.Row, 1, 0})
			a.SetRow(2*i+1, []float64{-p.At.Row, p.At.Col, 0, 1})
		} else {
			a.SetRow(2*i, []float64{p.At.Col, p.At.Row, 1, 0, 0, 0})
			a.SetRow(2*i+1, []float64{0, 0, 0, p.At.Col, p.At.Row, 1})
		}
		b.SetVec(2*i, p.Ref.E)
		b.SetVec(2*i+1, p.Ref.N)
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		panic(err)
	}
	v := x.RawVector().Data
	if kind == Similarity {
		return [6]float64{v[0], v[1], v[2], v[1], -v[0], v[3]}
	}
	return [6]float64(v)
}

// Four corners of a square, one reference 4 m too far east. By hand: leverage
// of each equation of a similarity on a square is 1/2, so the point keeps half
// of its 4 m as residual, s₀² = Σr²/σ²/dof.
func TestResidualsWorkedByHand(t *testing.T) {
	t.Parallel()
	m := truth{1, 0, geodesy.Grid{E: 1000, N: 2000}}
	pts := m.points(PicturePt{0, 0}, PicturePt{1000, 0}, PicturePt{1000, 1000}, PicturePt{0, 1000})
	pts[1].Ref.E += 4
	for i := range pts {
		pts[i].SigmaPx = 1
	}
	c := mustFit(t, pts, Options{Kind: Similarity})
	r := c.Residuals()
	near(t, "residual of the wrong point", r[1].EastM, 2, 1e-3)
	// Residual sum of squares = 4²·(1−h) with h = 1/2, over 4 points.
	near(t, "rms m", c.RMSM(), math.Sqrt(16*0.5/4), 1e-3)
	near(t, "rms px", c.RMSPx(), c.RMSM()/c.MetresPerPixel(), 1e-9)
	near(t, "s0", c.S0(), math.Sqrt(8.0/4), 2e-3)
	near(t, "variance factor", c.VarianceFactor(), 2, 6e-3)
	if c.DOF() != 4 {
		t.Errorf("dof: got %d, want 4", c.DOF())
	}
}

// The centroid of n equal points is known to σ/√n; far out the turn adds up.
func TestCovarianceWorkedByHand(t *testing.T) {
	t.Parallel()
	m := truth{2, 0, geodesy.Grid{E: 250000, N: 750000}}
	pts := m.points(PicturePt{0, 0}, PicturePt{1000, 0})
	c := mustFit(t, pts, Options{})
	sigma := 0.7 * 2.0
	mid := c.Covariance(PicturePt{500, 0}, 0)
	near(t, "middle EE", mid.EE, sigma*sigma/2, 1e-9)
	near(t, "middle NN", mid.NN, sigma*sigma/2, 1e-9)
	near(t, "middle EN", mid.EN, 0, 1e-12)
	// 1000 px beyond the middle: σ²/2 + (1000/500)²·σ²/2.
	near(t, "far NN", c.Covariance(PicturePt{1500, 0}, 0).NN, sigma*sigma*(0.5+2), 1e-9)
	near(t, "with a pick of 1 px", c.Covariance(PicturePt{500, 0}, 1).EE, sigma*sigma/2+4, 1e-9)
	// Between the control points themselves the errors are those of the clicks.
	j := c.Joint(PicturePt{0, 0}, PicturePt{1000, 0}, 0, 0)
	for i := range 4 {
		for k := range 4 {
			want := 0.0
			if i == k {
				want = sigma * sigma
			}
			near(t, "joint", j[i][k], want, 1e-9)
		}
	}
}

func TestReferenceSigmaCountsAndWeighs(t *testing.T) {
	t.Parallel()
	m := truth{2, 0, geodesy.Grid{E: 250000, N: 750000}}
	pts := m.points(PicturePt{0, 0}, PicturePt{1000, 0}, PicturePt{0, 1000}, PicturePt{1000, 1000})
	pts[3].Ref.E += 60
	pts[3].SigmaRefM = 50 // known to be loose: must hardly pull the others
	c := mustFit(t, pts, Options{Kind: Similarity})
	near(t, "a firm point", c.Residuals()[0].EastM, 0, 0.2)
	near(t, "the loose point", c.Residuals()[3].EastM, 60, 0.4)
	if s0 := c.S0(); s0 > 1 {
		t.Errorf("s0: got %g, want at most 1: the loose point is within its σ", s0)
	}
}

func TestAutoRule(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	m := truth{2.5, 1, geodesy.Grid{E: 212000, N: 734000}}
	grid := []PicturePt{{400, 400}, {2000, 400}, {3600, 400}, {400, 2800}, {2000, 2800}, {3600, 2800}}
	took := 0
	for range 200 {
		if mustFit(t, shaken(m.points(grid...), 0.7, rng), Options{}).Kind() == Affine {
			took++
		}
	}
	if took > 2 {
		t.Errorf("affine taken for pure similarities: got %d of 200, want at most 2", took)
	}
	stretched := m.points(grid...)
	for i := range stretched {
		stretched[i].At.Row *= 1.01 // paper 1% longer one way: 24 px
	}
	took = 0
	for range 50 {
		if mustFit(t, shaken(stretched, 0.7, rng), Options{}).Kind() == Affine {
			took++
		}
	}
	if took != 50 {
		t.Errorf("affine taken for stretched paper: got %d of 50, want 50", took)
	}
	if k := mustFit(t, stretched[:4:4], Options{Kind: Similarity}).Kind(); k != Similarity {
		t.Errorf("kind asked for: got %v, want similarity", k)
	}
	three := []ControlPoint{stretched[0], stretched[2], stretched[3]}
	if k := mustFit(t, three, Options{}).Kind(); k != Similarity {
		t.Errorf("three points: got %v, want similarity", k)
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
		{"two for affine", good[:2], Options{Kind: Affine}, ErrTooFewPoints, nil},
		{"given", good, Options{Kind: Given}, ErrKind, nil},
		{"NaN column", with(1, func(p *ControlPoint) { p.At.Col = math.NaN() }), Options{}, nil, &bad},
		{"infinite row", with(1, func(p *ControlPoint) { p.At.Row = math.Inf(1) }), Options{}, nil, &bad},
		{"NaN easting", with(2, func(p *ControlPoint) { p.Ref.E = math.NaN() }), Options{}, nil, &bad},
		{"huge northing", with(2, func(p *ControlPoint) { p.Ref.N = 1e300 }), Options{}, nil, &bad},
		{"negative sigma", with(0, func(p *ControlPoint) { p.SigmaPx = -1 }), Options{}, nil, &bad},
		{"NaN sigma", with(0, func(p *ControlPoint) { p.SigmaRefM = math.NaN() }), Options{}, nil, &bad},
		{"coincident", with(2, func(p *ControlPoint) { p.At = PicturePt{1000.5, 0.5} }), Options{}, nil, &coin},
		{"same reference", with(2, func(p *ControlPoint) { p.Ref = good[0].Ref }), Options{}, nil, &same},
		{"collinear", m.points(PicturePt{0, 0}, PicturePt{1000, 1}, PicturePt{2000, 0}), Options{Kind: Affine}, nil, &coll},
		{"references on a line", []ControlPoint{
			{At: PicturePt{0, 0}, Ref: geodesy.Grid{E: 0, N: 0}},
			{At: PicturePt{1000, 0}, Ref: geodesy.Grid{E: 1000, N: 1000}},
			{At: PicturePt{0, 1000}, Ref: geodesy.Grid{E: 2000, N: 2000}},
		}, Options{Kind: Affine}, ErrSingular, nil},
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
	if w := codes(c.Warnings()); w != "" {
		t.Errorf("warnings: got %q, want none", w)
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
	c.Warnings()[0].Code = "changed"
	c.Residuals()[0].Px = 7
	if p := c.Points(); p[0].At.Col != 0 || p[1].At.Col != 1000 || codes(c.Warnings()) != CodeNoRedundancy || c.Residuals()[0].Px > 1 {
		t.Error("a calibration changed from outside")
	}
}

func FuzzFit(f *testing.F) {
	f.Add(0.0, 0.0, 1000.0, 0.0, 0.0, 1000.0, 212000.0, 734000.0, 214000.0, 734000.0, 212000.0, 732000.0, 1, 300.0)
	f.Add(0.0, 0.0, 1000.0, 3.0, 2000.0, 1.0, 2e5, 7e5, 7e5, 2e5, 1e-3, 9e7, 2, 0.0)
	f.Add(-1e7, 1e7, 1e7, -1e7, 0.0, 2.0, 1e8, -1e8, -1e8, 1e8, 0.0, 0.001, 0, 96.0)
	f.Fuzz(func(t *testing.T, c1, r1, c2, r2, c3, r3, e1, n1, e2, n2, e3, n3 float64, kind int, dpi float64) {
		all := []ControlPoint{
			{At: PicturePt{c1, r1}, Ref: geodesy.Grid{E: e1, N: n1}},
			{At: PicturePt{c2, r2}, Ref: geodesy.Grid{E: e2, N: n2}, SigmaRefM: 5},
			{At: PicturePt{c3, r3}, Ref: geodesy.Grid{E: e3, N: n3}, SigmaPx: 2},
			{At: PicturePt{c1 + 500, r3 - 300}, Ref: geodesy.Grid{E: e1 + 700, N: n3}},
		}
		for n := 2; n <= len(all); n++ {
			c, err := Fit(all[:n], Options{Kind: Kind(kind), DPI: dpi})
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
	all := append(m[:], c.MetresPerPixel(), c.Rotation().Rad(), c.RMSM(), c.RMSPx(), c.S0(), g.E, g.N,
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
// however many there are, and is refused where it is no usable number.
func TestSharedErrorIsNotAveraged(t *testing.T) {
	t.Parallel()
	var points []ControlPoint
	for i := range 100 {
		p := PicturePt{100 * float64(i%10), 100 * float64(i/10)}
		points = append(points, ControlPoint{At: p, Ref: geodesy.Grid{E: 5e5 + 2*p.Col, N: 5e6 - 2*p.Row}})
	}
	for _, kind := range []Kind{Auto, Affine, Perspective, Smooth} {
		c, err := Fit(points, Options{Kind: kind, SharedM: 6})
		if err != nil {
			t.Fatal(err)
		}
		if cov := c.Covariance(PicturePt{450, 450}, 0); cov.EE < 36 || cov.NN < 36 || cov.EE > 40 {
			t.Errorf("%s: variance %.2f m², want a little over 36", kind, cov.EE)
		}
	}
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := Fit(points, Options{SharedM: bad}); err == nil {
			t.Errorf("a shared error of %g m was taken", bad)
		}
	}
}
