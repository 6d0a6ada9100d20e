package calib

// Cov2 is the covariance of one position, in m².
type Cov2 struct{ EE, EN, NN float64 }

// Cov4 is the joint covariance of two positions in the order E1, N1, E2, N2,
// in m². It is symmetric.
type Cov4 [4][4]float64

// mahalanobis2 returns dᵀ·C⁻¹·d, and +Inf-free 0 for a zero step.
func (c Cov2) mahalanobis2(east, north float64) float64 {
	det := c.EE*c.NN - c.EN*c.EN
	if !(det > 0) {
		return 0
	}
	return (c.NN*east*east - 2*c.EN*east*north + c.EE*north*north) / det
}

func (c Cov2) add(o Cov2) Cov2 { return Cov2{c.EE + o.EE, c.EN + o.EN, c.NN + o.NN} }

// Covariance returns the covariance of the grid position of p: that of the
// calibration (already times VarianceFactor) plus that of picking p with
// pickSigmaPx per axis. Pass 0 for a place that is exact in the picture.
func (c *Calibration) Covariance(p PicturePt, pickSigmaPx float64) Cov2 {
	near := c.local(p)
	return c.between(p, p).add(near.pointCov(pickSigmaPx, c.ownM))
}

// Joint returns the joint covariance of two places picked on the same sheet.
// They share the calibration's error and have each their own pick.
//
// The error of a place that a file gives, by a matrix or by points, is taken
// as independent from place to place, which never understates the error of a
// bearing between them.
func (c *Calibration) Joint(p, q PicturePt, pickP, pickQ float64) Cov4 {
	pp, qq := c.Covariance(p, pickP), c.Covariance(q, pickQ)
	cross := c.crossed(p, q)
	return Cov4{
		{pp.EE, pp.EN, cross[0][0], cross[0][1]},
		{pp.EN, pp.NN, cross[1][0], cross[1][1]},
		{cross[0][0], cross[1][0], qq.EE, qq.EN},
		{cross[0][1], cross[1][1], qq.EN, qq.NN},
	}
}

// between is crossed for one and the same place, where it is symmetric.
func (c *Calibration) between(p, q PicturePt) Cov2 {
	x := c.crossed(p, q)
	return Cov2{x[0][0], x[0][1], x[1][1]}
}

// crossed returns the calibration's own covariance between the grid positions
// of p (rows E, N) and q (columns E, N).
func (c *Calibration) crossed(p, q PicturePt) [2][2]float64 {
	if c.kind == Given {
		return [2][2]float64{}
	}
	s := &c.sol
	n, k := s.model.params(), c.VarianceFactor()
	if c.bend != nil {
		x := c.bend.crossed(p, q)
		return [2][2]float64{{k * x[0][0], k * x[0][1]}, {k * x[1][0], k * x[1][1]}}
	}
	pe, pn := s.model.rows(s.frame.centred(p))
	qe, qn := s.model.rows(s.frame.centred(q))
	return [2][2]float64{
		{k * quad(pe, &s.q, qe, n), k * quad(pe, &s.q, qn, n)},
		{k * quad(pn, &s.q, qe, n), k * quad(pn, &s.q, qn, n)},
	}
}
