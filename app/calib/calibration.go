package calib

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// Calibration is a transform between picture and grid with its uncertainty.
// It is immutable and safe for concurrent use.
type Calibration struct {
	kind      Kind
	points    []ControlPoint
	sol       solution // of a warp: the linear map that touches it amid the points
	bend      warp     // nil where the fit is linear
	trials    []Trial
	estimate  estimate
	ownM      float64 // σ per axis of what a file says of the picture's place, metres
	residuals []Residual
	rmsM      float64
	rmsPx     float64
	hull      hull
	trust     Trust
	warnings  []Warning
}

// Residual is what a control point's reference differs from its fitted place:
// reference less fit, in metres east and north, and as a length in pixels.
type Residual struct{ EastM, NorthM, Px float64 }

// Kind returns what was fitted, never Auto.
func (c *Calibration) Kind() Kind { return c.kind }

// Points returns a copy of the control points; none for a given matrix.
func (c *Calibration) Points() []ControlPoint { return append([]ControlPoint(nil), c.points...) }

// Matrix returns [a, b, c, d, e, f] with E = a·col + b·row + c and
// N = d·col + e·row + f, in metres and pixels from the top-left corner.
// Of a perspective or smooth fit it is the map that touches it amid the points,
// and no substitute for ToGrid.
func (c *Calibration) Matrix() [6]float64 {
	s := &c.sol
	origin := s.toGrid(PicturePt{})
	return [6]float64{s.a, s.b, origin.E, s.d, s.e, origin.N}
}

// ToGrid returns the grid coordinates of a place in the picture, in metres.
func (c *Calibration) ToGrid(p PicturePt) geodesy.Grid {
	if c.bend != nil {
		return c.sol.frame.grid(c.bend.offset(p))
	}
	return c.sol.toGrid(p)
}

// Perspective returns [h0 … h8] of a perspective fit, with
// E = (h0·col + h1·row + h2)/w, N = (h3·col + h4·row + h5)/w and
// w = h6·col + h7·row + h8, in metres and pixels from the top-left corner;
// h8 is 1. It is false for other kinds, and where the top-left corner lies on
// the horizon.
func (c *Calibration) Perspective() ([9]float64, bool) {
	b, ok := c.bend.(*bent)
	if !ok {
		return [9]float64{}, false
	}
	p, ok := b.warp.(*homography)
	if !ok {
		return [9]float64{}, false
	}
	return p.fromCorner()
}

// ToPicture returns the place in the picture of grid coordinates, in pixels.
// It may lie outside the picture.
func (c *Calibration) ToPicture(g geodesy.Grid) PicturePt {
	s := &c.sol
	col, row := s.unstep(g.E-s.frame.e-s.c, g.N-s.frame.n-s.f)
	at := PicturePt{Col: s.frame.col + col, Row: s.frame.row + row}
	if c.bend != nil {
		return c.bend.inverse(g.E-s.frame.e, g.N-s.frame.n, at)
	}
	return at
}

// unstep turns a step in metres into one in pixels.
func (s *solution) unstep(eastM, northM float64) (col, row float64) {
	det := s.det()
	return (s.e*eastM - s.b*northM) / det, (s.a*northM - s.d*eastM) / det
}

// MetresPerPixel returns the mean scale: the side of a square that covers as
// much ground as one pixel; of a perspective or smooth fit, amid the points.
func (c *Calibration) MetresPerPixel() float64 { return math.Sqrt(math.Abs(c.sol.det())) }

// Rotation returns the direction of grid north in the picture, clockwise from
// picture up, in (−π, π].
func (c *Calibration) Rotation() units.Angle { return c.sol.rotation() }

func (s *solution) rotation() units.Angle {
	col, row := s.unstep(0, 1)
	return units.Angle(math.Atan2(col, -row)).Signed()
}

// Residuals returns a residual for each control point, in their order.
func (c *Calibration) Residuals() []Residual { return append([]Residual(nil), c.residuals...) }

// RMSM returns √(Σd²/n) of the residuals d in metres; 0 without points.
func (c *Calibration) RMSM() float64 { return c.rmsM }

// RMSPx returns √(Σd²/n) of the residuals d in pixels; 0 without points.
func (c *Calibration) RMSPx() float64 { return c.rmsPx }

// DOF returns the redundancy: the number of equations, two a point, less the
// number of parameters.
func (c *Calibration) DOF() int { return c.sol.dof }

// S0 returns the a-posteriori standard deviation of unit weight: the residuals
// measured in their a-priori σ, √(χ²/dof). It is 0 without redundancy.
func (c *Calibration) S0() float64 {
	if c.sol.dof <= 0 {
		return 0
	}
	return math.Sqrt(c.sol.chi2 / float64(c.sol.dof))
}

// VarianceFactor returns max(1, s₀²), by which every covariance of the
// calibration is multiplied already; 1 without redundancy.
func (c *Calibration) VarianceFactor() float64 {
	s0 := c.S0()
	return math.Max(1, s0*s0)
}

// Warnings returns what the checks found, gravest first.
func (c *Calibration) Warnings() []Warning { return append([]Warning(nil), c.warnings...) }

// judge fills the residuals and their root mean squares.
func (c *Calibration) judge() {
	var sumM, sumPx float64
	for _, p := range c.points {
		de, dn := c.residual(p)
		near := c.local(p.At)
		col, row := near.unstep(de, dn)
		r := Residual{EastM: de, NorthM: dn, Px: math.Hypot(col, row)}
		c.residuals = append(c.residuals, r)
		sumM += de*de + dn*dn
		sumPx += r.Px * r.Px
	}
	n := float64(len(c.points))
	c.rmsM, c.rmsPx = math.Sqrt(sumM/n), math.Sqrt(sumPx/n)
}
