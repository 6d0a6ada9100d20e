package calib

import (
	"math"
	"sync"
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

// Judge checks control points and evidence against one linear model:
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
	fit   *gls             // of the control points alone
	all   *gls             // and of the evidence
	inv   func() []float64 // B⁻¹ of all, rows first, worked out when first asked for
	px    [][2][2]float64  // of each point, pixels right and down for a metre east and north
}

// Judge returns a judge of the control points and of evidence in extra: points
// of the picture whose references did not make the calibration.
func (c *Calibration) Judge(extra []ControlPoint) *Judge {
	e := &c.estimate
	points := append(append([]ControlPoint(nil), c.points...), extra...)
	j := &Judge{plane: e.judged, fit: e.gls}
	if len(points) == 0 {
		return j
	}
	for _, p := range points {
		var px [2][2]float64
		px[0][0], px[1][0] = j.plane.pixels(p.At, 1, 0)
		px[0][1], px[1][1] = j.plane.pixels(p.At, 0, 1)
		j.px = append(j.px, px)
	}
	d := e.design
	d.evidence = len(extra) > 0
	d.sharedPx = c.ownM / e.judged.metresPerPixel(PicturePt{e.judged.frame.col, e.judged.frame.row})
	var seen *pseudo
	if e.camera != nil {
		seen = e.camera.observed(e.judged)
	}
	all, ok := newGLS(d, placesOf(points), e.judged.clicksOf(points, 1), len(c.points))
	if !ok || !all.observe(seen) {
		return j // impossible after a fit: evidence only adds rows
	}
	j.inv = sync.OnceValue(all.inverse)
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
	size, inv, n := j.all.design.size(), j.inv(), len(j.px)
	var z columns
	px := make([][2]float64, len(b))
	for k, s := range b {
		col, row := j.pixels(s)
		px[k] = [2]float64{col, row}
		by += col*j.all.weight[0][s.I] + row*j.all.weight[1][s.I]
		right, down := j.all.bx[0].RawRowView(s.I), j.all.bx[1].RawRowView(s.I)
		for i := range size {
			z[i] += col*right[i] + row*down[i]
		}
		of := inv[s.I*n : s.I*n+n]
		for l, o := range px[:k] {
			bb += 2 * of[b[l].I] * (col*o[0] + row*o[1])
		}
		bb += of[s.I] * (col*col + row*row)
	}
	for i := range size {
		for l := range size {
			bb -= z[i] * j.all.inv.At(i, l) * z[l]
		}
	}
	return by, math.Max(0, bb)
}

// pixels is by how many pixels right and down a shift moves its point.
func (j *Judge) pixels(s Shift) (col, row float64) {
	px := &j.px[s.I]
	return px[0][0]*s.East + px[0][1]*s.North, px[1][0]*s.East + px[1][1]*s.North
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
