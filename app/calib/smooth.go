package calib

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// minSmooth and maxSmooth are how many points a smooth fit takes: fewer say
// nothing of how the paper bends, more take seconds.
const (
	minSmooth = 9
	maxSmooth = 400
)

// spline is a regularised thin-plate spline over an affine map in its Bayesian
// form (Wahba, Spline Models for Observational Data, 1990, chapter 1): the
// paper's bend is a random surface with generalised covariance θ·r²·ln r, the
// points carry their own noise, and the estimate with its error is that of
// universal kriging (Cressie, Statistics for Spatial Data, 1993, section 3.4).
// Beyond the hull of the points the bend fades out, and what is faded is added
// to the error bars.
type spline struct {
	frame  frame
	hull   hull
	plain  solution // affine fit, towards which the bend fades
	points [][2]float64
	theta  float64 // bend variance in units of noise variance
	noise  float64 // mean noise variance, m²
	inv    *mat.Dense
	e, n   []float64 // coefficients of the points' kernels and of 1, u, v
}

// kernel is r²·ln r, made positive definite on what remains of an affine map.
func kernel(p, q [2]float64) float64 {
	r2 := (p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1])
	if r2 == 0 {
		return 0
	}
	return r2 * math.Log(r2) / 2
}

// row holds the kernels of a place with the points, and 1, u, v.
func (s *spline) row(p [2]float64) []float64 {
	out := make([]float64, 0, len(s.points)+3)
	for _, q := range s.points {
		out = append(out, s.theta*kernel(p, q))
	}
	return append(out, 1, p[0], p[1])
}

func (s *spline) place(at PicturePt) [2]float64 {
	u, v := s.frame.centred(at)
	return [2]float64{u, v}
}

// full is the spline's offset, and plainly that of the affine fit.
func (s *spline) full(at PicturePt) (e, n float64) {
	for i, k := range s.row(s.place(at)) {
		e += k * s.e[i]
		n += k * s.n[i]
	}
	return e, n
}

// faded is what of the bend is left out at a place, in metres: nothing inside
// the hull.
func (s *spline) faded(at PicturePt) (e, n float64) {
	out := s.hull.outside(at) / s.frame.radiusPx
	if out == 0 {
		return 0, 0
	}
	lost := 1 - math.Exp(-out*out)
	e, n = s.full(at)
	g := s.plain.toGrid(at)
	return lost * (e - (g.E - s.frame.e)), lost * (n - (g.N - s.frame.n))
}

func (s *spline) offset(at PicturePt) (e, n float64) {
	e, n = s.full(at)
	de, dn := s.faded(at)
	return e - de, n - dn
}

func (s *spline) inverse(e, n float64, start PicturePt) PicturePt {
	return newton(s, s.frame, e, n, start)
}

func (s *spline) crossed(at, to PicturePt) [2][2]float64 {
	p, q := s.place(at), s.place(to)
	a, b := mat.NewVecDense(s.size(), s.row(p)), mat.NewVecDense(s.size(), s.row(q))
	v := s.noise * (s.theta*kernel(p, q) - mat.Inner(a, s.inv, b))
	ae, an := s.faded(at)
	be, bn := ae, an
	if at != to {
		be, bn = s.faded(to)
	} else {
		v = math.Max(v, 0)
	}
	return [2][2]float64{{v + ae*be, ae * bn}, {an * be, v + an*bn}}
}

func (s *spline) size() int { return len(s.points) + 3 }

// solveSmooth fits a smooth map. Its stiffness is chosen by restricted
// likelihood, the noise being held at no less than the points' own σ.
func solveSmooth(points []ControlPoint) (bent, error) {
	if err := checkSpread(points); err != nil {
		return bent{}, err
	}
	if len(points) > maxSmooth {
		return bent{}, &Unfit{Reason: fmt.Sprintf("a smooth fit takes at most %d control points, not %d: take fewer, spread over the sheet", maxSmooth, len(points))}
	}
	plain, err := mustSolve(points, affine)
	if err != nil {
		return bent{}, err
	}
	s := &spline{frame: plain.frame, hull: hullOf(points), plain: plain}
	noise := make([]float64, len(points))
	for i, p := range points {
		s.points = append(s.points, s.place(p.At))
		noise[i] = variance(p, plain.meanScale2())
		s.noise += noise[i] / float64(len(points))
	}
	for i := range noise {
		noise[i] /= s.noise
	}
	s.theta = s.stiffness(points, noise)
	return s.finish(points, noise)
}

