package calib

import (
	"fmt"
	"math"
)

// minApartPx is how far two control points must lie apart in the picture.
const minApartPx = 2.0

// minApartM is how far two references must differ: they are kept to 1 mm.
const minApartM = 1e-3

// Fit calibrates a picture by its control points. Auto and Similarity need two
// points, Affine three, Perspective four and Smooth nine. Errors: ErrTooFewPoints, ErrKind, *BadPoint,
// *Coincident, *SameReference, *Collinear (not for a similarity), *Unfit. Whatever
// else looks wrong is in the calibration's Warnings; the fit is made as asked.
func Fit(points []ControlPoint, o Options) (*Calibration, error) {
	if err := checkOptions(points, o); err != nil {
		return nil, err
	}
	if err := checkPoints(points); err != nil {
		return nil, err
	}
	points = append([]ControlPoint(nil), points...)
	best, trials, err := choose(points, o)
	if err != nil {
		return nil, err
	}
	if err := best.sol.invertible(); err != nil {
		return nil, err
	}
	c := &Calibration{kind: best.kind, points: points, sol: best.sol, trials: trials, ownM: o.SharedM}
	if o.Photo {
		o.Medium = Photograph
	}
	var ok bool
	if c.estimate, ok = estimateOf(points, o); !ok {
		return nil, whyNoFit(points)
	}
	if best.bend != nil {
		c.bend = best.bend
	}
	c.judge()
	c.hull = hullOf(points)
	c.trust = c.weigh(o)
	c.warnings = inspect(c, o)
	return c, nil
}

func checkOptions(points []ControlPoint, o Options) error {
	if !o.Kind.Known() || o.Kind == Given {
		return fmt.Errorf("%w, not %s", ErrKind, o.Kind)
	}
	need := atLeast(o.Kind)
	if len(points) < need {
		return fmt.Errorf("%w: %d given, at least %d needed", ErrTooFewPoints, len(points), need)
	}
	if math.IsNaN(o.DPI) || o.DPI < 0 || o.DPI > 1e5 {
		return &Unfit{Reason: fmt.Sprintf("dpi is %g: it must lie between 0 (unknown) and 100000", o.DPI)}
	}
	if !(o.SharedM >= 0 && o.SharedM <= maxSigmaM) {
		return &Unfit{Reason: fmt.Sprintf("the error that the points share is %g m: it must lie between 0 and %g", o.SharedM, maxSigmaM)}
	}
	if o.Width < 0 || o.Height < 0 {
		return &Unfit{Reason: fmt.Sprintf("the picture is %d × %d pixels: sizes must not be negative", o.Width, o.Height)}
	}
	return nil
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
			if gridDistance(p.Ref, q.Ref) < minApartM {
				return &SameReference{I: j, J: i}
			}
		}
	}
	return nil
}

// choose fits the kind asked for, or the one that the points justify.
func choose(points []ControlPoint, o Options) (attempt, []Trial, error) {
	if o.Kind == Auto {
		return propose(points, o)
	}
	a, err := try(points, o.Kind)
	if err != nil {
		return a, nil, err
	}
	return a, []Trial{{Kind: a.kind, LOOM: a.looM(), Chosen: true, Reason: "as asked for"}}, nil
}

func mustSolve(points []ControlPoint, m model) (solution, error) {
	s, ok := solve(points, m)
	if !ok {
		return s, whyNoFit(points)
	}
	return s, nil
}

// whyNoFit names the slip behind points of which a similarity makes nothing:
// on a regular square of points, a mirrored picture or exchanged coordinates
// leave no scale at all.
func whyNoFit(points []ControlPoint) *Unfit {
	if len(points) >= 3 && checkSpread(points) == nil {
		if s, ok := solve(points, mirrored); ok && s.fits(3) {
			slip := nameMirror(points)
			return &Unfit{Reason: "the control points do not determine a fit: " + slip.Text, Slips: []Warning{slip}, Err: ErrSingular}
		}
	}
	return &Unfit{Reason: "the control points do not determine a fit: check the references", Err: ErrSingular}
}

// justifiesAffine is the rule by which Auto takes an affine fit. All of these
// must hold: at least four points, so that the affine fit has redundancy of
// its own; it does not mirror the picture; its two further parameters lower
// the misfit by more than noise of the stated σ would do in one case of a
// thousand (χ² with 2 degrees of freedom); and by more than noise of the size
// seen would do in one case of a hundred (F test, whose quantile has a closed
// form for 2 and ν degrees of freedom).
func justifiesAffine(sim, aff solution) bool {
	if aff.dof < 2 || aff.det() >= 0 {
		return false
	}
	gain := sim.chi2 - aff.chi2
	nu := float64(aff.dof)
	f := nu / 2 * (math.Pow(0.01, -2/nu) - 1)
	return gain > -2*math.Log(0.001) && gain/2 > f*aff.chi2/nu
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
