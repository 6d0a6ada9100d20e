package calib

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Cov2 is the covariance of one position, in m².
type Cov2 struct{ EE, EN, NN float64 }

// Cov4 is the joint covariance of two positions in the order E1, N1, E2, N2,
// in m². It is symmetric.
type Cov4 [4][4]float64

func (c Cov2) add(o Cov2) Cov2 { return Cov2{c.EE + o.EE, c.EN + o.EN, c.NN + o.NN} }

// axes returns the standard deviations along the long and the short axis of
// the error ellipse.
func (c Cov2) axes() (long, short float64) {
	mean, diff := (c.EE+c.NN)/2, math.Hypot((c.EE-c.NN)/2, c.EN)
	return math.Sqrt(math.Max(0, mean+diff)), math.Sqrt(math.Max(0, mean-diff))
}

// Radius95 returns the radius in metres of the circle about a position that
// holds the true one in 95 % of all cases, for errors that follow the normal
// distribution.
func (c Cov2) Radius95() float64 {
	long, short := c.axes()
	if !(long > 0) {
		return long // NaN too
	}
	// 1.960 for errors along one line to 2.448 for those alike all round; the
	// polynomial is within 0.4 % of the integral over the circle.
	r := short / long
	return long * (1.9600 + r*r*(0.0610+r*(0.6260-0.1993*r)))
}

// student returns by how much a covariance is multiplied so that 1.96 standard
// deviations hold 95 % although the clicks' σ is only estimated.
func student(freedom float64) float64 {
	t := distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(0.975) / 1.959964
	return t * t
}

// Covariance returns the covariance of the grid position of p: that of the
// calibration, with paper, plus that of picking p with pickSigmaPx per axis.
// Pass 0 for a point that is exact in the picture. Standard deviations times
// 1.96 hold 95 % along any direction: Student's factor for a click σ that the
// points themselves must tell is in it.
func (c *Calibration) Covariance(p PicturePt, pickSigmaPx float64) Cov2 {
	r := c.reach(p)
	x := c.crossed(r, r)
	return Cov2{x[0][0], x[0][1], x[1][1]}.add(c.pick(p, pickSigmaPx))
}

// pick is the covariance of picking a point.
func (c *Calibration) pick(p PicturePt, sigmaPx float64) Cov2 {
	sigmaPx = math.Hypot(sigmaPx, c.ownPx)
	var s linear
	s.a, s.b, s.d, s.e = c.estimate.plane.slope(p)
	return s.pointCov(sigmaPx, 0)
}

// Joint returns the joint covariance of two points picked on the same sheet.
// They share the errors of control points, paper and file, as far as those
// reach from one to the other, and have each their own pick. Near points share
// nearly all, so that the bearing between them is better than either position.
func (c *Calibration) Joint(p, q PicturePt, pickP, pickQ float64) Cov4 {
	rp, rq := c.reach(p), c.reach(q)
	x, y, cross := c.crossed(rp, rp), c.crossed(rq, rq), c.crossed(rp, rq)
	pp := Cov2{x[0][0], x[0][1], x[1][1]}.add(c.pick(p, pickP))
	qq := Cov2{y[0][0], y[0][1], y[1][1]}.add(c.pick(q, pickQ))
	return Cov4{
		{pp.EE, pp.EN, cross[0][0], cross[0][1]},
		{pp.EN, pp.NN, cross[1][0], cross[1][1]},
		{cross[0][0], cross[1][0], qq.EE, qq.EN},
		{cross[0][1], cross[1][1], qq.EN, qq.NN},
	}
}

// crossed returns the calibration's own covariance between the grid positions
// of p (rows E, N) and q (columns E, N).
func (c *Calibration) crossed(p, q reach) (out [2][2]float64) {
	shared := c.ownM * c.ownM
	if g := c.estimate.gls; g != nil {
		x := g.crossed(p, q)
		k := c.estimate.widen
		var j, l [2][2]float64
		j[0][0], j[0][1], j[1][0], j[1][1] = c.estimate.plane.slope(p.at)
		l[0][0], l[0][1], l[1][0], l[1][1] = c.estimate.plane.slope(q.at)
		for a := range 2 {
			for b := range 2 {
				out[a][b] = k * (j[a][0]*(x[0][0]*l[b][0]+x[0][1]*l[b][1]) + j[a][1]*(x[1][0]*l[b][0]+x[1][1]*l[b][1]))
			}
		}
	}
	out[0][0] += shared
	out[1][1] += shared
	return out
}
