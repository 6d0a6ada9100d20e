package calib

import (
	"errors"
	"fmt"
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// minApartPx is how far two control points must lie apart in the picture.
const minApartPx = 2.0

// minApartM is how far two references must differ: they are kept to 1 mm.
const minApartM = 1e-3

// MostPoints is how many control points Fit takes: its time grows with their
// cube.
const MostPoints = 1500

// Fit calibrates a picture by two control points or more. A photograph with
// fewer than four is fitted as if it were a scan, and marked. Errors:
// ErrTooFewPoints, *BadPoint, *Coincident, *SameReference, *Collinear (a
// photograph), *Unfit. Whatever else looks wrong is in the calibration's
// Cautions.
func Fit(points []ControlPoint, o Options) (*Calibration, error) {
	if err := Check(points, o); err != nil {
		return nil, err
	}
	points = append([]ControlPoint(nil), points...)
	e, err := estimateOf(points, o)
	if errors.Is(err, ErrSingular) {
		err = whyNoFit(points, o)
	}
	if err != nil {
		return nil, err
	}
	c := &Calibration{options: o, points: points, estimate: e, ownM: o.SharedM}
	c.finish()
	c.reaches = new(reaches)
	return c, nil
}

// Check returns the errors of Fit that need no fit to be found: ErrTooFewPoints,
// *BadPoint, *Coincident, *SameReference, and *Unfit for too many points.
func Check(points []ControlPoint, o Options) error {
	if err := o.check(); err != nil {
		return err
	}
	switch n := len(points); {
	case n < 2:
		return fmt.Errorf("%w: %d given, at least 2 needed", ErrTooFewPoints, n)
	case n > MostPoints:
		return &Unfit{Reason: fmt.Sprintf("%d control points are too many: keep at most %d, spread over the sheet", n, MostPoints)}
	}
	return checkPoints(points)
}

// finish works out what is known of a calibration before anybody asks.
func (c *Calibration) finish() {
	c.sway = c.estimate.sway()
	c.sol = c.tangent()
	c.judge()
	c.hull = hullOf(c.points)
	c.trust = c.weigh()
	c.cautions = inspect(c)
}

// checkPoints refuses bad values, coincident points and repeated references.
func checkPoints(points []ControlPoint) error {
	for i, p := range points {
		if err := p.check(i); err != nil {
			return err
		}
	}
	for i, p := range points {
		for j, q := range points[:i] {
			if d := pictureDistance(p.At, q.At); d < minApartPx {
				return &Coincident{I: j, J: i, DistancePx: d}
			}
			if SameGround(p.Ref, q.Ref) {
				return &SameReference{I: j, J: i, Text: q.Text}
			}
		}
	}
	return nil
}

// SameGround reports whether two references are too close to be those of two control
// points.
func SameGround(a, b geodesy.Grid) bool { return gridDistance(a, b) < minApartM }

// whyNoFit says what lies behind points of which a similarity makes nothing: on a
// regular square of points, a mirrored picture or swapped coordinates leave no scale
// at all.
func whyNoFit(points []ControlPoint, o Options) *Unfit {
	out := &Unfit{Reason: "no calibration can be made from these control points: check their references", Err: ErrSingular}
	if k, ok := turnedOver(points, o, math.Inf(1)); ok && len(points) > 2 {
		out.Reason, out.Cautions = k.Text(), []caution.Caution{k}
	}
	return out
}

// checkFour refuses points of a photograph of which all, or all but one, lie
// on one line: no four of them are then in general position.
func checkFour(points []ControlPoint) error {
	if err := checkSpread(points); err != nil {
		return err
	}
	if len(points) > planeFreedom {
		return nil
	}
	for i := range points {
		if err := checkSpread(without(points, i)); err != nil {
			return err
		}
	}
	return nil
}

func without(points []ControlPoint, i int) []ControlPoint {
	return append(append(make([]ControlPoint, 0, len(points)), points[:i]...), points[i+1:]...)
}

// checkSpread refuses points on one line: their spread across it must be at
// least 1% of that along it, and 3 σ of a click.
func checkSpread(points []ControlPoint) error {
	width, length := spread(points)
	var sigma float64
	for _, p := range points {
		sigma = math.Max(sigma, p.sigmaPx())
	}
	if width < 0.01*length || width < 3*sigma {
		return &Collinear{WidthPx: width, LengthPx: length}
	}
	return nil
}

// spread returns the root mean square extents of the points across and along
// their principal axis, in pixels.
func spread(points []ControlPoint) (width, length float64) {
	f := newFrame(points)
	var uu, uv, vv float64
	for _, p := range points {
		u, v := p.At.Col-f.col, p.At.Row-f.row
		uu, uv, vv = uu+u*u, uv+u*v, vv+v*v
	}
	n := float64(len(points))
	mean, diff := (uu+vv)/2, math.Hypot((uu-vv)/2, uv)
	return math.Sqrt(math.Max(0, mean-diff) / n), math.Sqrt((mean + diff) / n)
}
