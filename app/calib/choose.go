package calib

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Trial is one kind of fit that was tried, judged by leaving each point out in
// turn.
type Trial struct {
	Kind   Kind
	LOOM   float64 // root mean square leave-one-out error, metres (PRESS); +Inf where none can be left out, or it was not tried
	Chosen bool
	Reason string // why it was taken or not, in words
}

// attempt is a trial with its fit: bend is nil for a linear one.
type attempt struct {
	kind Kind
	sol  solution
	bend *bent
	loo  []float64
}

func (a *attempt) chi2() float64 {
	if a.bend != nil {
		return a.bend.chi2
	}
	return a.sol.chi2
}

func (a *attempt) dof() int {
	if a.bend != nil {
		return a.bend.dof
	}
	return a.sol.dof
}

// rmsM is the root mean square residual, metres.
func (a *attempt) rmsM(points []ControlPoint) float64 {
	var sum float64
	for _, p := range points {
		de, dn := a.sol.residual(p)
		if a.bend != nil {
			de, dn = warpResidual(a.bend, a.sol.frame, p)
		}
		sum += de*de + dn*dn
	}
	return math.Sqrt(sum / float64(len(points)))
}

func (a *attempt) looM() float64 {
	var sum float64
	for _, d := range a.loo {
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(a.loo)))
}

// try fits one kind. The error names slips that explain why there is no such
// fit.
func try(points []ControlPoint, kind Kind) (attempt, error) {
	a, err := bare(points, kind)
	if err != nil && a.sol.dof > 0 { // it is the warp that cannot be
		err = withSlips(points, err)
	}
	return a, err
}

// bare is try without a word on slips.
func bare(points []ControlPoint, kind Kind) (attempt, error) {
	a := attempt{kind: kind}
	m := affine
	if kind == Similarity {
		m = similarity
	}
	var err error
	if m == affine {
		err = checkSpread(points)
	}
	if err == nil {
		a.sol, err = mustSolve(points, m)
	}
	if err != nil {
		return a, err
	}
	switch kind {
	case Perspective, Smooth:
		solveBent := solvePerspective
		if kind == Smooth {
			solveBent = solveSmooth
		}
		b, err := solveBent(points)
		if err != nil {
			return a, err
		}
		a.bend, a.loo = &b, b.loo
		a.sol = a.sol.tangent(b, PicturePt{a.sol.frame.col, a.sol.frame.row})
		a.sol.chi2, a.sol.dof = b.chi2, b.dof
	default:
		a.loo = a.sol.leaveOut(points)
	}
	return a, nil
}

// withSlips adds the slips that explain why points allow no warp.
func withSlips(points []ControlPoint, err error) error {
	var unfit *Unfit
	if !errors.As(err, &unfit) || len(unfit.Slips) > 0 || len(points) > maxSmooth {
		return err
	}
	if a, err := bare(points, Affine); err == nil {
		unfit.Slips = findSlips(&Calibration{kind: Affine, points: points, sol: a.sol}, Options{}, kindsFrom(Affine))
	}
	return unfit
}

// leaveOut returns the leave-one-out error of each point, in metres.
func (s *solution) leaveOut(points []ControlPoint) []float64 {
	var normal square
	weigh := func(ControlPoint) float64 { return 1 }
	if unequal(points) {
		scale2 := s.meanScale2()
		weigh = func(p ControlPoint) float64 { return 1 / variance(p, scale2) }
	}
	n := s.model.params()
	for _, p := range points {
		je, jn := s.model.rows(s.frame.centred(p.At))
		var none vec
		gather(&normal, &none, je, weigh(p), 0)
		gather(&normal, &none, jn, weigh(p), 0)
	}
	inv, _ := invert(normal, n)
	out := make([]float64, 0, len(points))
	for _, p := range points {
		je, jn := s.model.rows(s.frame.centred(p.At))
		de, dn := s.residual(p)
		out = append(out, leftOut(je, jn, &inv, weigh(p), de, dn))
	}
	return out
}

// Penalties for freedom: a kind with more of it must lower the leave-one-out
// error to this part of the simpler kind's.
const (
	gainLinear = 0.9
	gainSmooth = 0.7
)

// leastGainPx is by how many pixels a freer kind must lower the leave-one-out
// error where the simpler one fits as well as a hand can click: less is of no
// use to anybody, and the errors of printed lines, which a whole line has in
// common, look like a bend of that size.
const leastGainPx = 0.3

// mostUnasked is with how many points a smooth fit is tried unasked: its time
// grows with their cube, 0.1 s for as many as this, and the window waits.
const mostUnasked = maxSmooth

