package calib

import (
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// Calibration is a transform between picture and grid with its uncertainty.
// It is immutable and safe for concurrent use.
type Calibration struct {
	options   Options
	given     bool // a matrix that came with the picture
	points    []ControlPoint
	estimate  estimate
	reaches   *reaches // nil while the calibration is being made
	sway      sway
	sol       linear  // the linear map that touches the calibration amid the points
	ownM      float64 // σ per axis that all positions have in common, metres
	ownPx     float64 // of a given matrix: σ per axis that each position has by itself, pixels
	residuals []Residual
	rmsM      float64
	rmsPx     float64
	hull      hull
	trust     Trust
	cautions  []caution.Caution
}

// Residual is what a control point's reference differs from its fitted position:
// reference less fit, in metres east and north, and as a length in pixels.
type Residual struct{ EastM, NorthM, Px float64 }

// Medium returns how the picture came about, as Fit took it.
func (c *Calibration) Medium() Medium { return c.options.Medium }

// Given reports whether the calibration is a matrix that came with the picture.
// Only such a one is linear: the same matrix everywhere.
func (c *Calibration) Given() bool { return c.given }

// Points returns a copy of the control points; none for a given matrix.
func (c *Calibration) Points() []ControlPoint { return append([]ControlPoint(nil), c.points...) }

// Matrix returns [a, b, c, d, e, f] with E = a·col + b·row + c and
// N = d·col + e·row + f, in metres and pixels from the top-left corner. Unless
// it was given it is the map that touches the calibration amid the points, and
// no substitute for ToGrid.
func (c *Calibration) Matrix() [6]float64 {
	s := &c.sol
	origin := s.toGrid(PicturePt{})
	return [6]float64{s.a, s.b, origin.E, s.d, s.e, origin.N}
}

// ToGrid returns the grid coordinates of a point in the picture, in metres.
func (c *Calibration) ToGrid(p PicturePt) geodesy.Grid {
	return c.estimate.plane.grid(c.sway.moved(p))
}

// ToPicture returns the point in the picture of grid coordinates, in pixels.
// It may lie outside the picture.
func (c *Calibration) ToPicture(g geodesy.Grid) PicturePt {
	return c.sway.back(c.estimate.plane.picture(g))
}

// unstep turns a step in metres into one in pixels.
func (s *linear) unstep(eastM, northM float64) (col, row float64) {
	det := s.det()
	return (s.e*eastM - s.b*northM) / det, (s.a*northM - s.d*eastM) / det
}

// MetresPerPixel returns the mean scale amid the points: the side of a square
// that covers as much ground as one pixel.
func (c *Calibration) MetresPerPixel() float64 { return math.Sqrt(math.Abs(c.sol.det())) }

// MetresPerPixelAt is MetresPerPixel at one point of the picture. It differs
// from point to point in a photograph, and where paper stretched.
func (c *Calibration) MetresPerPixelAt(p PicturePt) float64 {
	if c.given {
		return c.MetresPerPixel()
	}
	return c.estimate.plane.metresPerPixel(p)
}

// Rotation returns the direction of grid north in the picture, clockwise from
// picture up, in (−π, π].
func (c *Calibration) Rotation() units.Angle { return c.sol.rotation() }

func (s *linear) rotation() units.Angle {
	col, row := s.unstep(0, 1)
	return units.Angle(math.Atan2(col, -row)).Signed()
}

// Residuals returns a residual for each control point, in their order.
func (c *Calibration) Residuals() []Residual { return append([]Residual(nil), c.residuals...) }

// RMSM returns √(Σd²/n) of the residuals d in metres; 0 without points.
func (c *Calibration) RMSM() float64 { return c.rmsM }

// RMSPx returns √(Σd²/n) of the residuals d in pixels; 0 without points.
func (c *Calibration) RMSPx() float64 { return c.rmsPx }

// DOF returns the redundancy: two a control point, less four for a flat sheet
// or eight for a photograph, of whose camera two more things are known; 0 for a
// given matrix.
func (c *Calibration) DOF() int {
	if c.estimate.gls == nil {
		return 0
	}
	return c.estimate.gls.rank
}

// ClickFactor returns by how much the clicks look looser, or tighter, than
// their own σ: 1 where nothing says otherwise. The covariance counts it.
func (c *Calibration) ClickFactor() float64 { return math.Sqrt(c.estimate.scale) }

// BendFactor returns by how much the picture bends more than paper usually
// does: 1, or a power of two where ten points and more say so, as with the lens
// of a camera or folds.
func (c *Calibration) BendFactor() float64 { return c.estimate.softer }

// judge fills the residuals and their root mean squares.
func (c *Calibration) judge() {
	var sumM, sumPx float64
	for _, p := range c.points {
		g := c.ToGrid(p.At)
		de, dn := p.Ref.E-g.E, p.Ref.N-g.N
		r := Residual{EastM: de, NorthM: dn, Px: math.Hypot(c.estimate.plane.pixels(p.At, de, dn))}
		c.residuals = append(c.residuals, r)
		sumM += de*de + dn*dn
		sumPx += r.Px * r.Px
	}
	n := float64(max(1, len(c.points)))
	c.rmsM, c.rmsPx = math.Sqrt(sumM/n), math.Sqrt(sumPx/n)
}

// tangent is the linear map that touches the calibration amid the points.
func (c *Calibration) tangent() linear {
	const h = 0.5 // pixels: a calibration bends over hundreds
	f := c.estimate.plane.frame
	s := linear{frame: f}
	amid := PicturePt{f.col, f.row}
	left, right := c.ToGrid(PicturePt{f.col - h, f.row}), c.ToGrid(PicturePt{f.col + h, f.row})
	up, down := c.ToGrid(PicturePt{f.col, f.row - h}), c.ToGrid(PicturePt{f.col, f.row + h})
	s.a, s.d = (right.E-left.E)/(2*h), (right.N-left.N)/(2*h)
	s.b, s.e = (down.E-up.E)/(2*h), (down.N-up.N)/(2*h)
	g := c.ToGrid(amid)
	s.c, s.f = g.E-f.e, g.N-f.n
	return s
}
