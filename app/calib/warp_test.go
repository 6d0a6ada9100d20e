package calib

import (
	"errors"
	"math"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"legwright/app/geodesy"
)

// photo is a perspective of a sheet, as a camera held askew takes it.
type photo struct {
	truth
	tiltCol, tiltRow float64 // depth a pixel
}

func (m photo) grid(p PicturePt) geodesy.Grid {
	w := 1 + m.tiltCol*(p.Col-2000) + m.tiltRow*(p.Row-1600)
	return m.truth.grid(PicturePt{2000 + (p.Col-2000)/w, 1600 + (p.Row-1600)/w})
}

func (m photo) points(at ...PicturePt) []ControlPoint {
	out := m.truth.points(at...)
	for i, p := range at {
		out[i].Ref = m.grid(p)
	}
	return out
}

func photoTruth() photo { return photo{sheetTruth(), 6e-5, -9e-5} }

func strewn(n int, rng *rand.Rand) []PicturePt {
	at := []PicturePt{{400, 380}, {3600, 430}, {3500, 2890}, {480, 2810}}
	side := int(math.Ceil(math.Sqrt(float64(n))))
	for i := len(at); i < n; i = len(at) {
		p := PicturePt{
			400 + 3200*(float64(i%side)+rng.Float64())/float64(side),
			380 + 2500*(float64(i/side)+rng.Float64())/float64(side),
		}
		if !slices.ContainsFunc(at, func(q PicturePt) bool { return pictureDistance(p, q) < 20 }) {
			at = append(at, p)
		}
	}
	return at[:n]
}

// Four points determine a perspective: it has to return the truth, and lead
// back to the picture.
func TestPerspectiveOfFourPoints(t *testing.T) {
	t.Parallel()
	m := photoTruth()
	c := mustFit(t, m.points(strewn(4, nil)...), Options{Kind: Perspective})
	h, ok := c.Perspective()
	if !ok || c.Kind() != Perspective || c.DOF() != 0 {
		t.Fatalf("kind %v, dof %d, perspective %v", c.Kind(), c.DOF(), ok)
	}
	for _, p := range []PicturePt{{2000, 1600}, {10, 3000}, {3900, 20}, {1234.5, 987.25}} {
		got, want := c.ToGrid(p), m.grid(p)
		near(t, "easting", got.E, want.E, 1e-6)
		near(t, "northing", got.N, want.N, 1e-6)
		back := c.ToPicture(want)
		near(t, "column", back.Col, p.Col, 1e-6)
		near(t, "row", back.Row, p.Row, 1e-6)
		w := h[6]*p.Col + h[7]*p.Row + h[8]
		near(t, "easting by the nine numbers", (h[0]*p.Col+h[1]*p.Row+h[2])/w, want.E, 1e-4)
		near(t, "northing by the nine numbers", (h[3]*p.Col+h[4]*p.Row+h[5])/w, want.N, 1e-4)
		a, b := m.grid(PicturePt{p.Col, p.Row - 5}), m.grid(PicturePt{p.Col, p.Row + 5})
		c0, c1 := m.grid(PicturePt{p.Col - 5, p.Row}), m.grid(PicturePt{p.Col + 5, p.Row})
		area := math.Abs((c1.E-c0.E)*(b.N-a.N)-(c1.N-c0.N)*(b.E-a.E)) / 100
		near(t, "metres per pixel", c.MetresPerPixelAt(p), math.Sqrt(area), 1e-5)
	}
}

