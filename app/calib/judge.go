package calib

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// clickFreedom is for how many degrees of freedom the prior of the clicks'
// standard deviation counts: what a sheet's own points say of it outweighs the
// prior from then on (common practice, no source).
const clickFreedom = 4

// Shift says that the reference of point I differs from the true one by so
// many metres on the grid. I counts control points from 0 and then evidence.
// A slip is a list of shifts, each point at most once.
type Shift struct {
	I           int
	East, North float64
}

// Judge holds control points and evidence against one linear model:
// y = Aβ + paper + clicks, with y the differences between reference and
// calibrated position in pixels. With V their covariance and
// P = V⁻¹ − V⁻¹A(AᵀV⁻¹A)⁻¹AᵀV⁻¹ it says how well everything agrees (yᵀPy),
// and, of a slip b of known size, how much better it would agree without
// (bᵀPy) and whether it would show at all (bᵀPb, the non-centrality of
// Baarda's reliability: A testing procedure for use in geodetic networks,
// Netherlands Geodetic Commission, 1968). Evidence never moves the fit. A
// Judge is immutable and safe for concurrent use.
type Judge struct {
	plane plane
	fit   *gls // of the control points alone
	all   *gls // and of the evidence
	inv   *mat.SymDense
	pixel []PicturePt
}

// Judge returns a judge of the control points and of evidence in extra: points
// of the picture whose references did not make the calibration.
func (c *Calibration) Judge(extra []ControlPoint) *Judge {
	e := &c.estimate
	points := append(append([]ControlPoint(nil), c.points...), extra...)
	j := &Judge{plane: e.judged, fit: e.gls, pixel: placesOf(points)}
	if len(points) == 0 {
		return j
	}
	d := e.design
	d.evidence = len(extra) > 0
	d.sharedPx = c.ownM / e.judged.metresPerPixel(PicturePt{e.judged.frame.col, e.judged.frame.row})
	var seen *pseudo
	if e.camera != nil {
		seen = e.camera.observed(e.judged)
	}
	all, ok := newGLS(d, j.pixel, e.judged.clicksOf(points, 1), len(c.points))
	if !ok || !all.observe(seen) {
		return j // impossible after a fit: evidence only adds rows
	}
	j.inv = new(mat.SymDense)
	_ = all.chol.InverseTo(j.inv)
	all.solve(e.judged.offsets(points))
	j.all = all
	return j
}

// Q returns yᵀPy: the misfit of points and evidence, which follows χ² with M
// degrees of freedom where clicks and paper are as stated.
func (j *Judge) Q() float64 {
	if j.all == nil {
		return 0
	}
	return j.all.misfit
}

// M returns the redundancy: two a point, less four parameters (a photograph:
// eight, and two more observations of its camera; a given matrix: none).
func (j *Judge) M() int {
	if j.all == nil {
		return 0
	}
	return j.all.rank
}

// Scale2 returns the factor (4 + Q)/(4 + M) of the clicks' variance: 1 where
// they are as good as stated.
func (j *Judge) Scale2() float64 {
	return (clickFreedom + j.Q()) / (clickFreedom + float64(j.M()))
}

// Gain returns bᵀPy and bᵀPb of a slip b. Odds of e to the power bᵀPy − ½·bᵀPb
// speak for it, and it shows where bᵀPb/Scale2 is large. Both are pure numbers.
func (j *Judge) Gain(b []Shift) (by, bb float64) {
	if j.all == nil { // of a given matrix without evidence
		return 0, 0
	}
	size := j.all.design.size()
	var z columns
	px := make([][2]float64, len(b))
	for k, s := range b {
		col, row := j.plane.pixels(j.pixel[s.I], s.East, s.North)
		px[k] = [2]float64{col, row}
		by += col*j.all.weight[0][s.I] + row*j.all.weight[1][s.I]
		for i := range size {
			z[i] += col*j.all.bx[0].At(s.I, i) + row*j.all.bx[1].At(s.I, i)
		}
		for l := range k + 1 {
			v := j.inv.At(s.I, b[l].I) * (col*px[l][0] + row*px[l][1])
			if l < k {
				v *= 2
			}
			bb += v
		}
	}
	for i := range size {
		for l := range size {
			bb -= z[i] * j.all.inv.At(i, l) * z[l]
		}
	}
	return by, math.Max(0, bb)
}

// Odds returns the natural logarithm of the odds for a slip against none, both
// being as likely beforehand. The clicks' σ counts as unknown, with its prior,
// so that a slip among loose clicks has lower odds than Gain would give it.
func (j *Judge) Odds(b []Shift) float64 {
	by, bb := j.Gain(b)
	q, m := j.Q(), float64(j.M())
	return (clickFreedom + m) / 2 * math.Log((clickFreedom+q)/(clickFreedom+math.Max(0, q-2*by+bb)))
}

// Effect returns how far a slip in the control points' references moves the
// calibrated position of a point, in metres east and north. Shifts of evidence
// move nothing.
func (j *Judge) Effect(b []Shift, at PicturePt) (eastM, northM float64) {
	return j.Point(at).Effect(j.Push(b))
}

// JudgedPoint is a point of the picture, ready for Effect of many slips.
type JudgedPoint struct {
	judge *Judge
	reach reach
	pull  []float64 // of each control point's offset: B⁻¹ times the bend's covariances
}

// Point returns a point of the picture.
func (j *Judge) Point(at PicturePt) JudgedPoint {
	if j.fit == nil {
		return JudgedPoint{}
	}
	r := j.fit.reach(at, false)
	n := len(r.half)
	pull := append([]float64(nil), r.half...) // L⁻ᵀL⁻¹k, from the last to the first
	for i := n - 1; i >= 0; i-- {
		low := j.fit.low[i*n : i*n+i+1]
		pull[i] /= low[i]
		for k, l := range low[:i] {
			pull[k] -= l * pull[i]
		}
	}
	return JudgedPoint{j, r, pull}
}

// Push is what a slip in the control points' references does to the fit, ready for
// Effect at many points.
type Push struct {
	steps []pushed // of control points
	by    columns  // of the parameters
}

// pushed is by how many pixels a slip moves a control point, right and down.
type pushed struct {
	i        int
	col, row float64
}

// Push returns what a slip does. Shifts of evidence do nothing.
func (j *Judge) Push(b []Shift) (out Push) {
	g := j.fit
	if g == nil { // of a given matrix, which no control point moves
		return Push{}
	}
	size := g.design.size()
	var z columns
	for _, s := range b {
		if s.I >= g.measured {
			continue
		}
		col, row := j.plane.pixels(j.pixel[s.I], s.East, s.North)
		out.steps = append(out.steps, pushed{s.I, col, row})
		for i := range size {
			z[i] += col*g.bx[0].At(s.I, i) + row*g.bx[1].At(s.I, i)
		}
	}
	for i := range size {
		for l := range size {
			out.by[i] += g.inv.At(i, l) * z[l]
		}
	}
	return out
}

// Effect is Judge.Effect at the point, of the slip that was pushed.
func (p JudgedPoint) Effect(of Push) (eastM, northM float64) {
	if p.judge == nil {
		return 0, 0
	}
	var px [2]float64
	for _, s := range of.steps {
		k := p.pull[s.i]
		px[0], px[1] = px[0]+k*s.col, px[1]+k*s.row
	}
	for i := range p.judge.fit.design.size() {
		px[0], px[1] = px[0]+of.by[i]*p.reach.left[0][i], px[1]+of.by[i]*p.reach.left[1][i]
	}
	return p.judge.plane.metres(p.reach.at, px[0], px[1])
}
