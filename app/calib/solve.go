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

// linear is a linear map from picture to grid.
type linear struct {
	frame      frame
	a, b, d, e float64 // metres per pixel
	c, f       float64 // grid coordinates of the centroid, less frame.e and frame.n
}

// similarity is that of least squares through the points, which must have been
// checked: E = p·u + q·v and N = q·u − p·v about the centroids, since rows grow
// southwards.
func similarity(points []ControlPoint) linear {
	s := linear{frame: newFrame(points)}
	for _, p := range points {
		u, v := s.frame.centred(p.At)
		east, north := p.Ref.E-s.frame.e, p.Ref.N-s.frame.n
		s.a += u*east - v*north
		s.b += v*east + u*north
	}
	k := 1 / (s.frame.radiusPx * float64(len(points))) // Σ(u² + v²) is their number
	s.a, s.b = k*s.a, k*s.b
	s.d, s.e = s.b, -s.a
	return s
}

// meanScale2 is the square of the mean scale, m² per pixel².
func (s *linear) meanScale2() float64 {
	return (s.a*s.a + s.b*s.b + s.d*s.d + s.e*s.e) / 2
}

// pointCov is the covariance in the grid of a point known to sigmaPx in the
// picture and sigmaM in the grid.
func (s *linear) pointCov(sigmaPx, sigmaM float64) Cov2 {
	v, r := sigmaPx*sigmaPx, sigmaM*sigmaM
	return Cov2{
		EE: v*(s.a*s.a+s.b*s.b) + r,
		EN: v * (s.a*s.d + s.b*s.e),
		NN: v*(s.d*s.d+s.e*s.e) + r,
	}
}

func (s *linear) toGrid(p PicturePt) geodesy.Grid {
	u, v := p.Col-s.frame.col, p.Row-s.frame.row
	return geodesy.Grid{
		E: s.frame.e + (s.c + s.a*u + s.b*v),
		N: s.frame.n + (s.f + s.d*u + s.e*v),
	}
}

// det is the determinant of the map; negative where the picture is not
// mirrored, since rows grow southwards.
func (s *linear) det() float64 { return s.a*s.e - s.b*s.d }

// chi2Bound is the 99.9% point of χ² by Wilson and Hilferty's approximation
// (Proc. Nat. Acad. Sci. 17, 1931), good to 2% from one degree of freedom on.
func chi2Bound(dof int) float64 {
	const z = 3.0902 // 99.9% point of the normal distribution
	k := 2 / (9 * float64(dof))
	t := 1 - k + z*math.Sqrt(k)
	return float64(dof) * t * t * t
}
