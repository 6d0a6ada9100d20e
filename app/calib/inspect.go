package calib

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"legwright/app/caution"
)

// Limits of what control points may say before it is called wrong.
const (
	maxLooseRad  = 0.5 * math.Pi / 180 // standard deviation of the sheet's direction
	mostStretch  = 0.02                // of the length: paper and copiers stretch by 1% to 2% (common practice, no source)
	mostShearRad = 0.4 * math.Pi / 180
)

// inspect runs every check on a finished fit and lists the gravest first.
func inspect(c *Calibration) []Warning {
	found := findSlips(c)
	if len(found) == 0 && c.mirrors() {
		found = []Warning{nameMirror(c.points)}
	}
	named := len(found) > 0
	g := c.estimate.gls
	if q := c.estimate.strict; !named && g.rank > 0 && q > mostMisfit(g.rank) {
		found = append(found, Warning{Code: CodePoorFit, Text: fmt.Sprintf(
			"the control points do not fit each other: %.0f times as far off as clicks explain; check references and clicks",
			math.Sqrt(q/float64(g.rank))), Args: [caution.MostArgs]string{fmt.Sprintf("%.1f px", c.rmsPx), fmt.Sprintf("%.1f px", c.rmsPx/math.Sqrt(q/mostMisfit(g.rank)))}})
	}
	if w, ok := c.stretched(); ok && !named {
		found = append(found, w)
	}
	if len(c.points) == 2 {
		found = append(found, inspectPair(c)...)
	}
	if w, ok := c.trust.warning(); ok {
		found = append(found, w)
	}
	if g.rank == 0 {
		found = append(found, Warning{Code: CodeNoRedundancy, Text: "nothing checks these control points: add one more and see whether it agrees"})
	}
	if loose := c.looseRad(); loose > maxLooseRad && !named {
		found = append(found, Warning{Code: CodeWeakBase, Text: fmt.Sprintf(
			"the control points lie close together: the direction of the sheet is known to ± %.1f° only; put them far apart", 2*loose*180/math.Pi), Args: [caution.MostArgs]string{fmt.Sprintf("%.1f°", 2*loose*180/math.Pi)}})
	}
	return found
}

// mirrors reports whether north lies clockwise of east in the picture as it is
// calibrated. Four points of a photograph may fit so, and say nothing else.
func (c *Calibration) mirrors() bool {
	at := PicturePt{c.estimate.plane.frame.col, c.estimate.plane.frame.row}
	g, right, down := c.ToGrid(at), c.ToGrid(PicturePt{at.Col + 1, at.Row}), c.ToGrid(PicturePt{at.Col, at.Row + 1})
	return (right.E-g.E)*(down.N-g.N)-(down.E-g.E)*(right.N-g.N) > 0
}

// mostMisfit is the misfit that sound points exceed in one case of a thousand.
// The clicks' σ is unknown with a prior, so that misfit ÷ redundancy follows
// Fisher's distribution.
func mostMisfit(rank int) float64 {
	m := float64(rank)
	return m * distuv.F{D1: m, D2: clickFreedom}.Quantile(0.999)
}

// stretched says that the control points want paper that stretched or sheared
// more than paper does, and how far references may be out to explain it.
func (c *Calibration) stretched() (Warning, bool) {
	k := c.estimate.design.plane
	across, down, shear := c.estimate.gls.theta[k], c.estimate.gls.theta[k+1], c.estimate.gls.theta[k+2]
	extent := 2 * c.estimate.plane.frame.radiusPx * c.MetresPerPixel()
	part := math.Abs(across - down)
	switch {
	case math.Max(math.Abs(across), math.Abs(down)) > mostStretch:
		longer, shorter := "left to right", "top to bottom"
		if across > down { // the paper shrank along columns
			longer, shorter = shorter, longer
		}
		return Warning{Code: CodeStretched, Text: fmt.Sprintf(
			"the picture would be stretched by %.1f %% from %s against %s, where paper stretches by 1 or 2 %%: the references on one side look about %s m out. Check the references of each row and column of control points",
			100*part, longer, shorter, figure(part*extent)), Args: [caution.MostArgs]string{
			fmt.Sprintf("%.1f %%", 100*part), "The references on one side look about " + figure(part*extent) + " m out: compare those of each row and column",
		}}, true
	case math.Abs(shear) > mostShearRad:
		return Warning{Code: CodeStretched, Text: fmt.Sprintf(
			"the picture would be sheared by %.1f°, where paper shears by 0.1° or 0.2°: the references on one side look about %s m out. Check the references of each row and column of control points",
			math.Abs(shear)*180/math.Pi, figure(math.Abs(shear)*extent)), Args: [caution.MostArgs]string{
			fmt.Sprintf("%.1f° askew", math.Abs(shear)*180/math.Pi), "The references on one side look about " + figure(math.Abs(shear)*extent) + " m out: compare those of each row and column",
		}}, true
	}
	return Warning{}, false
}

// looseRad is the standard deviation of a flat sheet's direction.
func (c *Calibration) looseRad() float64 {
	if c.estimate.design.plane != similarFreedom {
		return 0
	}
	return math.Sqrt(c.estimate.gls.inv.At(1, 1)) / c.estimate.plane.frame.radiusPx
}