// The classical direct linear transform by singular values (Hartley and
// Zisserman, algorithm 4.2) is another way to a perspective: equal on exact
// points; on noisy ones the fit here, which minimises metres, may not be worse.
func TestPerspectiveAgainstGonumDLT(t *testing.T) {
	t.Parallel()
	m, rng := photoTruth(), rand.New(rand.NewPCG(4, 1))
	for _, n := range []int{4, 7, 30} {
		for _, noise := range []float64{0, 1} {
			pts := shaken(m.points(strewn(n, rng)...), noise, rng)
			c := mustFit(t, pts, Options{Kind: Perspective})
			other := dlt(t, pts)
			var mine, theirs float64
			for _, p := range pts {
				g, o := c.ToGrid(p.At), other(p.At)
				w := 1 / math.Pow(c.MetresPerPixelAt(p.At), 2)
				mine += w * (math.Pow(g.E-p.Ref.E, 2) + math.Pow(g.N-p.Ref.N, 2))
				theirs += w * (math.Pow(o.E-p.Ref.E, 2) + math.Pow(o.N-p.Ref.N, 2))
				if noise == 0 {
					near(t, "easting", g.E, o.E, 1e-5)
					near(t, "northing", g.N, o.N, 1e-5)
				}
			}
			if mine > theirs*1.001+1e-9 {
				t.Errorf("%d points, noise %g: got misfit %g, direct linear %g", n, noise, mine, theirs)
			}
		}
	}
}

func dlt(t *testing.T, pts []ControlPoint) func(PicturePt) geodesy.Grid {
	f := newFrame(pts)
	const unit = 3000.0
	a := mat.NewDense(2*len(pts), 9, nil)
	for i, p := range pts {
		u, v := f.centred(p.At)
		e, n := (p.Ref.E-f.e)/unit, (p.Ref.N-f.n)/unit
		a.SetRow(2*i, []float64{u, v, 1, 0, 0, 0, -e * u, -e * v, -e})
		a.SetRow(2*i+1, []float64{0, 0, 0, u, v, 1, -n * u, -n * v, -n})
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFullV) {
		t.Fatal("singular values not found")
	}
	var v mat.Dense
	svd.VTo(&v)
	return func(p PicturePt) geodesy.Grid {
		x, y := f.centred(p)
		h := func(i int) float64 { return v.At(i, 8) }
		w := h(6)*x + h(7)*y + h(8)
		return geodesy.Grid{E: f.e + unit*(h(0)*x+h(1)*y+h(2))/w, N: f.n + unit*(h(3)*x+h(4)*y+h(5))/w}
	}
}

// bow is a smooth bend of the paper, of up to sizeM metres.
func bow(m truth, p PicturePt, sizeM float64) geodesy.Grid {
	g := m.grid(p)
	g.E += sizeM * math.Sin(p.Col/1100) * math.Cos(p.Row/1400)
	g.N += sizeM * math.Cos(p.Col/1300+1) * math.Sin(p.Row/1000)
	return g
}

func bowed(at []PicturePt, sizeM float64) []ControlPoint {
	m := sheetTruth()
	pts := m.points(at...)
	for i := range pts {
		pts[i].Ref = bow(m, pts[i].At, sizeM)
	}
	return pts
}

// With hardly any noise the smooth fit goes through the points, as GDAL's
// thin-plate spline does.
func TestSmoothAgainstGdaltransform(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("gdaltransform")
	if err != nil {
		t.Skip("gdaltransform is not installed (Debian package gdal-bin): smooth fit not compared with GDAL")
	}
	pts := bowed(strewn(25, rand.New(rand.NewPCG(3, 3))), 20)
	for i := range pts {
		pts[i].SigmaPx = 1e-3
	}
	c := mustFit(t, pts, Options{Kind: Smooth})
	at := []PicturePt{{2000, 1600}, {1000, 900}, {3000, 2500}, {1500, 2000}}
	for i, want := range gdalWith(t, tool, []string{"-tps"}, pts, at) {
		got := c.ToGrid(at[i])
		near(t, "easting", got.E, want.E, 0.02)
		near(t, "northing", got.N, want.N, 0.02)
		back := c.ToPicture(got)
		near(t, "column", back.Col, at[i].Col, 1e-5)
		near(t, "row", back.Row, at[i].Row, 1e-5)
	}
}

