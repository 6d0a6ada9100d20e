package calib

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/geodesy"
)

// Proof is what showed, independently of the control points, that a
// calibration is right. The zero value means unproved.
type Proof struct {
	Kind   string // "feature" and the like; empty: unproved
	Detail string // a sentence for people
	// By are the places that showed it, each with the reference it was held
	// against, so that the proof can be made again: see Upholds.
	By []ControlPoint
}

// The kinds of proof: by a feature, as CheckFeature gives it, by a corner whose
// latitude and longitude the margin prints, as CheckMargin does, and by crossings
// of the printed grid that a person named on a sheet that its file places.
const (
	ProofFeature     = "feature"
	ProofMargin      = "margin-lat-lon"
	ProofPrintedGrid = "printed-grid"
)

// Same reports whether two proofs are one.
func (p Proof) Same(q Proof) bool {
	return p.Kind == q.Kind && p.Detail == q.Detail && slices.Equal(p.By, q.By)
}

// Proved reports whether there is a proof.
func (p Proof) Proved() bool { return p.Kind != "" }

// Warning returns the warning that goes with an unproved sheet, and false
// where there is a proof.
func (p Proof) Warning() (Warning, bool) {
	if p.Proved() {
		return Warning{}, false
	}
	return Warning{Code: CodeUnproved, Text: "sheet unproved: nothing independent of its control points has shown that it is right"}, true
}

// Limits of a proof by a feature.
const (
	proofLimit     = 2.0   // Mahalanobis distance: 2σ with both axes taken together
	wildFit        = 10.0  // times the click error: points farther off are misread, not clicked loosely (our own bound)
	samePlacePx    = 10.0  // nearer to a control point than this, the feature is that point
	maxProofSigmaM = 125.0 // 2σ of 250 m: a quarter of the usual printed square
)

// FeatureCheck is the outcome of holding a feature against a calibration.
type FeatureCheck struct {
	MissEastM, MissNorthM float64 // reference less calibrated place
	MissM                 float64
	MissSigmas            float64 // miss in combined σ (Mahalanobis distance)
	Agrees                bool
	Reason                string // why it does not count, empty where Agrees
}

// CheckFeature holds an independent feature of known reference against the
// calibration. at is where it was clicked with pickSigmaPx per axis, ref its
// reference with refSigmaM per axis. It agrees if the miss is within 2σ of the
// combined covariance, both axes together. One of the control points (within
// 10 pixels in the picture, or by its reference) proves nothing and is
// refused; so is another crossing of the printed grid where the control points
// are such crossings, for a square misread alike everywhere agrees with it; and
// so is a feature known too loosely to catch a misread square.
// The miss is in metres; NaN where an input is not finite.
func CheckFeature(c *Calibration, at PicturePt, ref geodesy.Grid, refSigmaM, pickSigmaPx float64) (Proof, float64, bool) {
	p := ControlPoint{At: at, Ref: ref, SigmaPx: pickSigmaPx, SigmaRefM: refSigmaM}
	return c.prove(ProofFeature, "a feature of known reference, independent of the control points, agrees", p)
}

// CheckMargin is CheckFeature for a place on the map, such as a corner, whose
// latitude and longitude the margin prints: ref is their place on the grid. They
// are other figures than those of the grid's lines, so that a crossing of these
// proves too: a square misread alike everywhere would not agree. It is for
// calibrations from grid references alone; that is for the caller to see to.
func CheckMargin(c *Calibration, at PicturePt, ref geodesy.Grid, refSigmaM, pickSigmaPx float64) (Proof, float64, bool) {
	p := ControlPoint{At: at, Ref: ref, SigmaPx: pickSigmaPx, SigmaRefM: refSigmaM}
	return c.prove(ProofMargin, "latitude and longitude as they are printed, independent of the grid references of the control points, agree", p)
}

func (c *Calibration) prove(kind, what string, p ControlPoint) (Proof, float64, bool) {
	check := c.examine(p, kind)
	if !check.Agrees {
		return Proof{}, check.MissM, false
	}
	return Proof{
		Kind:   kind,
		Detail: fmt.Sprintf("%s: off by %s m, %.1f of the 2 sigma allowed", what, figure(check.MissM), check.MissSigmas),
		By:     []ControlPoint{p},
	}, check.MissM, true
}

// ExamineFeature is CheckFeature with the reason where a feature does not
// count.
func ExamineFeature(c *Calibration, at PicturePt, ref geodesy.Grid, refSigmaM, pickSigmaPx float64) FeatureCheck {
	return c.examine(ControlPoint{At: at, Ref: ref, SigmaPx: pickSigmaPx, SigmaRefM: refSigmaM}, ProofFeature)
}

