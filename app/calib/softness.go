package calib

import (
	"cmp"
	"math"
	"slices"
)

// The search for the clicks' scale and the paper's softness.
const (
	tightestLog2, loosestLog2 = -4.0, 10.0 // of the scale of the clicks' variance
	softPoints                = 10         // how many points may say that a picture bends more than paper does
	softest                   = 32.0       // by how much at most
	softGain                  = 10.0       // by how much −2·ln likelihood must fall for it: odds of 150 to 1,
	softDoubles               = 4.0        // and by how much more for each doubling
	softWithin                = 4.0        // by how much it may rise along printed lines, which show how paper bends
	looseEnough               = 1.5        // clicks must look so much looser before it is asked
)

// deviance is −2·ln of the restricted likelihood of scale and softness (Patterson
// and Thompson, Biometrika 58, 1971), times the prior of the scale: an
// inverse χ² with clickFreedom degrees of freedom about 1.
func (e *estimate) deviance() float64 {
	return e.gls.logDet + e.gls.misfit + clickFreedom*(math.Log(e.scale)+1/e.scale)
}

// settled fits with the likeliest scale of the clicks' variance: downhill by
// factors of two, then by the parabola through the last three.
func (e estimate) settled(points []ControlPoint) (estimate, bool) {
	best, ok := e.refine(points)
	if !ok {
		return best, false
	}
	best.strict = best.gls.misfit
	if best.gls.rank == 0 {
		return best, true
	}
	at := func(log2 float64) (estimate, float64, bool) {
		next := best
		next.scale = math.Exp2(log2)
		next, ok := next.refine(points)
		if !ok {
			return next, math.Inf(1), false
		}
		return next, next.deviance(), true
	}
	mid := math.Log2(e.scale)
	least := best.deviance()
	_, below, _ := at(mid - 1)
	_, above, _ := at(mid + 1)
	tightest := tightestLog2
	if !typed(points) {
		tightest = 0
	}
	for below < least && mid > tightest {
		mid, above, least = mid-1, least, below
		_, below, _ = at(mid - 1)
	}
	for above < least && mid < loosestLog2 {
		mid, below, least = mid+1, least, above
		_, above, _ = at(mid + 1)
	}
	mid += parabola(below, least, above)
	if len(points) <= finePoints {
		const step = 0.25
		_, below, _ = at(mid - step)
		_, least, _ = at(mid)
		_, above, _ = at(mid + step)
		mid += step * parabola(below, least, above)
	}
	best, _, ok = at(math.Max(mid, tightest))
	return best, ok
}

// typed reports whether people clicked all points. Those found along printed
// lines err together, line by line, and those of a file all alike, so that they
// may agree better than their σ without being better.
func typed(points []ControlPoint) bool {
	return !slices.ContainsFunc(points, func(p ControlPoint) bool { return p.Source != TypedPoint })
}

// parabola is where the least value lies of which three neighbours are known,
// in steps from the middle one, at most one to either side.
func parabola(below, mid, above float64) float64 {
	bend := below - 2*mid + above
	if !(bend > 0) || math.IsInf(bend, 1) {
		return 0
	}
	return math.Max(-1, math.Min(1, (below-above)/(2*bend)))
}

// finePoints is of how many points the scale is sought more finely: with more
// the first parabola is as good, and a fit takes longer.
const finePoints = 40

// mostSearched is of how many points at most scale and softness are sought: two
// numbers need no more, and each try takes time with the cube of the points.
const mostSearched = 64

// searched seeks scale and softness, and fits all points with them.
func (e estimate) searched(points []ControlPoint) (estimate, bool) {
	some := thinned(points, mostSearched)
	e, ok := e.settled(some)
	if !ok {
		return e, false
	}
	e = e.freed(some)
	if len(some) == len(points) {
		return e, true
	}
	strict := e
	strict.scale = 1
	if strict, ok = strict.refine(points); !ok {
		return e, false
	}
	e.strict = strict.gls.misfit
	return e.refine(points)
}

