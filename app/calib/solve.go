package calib

import (
	"math"

	"legwright/app/geodesy"
)

// frame is the centring and scaling under which a fit is solved.
type frame struct {
	col, row float64 // centroid of the points in the picture
	radiusPx float64 // root mean square distance from it
	e, n     float64 // centroid of the references
}

func newFrame(points []ControlPoint) frame {
	var f frame
	k := 1 / float64(len(points))
	for _, p := range points {
		f.col += p.At.Col * k
		f.row += p.At.Row * k
		f.e += p.Ref.E * k
		f.n += p.Ref.N * k
	}
	for _, p := range points {
		du, dv := p.At.Col-f.col, p.At.Row-f.row
		f.radiusPx += (du*du + dv*dv) * k
	}
	f.radiusPx = math.Sqrt(f.radiusPx)
	return f
}

func (f frame) centred(p PicturePt) (u, v float64) {
	return (p.Col - f.col) / f.radiusPx, (p.Row - f.row) / f.radiusPx
}

// solution is one fitted model.
type solution struct {
	model      model
	frame      frame
	beta       vec
	q          square  // a-priori covariance of beta, m²
	a, b, d, e float64 // metres per pixel
	c, f       float64 // grid coordinates of the centroid, less frame.e and frame.n
	chi2       float64 // sum of squared residuals in units of their a-priori σ
	dof        int
}

// solve fits the model to the points, which must have been checked. It
// reports false where the points do not determine the model.
func solve(points []ControlPoint, m model) (solution, bool) {
	s := solution{model: m, frame: newFrame(points), dof: 2*len(points) - m.params()}
	if s.dof < 0 || !(s.frame.radiusPx > 0) {
		return s, false
	}
	if !s.fit(points, func(ControlPoint) float64 { return 1 }) {
		return s, false
	}
	if unequal(points) {
		scale2 := s.meanScale2()
		if !s.fit(points, func(p ControlPoint) float64 { return 1 / variance(p, scale2) }) {
			return s, false
		}
	}
	if !(s.meanScale2() > 0) {
		return s, false
	}
	s.chi2 = s.misfit(points)
	return s, true
}

// unequal reports whether the points differ in their standard deviations, so
// that weights matter.
func unequal(points []ControlPoint) bool {
	for _, p := range points[1:] {
		if p.sigmaPx() != points[0].sigmaPx() || p.SigmaRefM != points[0].SigmaRefM {
			return true
		}
	}
	return false
}

// meanScale2 is the square of the mean scale, m² per pixel².
func (s *solution) meanScale2() float64 {
	return (s.a*s.a + s.b*s.b + s.d*s.d + s.e*s.e) / 2
}

// variance is the mean variance of a point's grid residual per axis, in m².
func variance(p ControlPoint, scale2 float64) float64 {
	px := p.sigmaPx()
	return math.Max(px*px*scale2+p.SigmaRefM*p.SigmaRefM, 1e-12)
}

// fit solves the weighted normal equations and propagates the points'
// covariances: with H the estimator, cov β = H·Σ·Hᵀ.
func (s *solution) fit(points []ControlPoint, weight func(ControlPoint) float64) bool {
	n := s.model.params()
	var normal square
	var rhs vec
	for _, p := range points {
		w := weight(p)
		u, v := s.frame.centred(p.At)
		je, jn := s.model.rows(u, v)
		for i := range n {
			rhs[i] += w * (je[i]*(p.Ref.E-s.frame.e) + jn[i]*(p.Ref.N-s.frame.n))
			for j := range n {
				normal[i][j] += w * (je[i]*je[j] + jn[i]*jn[j])
			}
		}
	}
	inv, ok := invert(normal, n)
	if !ok {
		return false
	}
	for i := range n {
		s.beta[i] = dot(vec(inv[i]), rhs, n)
	}
	s.a, s.b, s.d, s.e, s.c, s.f = s.model.linear(s.beta)
	for _, x := range []*float64{&s.a, &s.b, &s.d, &s.e} {
		*x /= s.frame.radiusPx
	}
	s.propagate(points, weight, inv)
	return true
}

// propagate fills the covariance of the parameters.
func (s *solution) propagate(points []ControlPoint, weight func(ControlPoint) float64, inv square) {
	n := s.model.params()
	var inner square
	for _, p := range points {
		w := weight(p)
		u, v := s.frame.centred(p.At)
		je, jn := s.model.rows(u, v)
		c := s.pointCov(p.sigmaPx(), p.SigmaRefM)
		for i := range n {
			for j := range n {
				inner[i][j] += w * w * (je[i]*c.EE*je[j] + je[i]*c.EN*jn[j] + jn[i]*c.EN*je[j] + jn[i]*c.NN*jn[j])
			}
		}
	}
	for i := range n {
		for j := range n {
			s.q[i][j] = quad(vec(inv[i]), &inner, vec(inv[j]), n) // inv is symmetric
		}
	}
}

// pointCov is the covariance in the grid of a place known to sigmaPx in the
// picture and sigmaM in the grid.
func (s *solution) pointCov(sigmaPx, sigmaM float64) Cov2 {
	v, r := sigmaPx*sigmaPx, sigmaM*sigmaM
	return Cov2{
		EE: v*(s.a*s.a+s.b*s.b) + r,
		EN: v * (s.a*s.d + s.b*s.e),
		NN: v*(s.d*s.d+s.e*s.e) + r,
	}
}

func (s *solution) toGrid(p PicturePt) geodesy.Grid {
	u, v := p.Col-s.frame.col, p.Row-s.frame.row
	return geodesy.Grid{
		E: s.frame.e + (s.c + s.a*u + s.b*v),
		N: s.frame.n + (s.f + s.d*u + s.e*v),
	}
}

// residual is reference less fitted place, in metres.
func (s *solution) residual(p ControlPoint) (eastM, northM float64) {
	u, v := p.At.Col-s.frame.col, p.At.Row-s.frame.row
	eastM = (p.Ref.E - s.frame.e) - (s.c + s.a*u + s.b*v)
	northM = (p.Ref.N - s.frame.n) - (s.f + s.d*u + s.e*v)
	return eastM, northM
}

// misfit is Σ rᵀ·Σ⁻¹·r over the points.
func (s *solution) misfit(points []ControlPoint) float64 {
	var sum float64
	for _, p := range points {
		de, dn := s.residual(p)
		sum += s.pointCov(p.sigmaPx(), p.SigmaRefM).mahalanobis2(de, dn)
	}
	return sum
}

// det is the determinant of the map; negative where the picture is not
// mirrored, since rows grow southwards.
func (s *solution) det() float64 { return s.a*s.e - s.b*s.d }

// fits reports whether the misfit is one that noise of k times the a-priori σ
// would exceed in fewer than one case of a thousand.
func (s *solution) fits(k float64) bool {
	return s.dof == 0 || s.chi2 <= k*k*chi2Bound(s.dof)
}

// chi2Bound is the 99.9% point of χ² by Wilson and Hilferty's approximation
// (Proc. Nat. Acad. Sci. 17, 1931), good to 2% from one degree of freedom on.
func chi2Bound(dof int) float64 {
	const z = 3.0902 // 99.9% point of the normal distribution
	k := 2 / (9 * float64(dof))
	t := 1 - k + z*math.Sqrt(k)
	return float64(dof) * t * t * t
}