// ExamineMargin is CheckMargin with the reason where the place does not count.
func ExamineMargin(c *Calibration, at PicturePt, ref geodesy.Grid, refSigmaM, pickSigmaPx float64) FeatureCheck {
	return c.examine(ControlPoint{At: at, Ref: ref, SigmaPx: pickSigmaPx, SigmaRefM: refSigmaM}, ProofMargin)
}

// examine holds the place of a proof of a kind against the calibration.
func (c *Calibration) examine(p ControlPoint, kind string) FeatureCheck {
	at, ref, refSigmaM := p.At, p.Ref, p.SigmaRefM
	if err := p.check(0); err != nil {
		return FeatureCheck{MissM: math.NaN(), MissSigmas: math.NaN(), Reason: "the feature's position, reference or sigma is not a usable number"}
	}
	place := c.ToGrid(at)
	cov := c.Covariance(at, p.sigmaPx()).add(Cov2{EE: refSigmaM * refSigmaM, NN: refSigmaM * refSigmaM})
	f := FeatureCheck{MissEastM: ref.E - place.E, MissNorthM: ref.N - place.N}
	f.MissM = math.Hypot(f.MissEastM, f.MissNorthM)
	f.MissSigmas = math.Sqrt(cov.mahalanobis2(f.MissEastM, f.MissNorthM))
	f.Reason = c.discount(p, cov, f, kind)
	f.Agrees = f.Reason == ""
	return f
}

// discount says why a feature does not count, or nothing.
func (c *Calibration) discount(p ControlPoint, cov Cov2, f FeatureCheck, kind string) string {
	for i, q := range c.points {
		if pictureDistance(p.At, q.At) < samePlacePx {
			return fmt.Sprintf("this is control point %d: take a feature the calibration was not made from", i+1)
		}
		if gridDistance(p.Ref, q.Ref) < samePlacePx*c.MetresPerPixel() {
			return fmt.Sprintf("this is the reference of control point %d: take a feature the calibration was not made from", i+1)
		}
	}
	if why := c.unfitForProof(p, cov); why != "" {
		return why
	}
	if step := c.printedStep(); step > 0 && kind != ProofMargin && (nearCrossing(p.Ref, step, c.crossingReach(p)) || nearCrossing(c.ToGrid(p.At), step, c.crossingReach(p))) {
		if side := p.SigmaRefM * math.Sqrt(12); side >= step/4 && c.crossingReach(p) >= step/2 {
			return fmt.Sprintf("its reference is good to %s m only, and the control points are crossings of lines every %s m, of which it may be one: a square misread alike everywhere would agree too. "+
				"Type the reference with more figures", figure(side), figure(step))
		}
		return fmt.Sprintf("this is a crossing of the printed grid, every %s m, like the control points: a square misread alike everywhere would agree too. "+
			"Take a trig pillar, a church or another feature whose reference comes from elsewhere", figure(step))
	}
	if sigma := math.Sqrt(cov.major()); !(sigma <= c.mostProofSigma()) {
		return fmt.Sprintf("known to ± %s m only, which cannot catch a misread square: take an exact reference nearer the control points", figure(2*sigma))
	}
	if !(f.MissSigmas <= proofLimit) {
		return fmt.Sprintf("off by %s m, %.1f sigma where 2 are allowed: check the reference, the click and the control points", figure(f.MissM), f.MissSigmas)
	}
	return ""
}

// unfitForProof says why no feature, or not this one, can prove the
// calibration: what is wrong with it is known already, or would not show there.
func (c *Calibration) unfitForProof(p ControlPoint, cov Cov2) string {
	if c.sol.det() > 0 {
		return "the calibration mirrors the picture, so that one feature shows nothing: correct that first"
	}
	for _, w := range c.warnings {
		switch w.Code {
		case CodeMirrored, CodeSwappedAll, CodeSwappedPoint, CodeExchanged, CodeDigitOut, CodeOutlier, CodePhoto:
			return "correct the control points first: " + w.Text
		}
	}
	if c.ClickFactor() > wildFit {
		return fmt.Sprintf("the control points contradict each other by %.0f pixels: correct them first", c.rmsPx)
	}
	if ok, px := c.Trusted(p.At); !ok && c.trust.Code != CodePhoto {
		return fmt.Sprintf("it lies %.0f pixels outside the control points, where the calibration is a guess: take a feature among them", px)
	}
	if c.mirroredAgrees(p, cov) {
		return "it lies on the line through the control points, where a mirrored picture would agree too: take a feature off that line"
	}
	return c.blindTo(p, cov)
}