// thinned returns at most so many of the points, spread over them in the order of
// their columns and rows.
func thinned(points []ControlPoint, most int) []ControlPoint {
	if len(points) <= most {
		return points
	}
	sorted := slices.SortedFunc(slices.Values(points), func(p, q ControlPoint) int {
		return cmp.Or(cmp.Compare(p.At.Col, q.At.Col), cmp.Compare(p.At.Row, q.At.Row))
	})
	out := make([]ControlPoint, most)
	for i := range out {
		out[i] = sorted[i*len(sorted)/most]
	}
	return out
}

// freed lets the picture bend more than paper usually does, where ten points
// and more clearly say so and no slip explains it better: the lens of a camera,
// folds.
func (e estimate) freed(points []ControlPoint) estimate {
	found := allFound(points)
	if len(points) < softPoints || !found && e.scale < looseEnough*looseEnough {
		return e
	}
	best, least := e, e.deviance()
	within := 0.0
	if found {
		within = softWithin
	}
	for k := 2.0; k <= softest; k *= 2 {
		next := e
		next.softer, next.scale = k, 1
		next.design.paper.bendPx = e.design.paper.bendPx * k
		next, ok := next.settled(points)
		if !ok {
			continue
		}
		if d := next.deviance(); d < least+within {
			best, least = next, math.Min(d, least)
		} else if best.softer > 1 {
			break
		}
	}
	if found { // lines were counted, not read, and lie within pixels of their points
		return best
	}
	if gain := e.deviance() - least; gain < softGain+softDoubles*math.Log2(best.softer) || e.slipGain(points) > gain {
		return e
	}
	return best
}

// allFound reports whether all points were counted along printed lines.
func allFound(points []ControlPoint) bool {
	return !slices.ContainsFunc(points, func(p ControlPoint) bool { return p.Source != FoundPoint })
}

// slipGain is by how much −2·ln likelihood falls if one point is anywhere, or
// one line of points and all beyond it are shifted alike.
func (e estimate) slipGain(points []ControlPoint) float64 {
	strict := e
	strict.scale = 1
	strict, ok := strict.refine(points)
	if !ok {
		return 0
	}
	strict.judged = strict.plane
	c := Calibration{points: points, estimate: strict}
	j := c.Judge(nil)
	var most float64
	for _, b := range slipsFree(points) {
		if by, bb := j.Gain(b); bb > 0 {
			most = math.Max(most, by*by/bb)
		}
	}
	q, m := j.Q(), float64(j.M())
	return (clickFreedom + m) * math.Log((clickFreedom+q)/(clickFreedom+math.Max(0, q-most)))
}

// slipsFree lists shifts of one point, and of all points beyond a line, by a
// metre: their size is free.
func slipsFree(points []ControlPoint) (out [][]Shift) {
	for i := range points {
		out = append(out, []Shift{{i, 1, 0}}, []Shift{{i, 0, 1}})
	}
	seen := map[[2]float64]bool{}
	for _, p := range points {
		for axis, at := range []float64{p.Ref.E, p.Ref.N} {
			if key := [2]float64{float64(axis), math.Round(at)}; !seen[key] && len(points) <= mostLined {
				seen[key] = true
				out = append(out, beyond(points, axis, at, false), beyond(points, axis, at, true))
			}
		}
	}
	return out
}

// mostLined is of how many points lines are tried: among more, a line is
// plainer than a bend by itself.
const mostLined = 60

// beyond shifts the points of a coordinate, or those from it on, along its axis.
func beyond(points []ControlPoint, axis int, at float64, all bool) (out []Shift) {
	for i, p := range points {
		v := []float64{p.Ref.E, p.Ref.N}[axis]
		if math.Abs(v-at) < 1 || all && v > at {
			out = append(out, Shift{i, float64(1 - axis), float64(axis)})
		}
	}
	return out
}
