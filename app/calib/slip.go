package calib

import (
	"fmt"
	"math"
	"sort"

	"legwright/app/geodesy"
)

// Limits of the search for slips.
const (
	maxSuspects  = 12 // points tried, worst residual first
	maxNamed     = 4  // explanations listed
	slipGain     = 16 // undoing a slip must divide the misfit by this
	rivalMisfit  = 30 // an explanation this much worse in χ² is no rival
	minFreedom   = 0.02
	digitSigmas3 = 20 // three points: a digit's unit must exceed this many σ, four and more:
	digitSigmas  = 5
)

// slip is one explanation of why points do not fit: undo it, and they do.
type slip struct {
	Warning
	sol solution
}

// slipSearch holds what the trials share.
type slipSearch struct {
	points []ControlPoint
	model  model
	base   solution
	dpi    float64
	found  []slip
}

func swapped(g geodesy.Grid) geodesy.Grid { return geodesy.Grid{E: g.N, N: g.E} }

func swapWords(i int) string {
	return fmt.Sprintf("control point %d: easting and northing look exchanged", i+1)
}

// findSlips tries the usual slips where three or more points of a flat sheet do
// not fit each other, and names those that would explain it.
func findSlips(c *Calibration) []Warning {
	if len(c.points) < 3 || c.options.Medium == Photograph {
		return nil
	}
	t := slipSearch{points: c.points, model: similarity, dpi: c.options.DPI}
	var ok bool
	if len(c.points) >= 5 {
		if t.base, ok = solve(c.points, affine); ok {
			t.model = affine
			if t.base.det() > 0 && t.base.fits(3) {
				return []Warning{nameMirror(c.points)}
			}
		}
	}
	if !ok {
		t.base, ok = solve(c.points, similarity)
	}
	if !ok || t.base.fits(1) {
		return nil
	}
	t.run()
	return t.verdict()
}

func (t *slipSearch) run() {
	if t.model == similarity && checkSpread(t.points) == nil {
		t.tryFit(nameMirror(t.points), t.points, mirrored)
	}
	suspects := t.suspects()
	for _, i := range suspects {
		t.tryRefs(Warning{Code: CodeSwappedPoint, Text: swapWords(i), Points: [2]int{i + 1}}, map[int]geodesy.Grid{i: swapped(t.points[i].Ref)})
		t.tryDigit(i)
	}
	for a, i := range suspects {
		for _, j := range suspects[:a] {
			i, j := min(i, j), max(i, j)
			t.tryRefs(Warning{Code: CodeExchanged, Text: fmt.Sprintf("control points %d and %d: their references look exchanged", i+1, j+1), Points: [2]int{i + 1, j + 1}},
				map[int]geodesy.Grid{i: t.points[j].Ref, j: t.points[i].Ref})
		}
	}
	if len(t.found) == 0 {
		for _, i := range suspects {
			t.tryWithout(i)
		}
	}
}

// suspects lists the points by residual, the worst first.
func (t *slipSearch) suspects() []int {
	order := make([]int, len(t.points))
	size := make([]float64, len(t.points))
	for i, p := range t.points {
		order[i] = i
		size[i] = math.Hypot(t.base.residual(p))
	}
	sort.SliceStable(order, func(a, b int) bool { return size[order[a]] > size[order[b]] })
	return order[:min(len(order), maxSuspects)]
}

// tryFit keeps the explanation w if the points, changed as it says, fit.
func (t *slipSearch) tryFit(w Warning, points []ControlPoint, m model) {
	s, ok := solve(points, m)
	if !ok || s.dof == 0 {
		return
	}
	allow := 3.0 // clicks may be this much worse than stated
	if len(points) == 3 {
		allow = 1
	}
	if s.fits(allow) && t.base.chi2 >= slipGain*math.Max(s.chi2, float64(s.dof)) {
		t.found = append(t.found, slip{w, s})
	}
}

// tryRefs is tryFit with some references replaced.
func (t *slipSearch) tryRefs(w Warning, refs map[int]geodesy.Grid) {
	points := append([]ControlPoint(nil), t.points...)
	for i, ref := range refs {
		points[i].Ref = ref
	}
	t.tryFit(w, points, t.model)
}

