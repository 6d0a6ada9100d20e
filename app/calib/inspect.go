package calib

import (
	"fmt"
	"math"
)

// maxLooseRad is the standard deviation of the sheet's direction beyond which
// the points are said to lie too close together: half a degree.
const maxLooseRad = 0.5 * math.Pi / 180

// inspect runs every check on a finished fit and lists the gravest first.
func inspect(c *Calibration, o Options) []Warning {
	found := findSlips(c, o, kindsFrom(c.kind))
	if c.sol.dof > 0 && !c.sol.fits(1) {
		found = append(found, Warning{Code: CodePoorFit, Text: fmt.Sprintf(
			"the control points do not fit each other: %.1f px off (root mean square), %.0f times what their clicks explain; check references and clicks",
			c.rmsPx, c.S0())})
	}
	if len(c.points) == 2 {
		found = append(found, inspectPair(c, o)...)
	}
	if w, ok := c.trust.warning(o); ok {
		found = append(found, w)
	}
	if c.sol.dof == 0 {
		found = append(found, Warning{Code: CodeNoRedundancy, Text: "nothing checks these control points: add one more and see whether it agrees"})
	}
	if loose := c.sol.looseRad(); loose > maxLooseRad {
		found = append(found, Warning{Code: CodeWeakBase, Text: fmt.Sprintf(
			"the control points lie close together: the direction of the sheet is known to ± %.1f° only; put them far apart", 2*loose*180/math.Pi)})
	}
	return found
}

// looseRad is the a-priori standard deviation of the sheet's direction.
func (s *solution) looseRad() float64 {
	var worst float64
	n := s.model.params()
	for _, at := range [][2]float64{{1, 0}, {0, 1}} {
		je, jn := s.model.rows(at[0], at[1])
		je, jn = s.slope(je), s.slope(jn)
		worst = math.Max(worst, math.Max(quad(je, &s.q, je, n), quad(jn, &s.q, jn, n)))
	}
	return math.Sqrt(worst) / (math.Sqrt(math.Abs(s.det())) * s.frame.radiusPx)
}

// slope drops the shift from the coefficients of a row.
func (s *solution) slope(row vec) vec {
	if s.model == affine {
		row[2], row[5] = 0, 0
		return row
	}
	row[2], row[3] = 0, 0
	return row
}