// finish solves the bordered system and leaves each point out in turn.
func (s *spline) finish(points []ControlPoint, noise []float64) (bent, error) {
	n := len(points)
	m := mat.NewDense(n+3, n+3, nil)
	for i, p := range s.points {
		for j, x := range s.row(p) {
			m.Set(i, j, x)
			m.Set(j, i, x)
		}
		m.Set(i, i, noise[i])
	}
	s.inv = new(mat.Dense)
	if err := s.inv.Inverse(m); err != nil {
		if c, ok := err.(mat.Condition); !ok || math.IsInf(float64(c), 1) {
			return bent{}, whyNoFit(points)
		}
	}
	s.e, s.n = make([]float64, n+3), make([]float64, n+3)
	for i := range s.e {
		for j, p := range points {
			s.e[i] += s.inv.At(i, j) * (p.Ref.E - s.frame.e)
			s.n[i] += s.inv.At(i, j) * (p.Ref.N - s.frame.n)
		}
	}
	out := bent{warp: s}
	var freedom float64 // trace of the smoother: the freedom used per axis
	for i := range points {
		de, dn := noise[i]*s.e[i], noise[i]*s.n[i] // the system's own rows: what the kernels leave over
		out.chi2 += (de*de + dn*dn) / (s.noise * noise[i])
		kept := s.inv.At(i, i) * noise[i] // 1 − leverage
		freedom += 1 - kept
		out.loo = append(out.loo, math.Hypot(de, dn)/math.Max(kept, 1e-9))
	}
	out.dof = int(math.Max(0, math.Floor(2*(float64(n)-freedom)+1e-6)))
	return out, nil
}

// stiffness returns θ. The whitened bend's covariance, with every affine map
// taken out, is brought to tridiagonal form, in which the likelihood of each θ
// costs no more than a walk along the points.
func (s *spline) stiffness(points []ControlPoint, noise []float64) float64 {
	n := len(points)
	flat, k, y := mat.NewDense(n, 3, nil), mat.NewDense(n, n, nil), mat.NewDense(n, 2, nil)
	for i, p := range s.points {
		w := 1 / math.Sqrt(noise[i])
		flat.SetRow(i, []float64{w, w * p[0], w * p[1]})
		y.SetRow(i, []float64{w * (points[i].Ref.E - s.frame.e), w * (points[i].Ref.N - s.frame.n)})
		for j := range i {
			x := w * kernel(p, s.points[j]) / math.Sqrt(noise[j])
			k.Set(i, j, x)
			k.Set(j, i, x)
		}
	}
	return likeliest(tridiagonal(withoutAffine(flat, k, y)), s.noise)
}

// Range of θ, as powers of ten: from no bend to one a thousand times the noise.
const (
	stiffestLog = -3.0
	softestLog  = 6.0
)

// caution is by how many of its own standard deviations ln θ is set above its
// mean.
const caution = 0.5

// likeliest returns the mean of ln θ over its likelihood, which with few points
// leans to softer paper than the likeliest value does: what is not known of the
// paper has to widen the error bars.
func likeliest(b banded, noise float64) float64 {
	const step = 0.125
	var devs []float64
	for l := stiffestLog; l <= softestLog; l += step {
		devs = append(devs, b.deviance(math.Pow(10, l), noise))
	}
	least := slices.Min(devs)
	var sum, mean, square float64
	for i, d := range devs {
		w, l := math.Exp((least-d)/2), stiffestLog+step*float64(i)
		sum += w
		mean += w * l
		square += w * l * l
	}
	mean /= sum
	return math.Pow(10, mean+caution*math.Sqrt(math.Max(0, square/sum-mean*mean)))
}

// blameless is how many observations' worth of weight stands against blaming
// the clicks for what the paper may have done: with few points the two cannot be
// told apart, and error bars made for clicks are too narrow for bent paper.
const blameless = 4
