package calib

import (
	"fmt"
	"math"

	"legwright/app/geodesy"
)

// UsualSquareM is the side in metres of the printed squares of nearly every
// walking map, taken where nothing else says it (common practice, no source).
const UsualSquareM = 1000

// misreadStep is by how much a reference is off that was read one line too far,
// metres.
func (c *Calibration) misreadStep() float64 {
	if step := c.printedStep(); step > 0 {
		return step
	}
	return UsualSquareM
}

// blindTo names a slip among control points, which nothing checks but the
// feature, that this would not show, "" where it would show each: a reference
// read one line too far, or two that were exchanged, would leave it nearly where
// it is.
func (c *Calibration) blindTo(p ControlPoint, cov Cov2) string {
	if c.given || c.DOF() > 0 {
		return ""
	}
	hidden := func(points []ControlPoint) bool {
		e, err := estimateOf(points, c.options)
		if err != nil {
			return false
		}
		place := e.at(p.At)
		return math.Sqrt(cov.mahalanobis2(p.Ref.E-place.E, p.Ref.N-place.N)) <= 2*proofLimit
	}
	step := c.misreadStep()
	for i := range c.points {
		for _, off := range [...]geodesy.Grid{{E: step}, {E: -step}, {N: step}, {N: -step}} {
			points := c.Points()
			points[i].Ref.E += off.E
			points[i].Ref.N += off.N
			if hidden(points) {
				return fmt.Sprintf("a square misread at control point %d would hardly show here, and nothing else checks that point: take a feature farther from the other points, or add a control point first", i+1)
			}
		}
		for j := range i {
			points := c.Points()
			points[i].Ref, points[j].Ref = points[j].Ref, points[i].Ref
			if hidden(points) {
				return fmt.Sprintf("were the references of control points %d and %d exchanged, it would hardly show here, and nothing else checks them: take a feature elsewhere, or add a control point first", j+1, i+1)
			}
		}
	}
	return ""
}

// AgreesMisread reports whether the sheet would have a place where its reference
// is, or nearly, if all control points had been read the same number of printed
// lines too far, and not if they are right. It is for a place of which two
// references are held against the sheet: where one of them agrees and the other
// does so, it is not known which of both the sheet is.
func (c *Calibration) AgreesMisread(p ControlPoint) bool {
	step := c.printedStep()
	if step == 0 {
		return false
	}
	place := c.ToGrid(p.At)
	cov := c.Covariance(p.At, p.sigmaPx()).add(Cov2{EE: p.SigmaRefM * p.SigmaRefM, NN: p.SigmaRefM * p.SigmaRefM})
	east, north := p.Ref.E-place.E, p.Ref.N-place.N
	if math.Abs(east) < step/2 && math.Abs(north) < step/2 {
		return false // no line too far
	}
	return math.Sqrt(cov.mahalanobis2(math.Remainder(east, step), math.Remainder(north, step))) <= 2*proofLimit
}
