package calib

import (
	"math"

	"legwright/app/geodesy"
)

// warp is a map from picture to grid that is not linear.
type warp interface {
	// offset is the grid place of p in metres from the references' centroid.
	offset(p PicturePt) (e, n float64)
	// inverse is the place in the picture of such an offset, start being a guess.
	inverse(e, n float64, start PicturePt) PicturePt
	// crossed is the a-priori covariance between the grid places of p (rows) and q.
	crossed(p, q PicturePt) [2][2]float64
}

// bent is a fitted warp with what a solution says of a linear one.
type bent struct {
	warp
	chi2 float64
	dof  int
	loo  []float64 // leave-one-out error of each point, metres
}

// stepPx is the half-width in pixels of the central difference that gives a
// warp's slope. A warp bends over hundreds of pixels, so what this leaves out
// is below 1e-6 of the slope.
const stepPx = 0.5

// slopeOf returns the partial derivatives of a warp at p, metres per pixel.
func slopeOf(w warp, p PicturePt) (a, b, d, e float64) {
	e0, n0 := w.offset(PicturePt{p.Col - stepPx, p.Row})
	e1, n1 := w.offset(PicturePt{p.Col + stepPx, p.Row})
	a, d = (e1-e0)/(2*stepPx), (n1-n0)/(2*stepPx)
	e0, n0 = w.offset(PicturePt{p.Col, p.Row - stepPx})
	e1, n1 = w.offset(PicturePt{p.Col, p.Row + stepPx})
	return a, (e1 - e0) / (2 * stepPx), d, (n1 - n0) / (2 * stepPx)
}

// tangent returns s with the map that touches the warp at p.
func (s solution) tangent(w warp, p PicturePt) solution {
	s.a, s.b, s.d, s.e = slopeOf(w, p)
	e, n := w.offset(p)
	u, v := p.Col-s.frame.col, p.Row-s.frame.row
	s.c, s.f = e-s.a*u-s.b*v, n-s.d*u-s.e*v
	return s
}

// local returns the linear map that touches the calibration at p.
func (c *Calibration) local(p PicturePt) solution {
	if c.bend == nil {
		return c.sol
	}
	return c.sol.tangent(c.bend, p)
}

// residual is reference less fitted place, in metres.
func (c *Calibration) residual(p ControlPoint) (eastM, northM float64) {
	if c.bend == nil {
		return c.sol.residual(p)
	}
	return warpResidual(c.bend, c.sol.frame, p)
}

func warpResidual(w warp, f frame, p ControlPoint) (eastM, northM float64) {
	e, n := w.offset(p.At)
	return p.Ref.E - f.e - e, p.Ref.N - f.n - n
}

// MetresPerPixelAt is MetresPerPixel at one place of the picture. It differs
// from place to place in a perspective or smooth fit only.
func (c *Calibration) MetresPerPixelAt(p PicturePt) float64 {
	s := c.local(p)
	return math.Sqrt(math.Abs(s.det()))
}

// grid is the grid place of a warp's offset.
func (f frame) grid(e, n float64) geodesy.Grid { return geodesy.Grid{E: f.e + e, N: f.n + n} }

// newton finds the place of an offset by Newton's method with steps of at most
// half the points' spread.
func newton(w warp, f frame, e, n float64, p PicturePt) PicturePt {
	for range 60 {
		e0, n0 := w.offset(p)
		var s solution
		s.a, s.b, s.d, s.e = slopeOf(w, p)
		if !(math.Abs(s.det()) > 0) {
			return p
		}
		dc, dr := s.unstep(e-e0, n-n0)
		size := math.Hypot(dc, dr)
		if k := f.radiusPx / 2 / size; k < 1 {
			dc, dr = k*dc, k*dr
		}
		p.Col, p.Row = p.Col+dc, p.Row+dr
		if size < 1e-9*f.radiusPx {
			break
		}
	}
	return p
}
