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
func inspect(c *Calibration) []caution.Caution {
	if c.Tilted() {
		return []caution.Caution{caution.Of(caution.PhotoNeedsFive)}
	}
	g, q := c.estimate.gls, c.estimate.strict
	found := c.facing()
	if len(found) == 0 && g.rank > 0 && q > mostMisfit(g.rank) {
		found = append(found, caution.Of(caution.PoorFit, fmt.Sprintf("%.1f px", c.rmsPx), fmt.Sprintf("%.1f px", c.rmsPx/math.Sqrt(q/mostMisfit(g.rank)))))
	}
	if k, ok := c.stretched(); ok {
		found = append(found, k)
	}
	if caution.Stops(found, caution.All) {
		return found // a wide error comes from the misfit, not from where the points lie
	}
	if len(c.points) == 2 {
		found = append(found, inspectPair(c)...)
	}
	switch t := c.trust; t.Code {
	case caution.PhotoNeedsFive:
		found = append(found, caution.Of(t.Code))
	case caution.ShortReach:
		found = append(found, caution.Of(t.Code, figure(t.FarErrorM)+" m"))
	}
	if g.rank == 0 {
		found = append(found, caution.Of(caution.NoRedundancy))
	}
	if loose := c.looseRad(); loose > maxLooseRad {
		found = append(found, caution.Of(caution.WeakBase, fmt.Sprintf("%.1f°", 2*loose*180/math.Pi)))
	}
	return found
}

// facing says that the picture looks mirrored.
func (c *Calibration) facing() []caution.Caution {
	g, q := c.estimate.gls, c.estimate.strict
	if c.mirrors() {
		return []caution.Caution{mirrorCaution(c.points)}
	}
	if c.options.Medium == Photograph || g.rank == 0 || q <= mostMisfit(g.rank) {
		return nil
	}
	if k, ok := turnedOver(thinned(c.points, mostSearched), c.options, q); ok {
		return []caution.Caution{k}
	}
	return nil
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
func (c *Calibration) stretched() (caution.Caution, bool) {
	k := c.estimate.design.plane
	across, down, shear := c.estimate.gls.theta[k], c.estimate.gls.theta[k+1], math.Abs(c.estimate.gls.theta[k+2])
	extent := 2 * c.estimate.plane.frame.radiusPx * c.MetresPerPixel()
	repair := func(part float64) string {
		if c.options.Medium == Photograph {
			return "Compare the references of each row and column; if all are right, open the photograph as the camera took it, not cropped or straightened"
		}
		return "The references on one side look about " + figure(part*extent) + " m out: compare those of each row and column"
	}
	switch part := math.Abs(across - down); {
	case math.Max(math.Abs(across), math.Abs(down)) > mostStretch:
		return caution.Of(caution.Stretched, fmt.Sprintf("stretched by %.1f %%", 100*part), repair(part)), true
	case shear > mostShearRad:
		return caution.Of(caution.Stretched, fmt.Sprintf("skewed by %.1f°", shear*180/math.Pi), repair(shear)), true
	}
	return caution.Caution{}, false
}

// looseRad is the standard deviation of a flat sheet's direction.
func (c *Calibration) looseRad() float64 {
	if c.estimate.design.plane != similarFreedom {
		return 0
	}
	return math.Sqrt(c.estimate.gls.inv.At(1, 1)) / c.estimate.plane.frame.radiusPx
}