// propose tries every kind that the points allow, simplest first, and moves to
// a freer one only where that is justified. Points with a slip among them that
// a linear fit explains stay with the linear fit: a freer one would hide it.
func propose(points []ControlPoint, o Options) (attempt, []Trial, error) {
	best, err := try(points, Similarity)
	if err != nil {
		return best, nil, err
	}
	trials := []Trial{{Kind: Similarity, LOOM: best.looM(), Reason: "the simplest: one scale, one turn"}}
	at := 0
	for _, kind := range []Kind{Affine, Perspective, Smooth} {
		if len(points) < atLeast(kind)+1 {
			continue
		}
		if kind == Smooth && len(points) > mostUnasked {
			trials = append(trials, Trial{Kind: kind, LOOM: math.Inf(1), Reason: fmt.Sprintf("not tried unasked with more than %d points: the window would wait for it", mostUnasked)})
			continue
		}
		a, err := try(points, kind)
		if err != nil {
			continue
		}
		ok, reason := better(points, &best, &a, o)
		trials = append(trials, Trial{Kind: kind, LOOM: a.looM(), Reason: reason})
		if ok {
			best, at = a, len(trials)-1
		}
	}
	if a, t, ok := ofPhoto(points, &best, o); ok {
		trials = slices.DeleteFunc(trials, func(t Trial) bool { return t.Kind == Perspective })
		best, trials, at = a, append(trials, t), len(trials)
	}
	trials[at].Chosen = true
	return best, trials, nil
}

// ofPhoto takes the perspective of a photograph's points where nothing simpler
// fits and leave-one-out cannot judge: of four points, and of more that agree
// within their noise, among which one may be needed to hold the others.
func ofPhoto(points []ControlPoint, best *attempt, o Options) (attempt, Trial, bool) {
	if !o.Photo || len(points) < atLeast(Perspective) || best.bend != nil || best.sol.fits(1) || len(slipsOfLinear(points, best, o)) > 0 {
		return attempt{}, Trial{}, false
	}
	a, err := bare(points, Perspective)
	if err != nil || a.sol.det() >= 0 || !a.sol.fits(1) {
		return attempt{}, Trial{}, false
	}
	t := Trial{Kind: Perspective, LOOM: a.looM(), Reason: "the picture is a photograph, whose points agree in perspective and in nothing simpler"}
	if len(points) == atLeast(Perspective) {
		t.LOOM, t.Reason = math.Inf(1), "the picture is a photograph, and nothing simpler fits its four points"
	}
	return a, t, true
}

// better says whether b may take the place of the simpler a, and why.
func better(points []ControlPoint, a, b *attempt, o Options) (bool, string) {
	was, is := a.looM(), b.looM()
	mpp := math.Sqrt(math.Abs(a.sol.det()))
	if gain := (was - is) / mpp; gain < leastGainPx && a.rmsM(points)/mpp <= math.Sqrt2*DefaultSigmaPx {
		if gain < 0.005 {
			return false, fmt.Sprintf("%s fits within what a hand can click, and does no worse at a point left out", a.kind)
		}
		return false, fmt.Sprintf("%s fits within what a hand can click already; it would gain %.2f px at a point left out, which nobody can use", a.kind, gain)
	}
	if b.kind == Affine {
		if justifiesAffine(a.sol, b.sol) {
			return true, fmt.Sprintf("two scales and a shear explain more than noise would: %s m where %s leaves %s m", fine(is), a.kind, fine(was))
		}
		return false, fmt.Sprintf("what it gains on %s is no more than noise would give", a.kind)
	}
	limit := gainLinear
	if b.kind == Smooth {
		limit = gainSmooth
	}
	switch {
	case b.sol.det() >= 0:
		return false, "it would mirror the picture"
	case !(is < limit*was):
		return false, fmt.Sprintf("a point left out is missed by %s m, %s misses it by %s m: not enough gained for its freedom", fine(is), a.kind, fine(was))
	case a.bend == nil && a.sol.fits(1):
		return false, fmt.Sprintf("%s fits within the clicks' own noise already", a.kind)
	case !significant(a, b):
		return false, fmt.Sprintf("what it gains on %s is no more than noise would give", a.kind)
	case len(slipsOfLinear(points, a, o)) > 0:
		return false, "one of the points looks wrong, which it would hide"
	}
	return true, fmt.Sprintf("a point left out is missed by %s m, where %s misses it by %s m", fine(is), a.kind, fine(was))
}

// significant is the F test at one case of a hundred, and the χ² test at one of
// a thousand, for the freedom by which b exceeds a.
func significant(a, b *attempt) bool {
	k, nu := float64(a.dof()-b.dof()), float64(b.dof())
	if k < 1 {
		return b.chi2() < a.chi2()
	}
	gain := a.chi2() - b.chi2()
	if nu < 1 || gain <= chi2Bound(int(k)) {
		return false
	}
	return gain/k > distuv.F{D1: k, D2: nu}.Quantile(0.99)*b.chi2()/nu
}

func slipsOfLinear(points []ControlPoint, a *attempt, o Options) []Warning {
	if a.bend != nil {
		return nil
	}
	linear := []Kind{Affine}
	if a.kind == Similarity {
		linear = []Kind{Similarity, Affine}
	}
	return findSlips(&Calibration{kind: a.kind, points: points, sol: a.sol}, o, linear)
}

// Trials returns the kinds that were tried, simplest first, and why the one
// taken was taken; only the kind asked for where it was not Auto, and none for
// a given matrix. LOOM is infinite where leaving one point out leaves too few, or where it
// was not tried.
func (c *Calibration) Trials() []Trial { return append([]Trial(nil), c.trials...) }
