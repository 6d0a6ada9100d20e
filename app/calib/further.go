package calib

import "math"

// Further is one more reference beside those of a Judge, which need not be judged anew
// for it: an observation adds to yᵀPy and bᵀPb the squares of what it says beyond what
// the others predict, by the covariance of that (Rao and Toutenburg, Linear Models, 2nd
// edition 1999, section 5.6, from memory).
type Further struct {
	judge  *Judge
	point  JudgedPoint
	inv    [2][2]float64 // of that covariance, px⁻²
	misfit float64       // that it adds to yᵀPy
}

// Further returns what a reference more would tell, as evidence that counts beside the
// judge's.
func (j *Judge) Further(p ControlPoint) Further {
	f := Further{judge: j, point: j.pointBy(j.all, p.At)}
	g := j.all
	if g == nil {
		return f
	}
	r := f.point.reach
	own := j.plane.clicksOf([]ControlPoint{p}, 1)[0] + g.design.paper.bend(p.At, p.At)
	for _, h := range r.half {
		own -= h * h
	}
	if !g.design.evidence { // the judge has no shift yet that only evidence sees
		own += g.design.sharedPx * g.design.sharedPx
	}
	cov := [2][2]float64{{own, 0}, {0, own}}
	size := g.design.size()
	for a := range 2 {
		for b := range 2 {
			for i := range size {
				for l := range size {
					cov[a][b] += r.left[a][i] * g.inv.At(i, l) * r.left[b][l]
				}
			}
		}
	}
	det := cov[0][0]*cov[1][1] - cov[0][1]*cov[1][0]
	f.inv = [2][2]float64{{cov[1][1] / det, -cov[0][1] / det}, {-cov[1][0] / det, cov[0][0] / det}}
	y := j.plane.offsets([]ControlPoint{p})
	col, row := g.shift(p.At, true)
	f.misfit = f.square([2]float64{y[0][0] - col, y[1][0] - row})
	return f
}

// square is what a difference in pixels adds.
func (f Further) square(d [2]float64) float64 {
	return d[0]*(f.inv[0][0]*d[0]+f.inv[0][1]*d[1]) + d[1]*(f.inv[1][0]*d[0]+f.inv[1][1]*d[1])
}

// Shows returns bᵀPb of a slip in the judge's references in units of the clicks'
// variance factor, which counts as 1 at least. It is 0 without references.
func (f Further) Shows(b []Shift) float64 {
	j := f.judge
	if j.all == nil {
		return 0
	}
	_, bb := j.Gain(b)
	bb += f.square(f.point.pixels(j.pushOf(j.all, b)))
	scale2 := (clickFreedom + j.Q() + f.misfit) / (clickFreedom + float64(j.M()+2))
	return bb / math.Max(1, scale2)
}