// Far outside its points the bend is gone, the error bars have grown, and the
// place is not trusted.
func TestSmoothFadesOutside(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 5))
	pts := shaken(bowed(strewn(25, rng), 25), 0.7, rng)
	c, flat := mustFit(t, pts, Options{Kind: Smooth}), mustFit(t, pts, Options{Kind: Affine})
	far, in := PicturePt{9000, 7000}, PicturePt{2000, 1600}
	got, want := c.ToGrid(far), flat.ToGrid(far)
	near(t, "easting", got.E, want.E, 0.5)
	near(t, "northing", got.N, want.N, 0.5)
	if ok, out := c.Trusted(far); ok || out < 4000 {
		t.Errorf("far outside: got trusted %v at %g px", ok, out)
	}
	if ok, out := c.Trusted(in); !ok || out != 0 {
		t.Errorf("inside: got trusted %v at %g px", ok, out)
	}
	if a, b := c.Covariance(in, 0).EE, c.Covariance(far, 0).EE; b < 100*a {
		t.Errorf("variance: got %g far outside, %g inside", b, a)
	}
}

func TestAutoProposes(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	for _, tc := range []struct {
		name string
		n    int
		make func([]PicturePt) []ControlPoint
		want Kind
	}{
		{"flat scan", 16, func(at []PicturePt) []ControlPoint { return m.points(at...) }, Similarity},
		{"photograph", 9, func(at []PicturePt) []ControlPoint { return photoTruth().points(at...) }, Perspective},
		{"photograph, many", 40, func(at []PicturePt) []ControlPoint { return photoTruth().points(at...) }, Perspective},
		{"bent paper", 36, func(at []PicturePt) []ControlPoint { return bowed(at, 30) }, Smooth},
		{"three of a photograph", 3, func(at []PicturePt) []ControlPoint { return photoTruth().points(at...) }, Similarity},
	} {
		right := 0
		for seed := range uint64(20) {
			rng := rand.New(rand.NewPCG(seed, 77))
			c := mustFit(t, shaken(tc.make(strewn(tc.n, rng)), 0.7, rng), Options{})
			if c.Kind() == tc.want {
				right++
			}
			chosen := 0
			for _, x := range c.Trials() {
				if x.Reason == "" || math.IsNaN(x.LOOM) {
					t.Fatalf("%s: trial %+v", tc.name, x)
				}
				if x.Chosen {
					chosen++
				}
			}
			if chosen != 1 {
				t.Fatalf("%s: got %d kinds chosen, want 1", tc.name, chosen)
			}
		}
		if right < 19 {
			c := mustFit(t, shaken(tc.make(strewn(tc.n, rand.New(rand.NewPCG(1, 77)))), 0.7, rand.New(rand.NewPCG(1, 78))), Options{})
			t.Errorf("%s: got %s in %d of 20, want 19: %+v", tc.name, tc.want, right, c.Trials())
		}
	}
}

// With hundreds of crossings the smooth fit is left out, and that is told.
func TestAutoSparesTheWindow(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 6))
	c := mustFit(t, shaken(sheetTruth().points(strewn(mostUnasked+1, rng)...), 0.5, rng), Options{})
	last := c.Trials()[len(c.Trials())-1]
	if last.Kind != Smooth || last.Chosen || !math.IsInf(last.LOOM, 1) || !strings.Contains(last.Reason, "not tried") {
		t.Errorf("got %+v, want a smooth fit not tried", last)
	}
}

