package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The likelihood in tridiagonal form is that by eigenvalues, gonum's.
func TestTridiagonalLikelihood(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{6, 13, 60} { // nine points leave six
		g, y := mat.NewDense(n, n, nil), mat.NewDense(n, 2, nil)
		for i := range n {
			y.SetRow(i, []float64{9 * rng.NormFloat64(), 9 * rng.NormFloat64()})
			for j := range n {
				g.Set(i, j, rng.NormFloat64())
			}
		}
		var product, vectors, z mat.Dense
		product.Mul(g, g.T())
		s := mat.NewSymDense(n, nil)
		for i := range n {
			for j := range i + 1 {
				s.SetSym(i, j, product.At(i, j))
			}
		}
		var eig mat.EigenSym
		if !eig.Factorize(s, true) {
			t.Fatal("no eigenvalues")
		}
		eig.VectorsTo(&vectors)
		z.Mul(vectors.T(), y)
		b := tridiagonal(s, y)
		for _, theta := range []float64{1e-3, 1, 1e6} {
			const noise = 0.5
			var logs, sum float64
			for i, v := range eig.Values(nil) {
				d := 1 + theta*math.Max(v, 0)
				logs += 2 * math.Log(d)
				sum += (z.At(i, 0)*z.At(i, 0) + z.At(i, 1)*z.At(i, 1)) / (noise * d)
			}
			m := 2*float64(n) + blameless
			k := math.Max(1, sum/m)
			near(t, "deviance", b.deviance(theta, noise), logs+m*math.Log(k)+sum/k, 1e-6)
		}
	}
}

// What is left over at the points is what the map misses them by, and a point's
// leave-one-out error is that of the system solved without it.
func TestSmoothResiduals(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 8))
	pts := shaken(bowed(strewn(30, rng), 15), 0.7, rng)
	for i := range pts {
		pts[i].SigmaPx = 0.4 + 0.6*rng.Float64()
	}
	b, err := solveSmooth(pts)
	if err != nil {
		t.Fatal(err)
	}
	s := b.warp.(*spline)
	var chi2 float64
	for i, p := range pts {
		de, dn := warpResidual(s, s.frame, p)
		chi2 += (de*de + dn*dn) / variance(p, s.plain.meanScale2())
		rest := *s
		rest.points, rest.hull = nil, hull{p.At, {}, {}} // the place itself is not faded
		var left []ControlPoint
		var noise []float64
		for j, q := range pts {
			if j != i {
				rest.points, left = append(rest.points, s.points[j]), append(left, q)
				noise = append(noise, variance(q, s.plain.meanScale2())/s.noise)
			}
		}
		if _, err := rest.finish(left, noise); err != nil {
			t.Fatal(err)
		}
		e, n := rest.full(p.At)
		near(t, "left out", b.loo[i], math.Hypot(p.Ref.E-s.frame.e-e, p.Ref.N-s.frame.n-n), 1e-6)
	}
	near(t, "χ²", b.chi2, chi2, 1e-6*chi2)
}