// tryWithout tests whether point i alone is out of place.
func (t *slipSearch) tryWithout(i int) {
	rest := without(t.points, i)
	if s, ok := solve(rest, t.model); ok {
		de, dn := s.residual(t.points[i])
		col, row := s.unstep(de, dn)
		t.tryFit(Warning{Code: CodeOutlier, Text: fmt.Sprintf(
			"control point %d does not fit the others: its reference lies %s m (%.0f px) from where they put it",
			i+1, figure(math.Hypot(de, dn)), math.Hypot(col, row)), Points: [2]int{i + 1}}, rest, t.model)
	}
}

// tryDigit tests whether one digit of the easting or the northing of point i
// is wrong. The others' opinion of the coordinate is its residual divided by
// one less its leverage (Cook and Weisberg, Residuals and Influence in
// Regression, 1982, section 2.2).
func (t *slipSearch) tryDigit(i int) {
	p := t.points[i]
	de, dn := t.base.residual(p)
	je, jn := t.base.model.rows(t.base.frame.centred(p.At))
	cov := t.base.pointCov(p.sigmaPx(), p.SigmaRefM)
	for _, axis := range []struct {
		name     string
		row      vec
		res, own float64
		step     geodesy.Grid
	}{
		{"easting", je, de, cov.EE, geodesy.Grid{E: 1}},
		{"northing", jn, dn, cov.NN, geodesy.Grid{N: 1}},
	} {
		free := 1 - quad(axis.row, &t.base.q, axis.row, maxParams)/axis.own
		if free < minFreedom {
			continue
		}
		off := t.digit(axis.res/free, math.Sqrt(axis.own/free))
		if off == 0 {
			continue
		}
		t.tryRefs(Warning{Code: CodeDigitOut, Text: fmt.Sprintf("control point %d: %s looks %s m too %s", i+1, axis.name, figure(off), greatOrSmall(off)), Points: [2]int{i + 1}},
			map[int]geodesy.Grid{i: {E: p.Ref.E - off*axis.step.E, N: p.Ref.N - off*axis.step.N}})
	}
}

// digit returns the one-digit step (a digit times a power of ten) nearest to
// off, or 0 where its unit does not stand out of the noise sigma.
func (t *slipSearch) digit(off, sigma float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(off))))
	need := digitSigmas * sigma
	if len(t.points) == 3 {
		need = digitSigmas3 * sigma
	}
	if !(unit >= need) || unit > maxMetres {
		return 0
	}
	return unit * math.Round(off/unit)
}

func greatOrSmall(off float64) string {
	if off > 0 {
		return "great"
	}
	return "small"
}

// nameMirror says whether points that fit a mirrored picture better are
// explained by eastings and northings exchanged, after which the sheet stands
// upright or on its head, or by a picture flipped over.
func nameMirror(points []ControlPoint) Warning {
	turned := append([]ControlPoint(nil), points...)
	for i := range turned {
		turned[i].Ref = swapped(turned[i].Ref)
	}
	if s, ok := solve(turned, similarity); ok && math.Abs(math.Cos(s.rotation().Rad())) > math.Sqrt2/2 {
		return Warning{Code: CodeSwappedAll, Text: "easting and northing look exchanged at every control point"}
	}
	return Warning{Code: CodeMirrored, Text: "the picture looks mirrored: turn the scan over or flip it, then place the control points again"}
}

// verdict lists the explanations that remain: implausible ones give way to
// plausible ones, and worse ones to better.
func (t *slipSearch) verdict() []Warning {
	keep := t.plausible()
	sort.SliceStable(keep, func(a, b int) bool { return keep[a].sol.chi2 < keep[b].sol.chi2 })
	var out []Warning
	for _, s := range keep {
		if len(out) < maxNamed && s.sol.chi2 <= keep[0].sol.chi2+rivalMisfit {
			out = append(out, s.Warning)
		}
	}
	if len(out) > 1 {
		for i := range out {
			out[i].Text = fmt.Sprintf("one of %d%s%s", len(out), severalWords, out[i].Text)
		}
	}
	return out
}

// severalWords stand before one explanation of several.
const severalWords = " explanations: "

// plausible drops explanations that leave the sheet askew or at an unusual
// scale, unless that leaves none.
func (t *slipSearch) plausible() []slip {
	var good []slip
	for _, s := range t.found {
		mpp := math.Sqrt(math.Abs(s.sol.det()))
		if offQuarterDeg(s.sol.rotation()) <= maxOffQuarterDeg && unlikelyScale(mpp, t.dpi) == "" {
			good = append(good, s)
		}
	}
	if len(good) == 0 {
		return t.found
	}
	return good
}