// Closed-form leave-one-out errors against fits made without each point.
func TestLeaveOneOutIsWhatItSays(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 9))
	pts := shaken(photoTruth().points(strewn(12, rng)...), 0.7, rng)
	for _, tc := range []struct {
		kind Kind
		tol  float64 // of the error, relative: a perspective's is of first order
	}{{Similarity, 1e-6}, {Affine, 1e-6}, {Perspective, 0.05}} {
		a, err := try(pts, tc.kind)
		if err != nil {
			t.Fatal(err)
		}
		for i := range pts {
			c := mustFit(t, without(pts, i), Options{Kind: tc.kind})
			want := math.Hypot(c.residual(pts[i]))
			if math.Abs(a.loo[i]-want) > tc.tol*want+0.05*tc.tol {
				t.Errorf("%s, point %d: got %g m, want %g", tc.kind, i, a.loo[i], want)
			}
		}
	}
}

func TestSeveralSlipsAreNamed(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 1))
	at := strewn(14, rng)
	pts := shaken(sheetTruth().points(at...), 0.5, rng)
	pts[4].Ref.E += 1000
	pts[7].Ref.N -= 300
	pts[9].Ref = swapped(pts[9].Ref)
	for _, kind := range []Kind{Auto, Similarity, Affine, Perspective} {
		var all strings.Builder
		var unfit *Unfit
		c, err := Fit(pts, Options{Kind: kind})
		var found []Warning
		if errors.As(err, &unfit) {
			found = unfit.Slips
		} else {
			found = c.Warnings()
		}
		for _, w := range found {
			all.WriteString(w.Text + "\n")
		}
		for _, want := range []string{"control point 5: easting looks 1 000 m too great", "control point 8: northing looks 300 m too small", "control point 10: easting and northing look exchanged"} {
			if !strings.Contains(all.String(), want) {
				t.Errorf("%s: got\n%swant %q", kind, all.String(), want)
			}
		}
	}
}

// Two points, one with its digits out of order.
func TestTransposedDigitsAreNamed(t *testing.T) {
	t.Parallel()
	var pts []ControlPoint
	for i := range 9 {
		at := PicturePt{300 + 1200*float64(i%3), 200 + 1200*float64(i/3)}
		pts = append(pts, ControlPoint{At: at, Ref: geodesy.Grid{E: 227000 + 3000*float64(i%3), N: 754000 - 3000*float64(i/3)}})
	}
	pts[5].Ref.E += 1000
	pts[7].Ref.E = 203000
	var all strings.Builder
	for _, w := range mustFit(t, pts, Options{}).Warnings() {
		all.WriteString(w.Text + "\n")
	}
	for _, want := range []string{"control point 6: easting looks 1 000 m too great", "control point 8: two digits of the easting look exchanged: 230000 would fit"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("got\n%swant %q", all.String(), want)
		}
	}
}

// One wrong point of a photograph, with the map a perspective.
func TestSlipInAPhotograph(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 2))
	pts := shaken(photoTruth().points(strewn(9, rng)...), 0.5, rng)
	pts[5].Ref.E += 1000
	c := mustFit(t, pts, Options{Kind: Perspective})
	if got, want := text(c.Warnings(), CodeDigitOut), "control point 6: easting looks 1 000 m too great"; got != want {
		t.Errorf("got %q (%s), want %q", got, codes(c.Warnings()), want)
	}
}

func TestWarpRefusals(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	line := m.points(PicturePt{0, 0}, PicturePt{1000, 0}, PicturePt{2000, 1}, PicturePt{500, 2000})
	for _, tc := range []struct {
		name string
		pts  []ControlPoint
		kind Kind
		want string
	}{
		{"three of four on a line", line, Perspective, "one line"},
		{"three points", m.points(strewn(3, nil)...), Perspective, "at least 4"},
		{"eight points", m.points(strewn(8, rand.New(rand.NewPCG(1, 1)))...), Smooth, "at least 9"},
		{"too many", m.points(strewn(401, rand.New(rand.NewPCG(1, 1)))...), Smooth, "at most 400"},
	} {
		if _, err := Fit(tc.pts, Options{Kind: tc.kind}); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: got %v, want %q", tc.name, err, tc.want)
		}
	}
}