// mostProofSigma is how loosely a place may be known and still catch a misread
// square: to a quarter of it at 1 σ where the printed lines are close together.
func (c *Calibration) mostProofSigma() float64 {
	if step := c.printedStep(); step > 0 {
		return math.Min(maxProofSigmaM, step/4)
	}
	return maxProofSigmaM
}

// mirroredAgrees reports whether a feature would agree, or nearly, if the picture
// were mirrored about the line that all control points lie on.
func (c *Calibration) mirroredAgrees(p ControlPoint, cov Cov2) bool {
	if c.given || len(c.points) < 2 || len(c.points) > 2 && checkSpread(c.points) == nil {
		return false
	}
	a, b := c.points[0].At, c.points[0].At
	for _, q := range c.points {
		if pictureDistance(a, q.At) > pictureDistance(a, b) {
			b = q.At
		}
	}
	length := pictureDistance(a, b)
	ux, uy := (b.Col-a.Col)/length, (b.Row-a.Row)/length
	off := (p.At.Row-a.Row)*ux - (p.At.Col-a.Col)*uy // to one side of the line
	place := c.ToGrid(PicturePt{p.At.Col + 2*off*uy, p.At.Row - 2*off*ux})
	return math.Sqrt(cov.mahalanobis2(p.Ref.E-place.E, p.Ref.N-place.N)) <= 2*proofLimit
}

// onGridM is how near a coordinate lies to a grid line whose number was typed,
// in metres: it was typed as that number.
const onGridM = 0.5

// closeLinesPx is how near lines may be to each other to be a printed grid at
// all: a finder of grids, and an eye, want that much room.
const closeLinesPx = 4 * samePlacePx

// printedStep returns the interval in metres of the printed grid that control
// points are crossings of, 0 where none is a crossing. One is enough: a few
// points that are none do not always show what is misread alike at the others.
// Maps for walking are printed with lines each 1000 m, 500 m or 250 m, those for
// running and plans of a site with lines each 200 m or 100 m (common practice, no
// source): see fineGrid.
func (c *Calibration) printedStep() float64 {
	found := 0.0
	for _, q := range c.points {
		for _, step := range []float64{1000, 500, 250, 200, 100} {
			if !onCrossing(q, step) || step < 250 && !c.fineGrid(step) {
				continue
			}
			if found == 0 || step < found {
				found = step
			}
			break
		}
	}
	return found
}

// fineGrid reports whether lines so near to each other may be the printed grid:
// there is room for them in the picture, and two points that are on none of the
// usual lines, or all points, are crossings of them. One alone may be a feature
// whose reference happens to be a multiple of 100 m.
func (c *Calibration) fineGrid(step float64) bool {
	if step < closeLinesPx*c.MetresPerPixel() {
		return false
	}
	on, alone := 0, 0
	for _, q := range c.points {
		if onCrossing(q, step) {
			on++
			if !onCrossing(q, 250) {
				alone++
			}
		}
	}
	return on >= 2 && (alone >= 2 || on == len(c.points))
}

// onCrossing reports whether a control point is a crossing of lines of a step.
func onCrossing(q ControlPoint, step float64) bool {
	return onStep(q.Ref.E, step) && onStep(q.Ref.N, step)
}

// crossingReach is how near a crossing of the printed grid a feature is taken
// to be that crossing, in metres: as near as a click is to a control point,
// and the side of the square its reference stands for.
func (c *Calibration) crossingReach(p ControlPoint) float64 {
	return samePlacePx*c.MetresPerPixel() + p.SigmaRefM*math.Sqrt(12)
}

// nearCrossing reports whether both coordinates lie within reach of a multiple
// of a step.
func nearCrossing(g geodesy.Grid, step, reach float64) bool {
	return math.Abs(math.Remainder(g.E, step)) <= reach && math.Abs(math.Remainder(g.N, step)) <= reach
}

// onStep reports whether a coordinate is a multiple of a step.
func onStep(v, step float64) bool { return math.Abs(v-step*math.Round(v/step)) <= onGridM }

// major is the variance along the long axis of the error ellipse.
func (c Cov2) major() float64 {
	return (c.EE+c.NN)/2 + math.Hypot((c.EE-c.NN)/2, c.EN)
}
