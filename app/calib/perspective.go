package calib

import "math"

// minDepth is the least depth, with that of the points' centroid as 1, at
// which a place of the picture is mapped. Nearer to the horizon of a
// perspective everything is held there, where its error bars are beyond use.
const minDepth = 0.02

// homography is a perspective of centred picture coordinates:
// E = g·(h0·u + h1·v + h2)/w and N = g·(h3·u + h4·v + h5)/w with depth
// w = 1 + h6·u + h7·v (Hartley and Zisserman, Multiple View Geometry, 2nd
// edition 2004, section 4.1, with the last element held at 1: the centroid of
// the points is never on the horizon).
type homography struct {
	frame  frame
	unitM  float64 // g
	h      vec
	q      square // a-priori covariance of h
	normal square // inverse of the normal matrix
}

func (p *homography) depth(u, v float64) float64 {
	return math.Max(minDepth, 1+p.h[6]*u+p.h[7]*v)
}

func (p *homography) unit(u, v float64) (e, n float64) {
	w := p.depth(u, v)
	return (p.h[0]*u + p.h[1]*v + p.h[2]) / w, (p.h[3]*u + p.h[4]*v + p.h[5]) / w
}

func (p *homography) offset(at PicturePt) (e, n float64) {
	e, n = p.unit(p.frame.centred(at))
	return e * p.unitM, n * p.unitM
}

// inverse is exact. Ground beyond the horizon is not in the picture: it is put
// far outside, on the side it lies.
func (p *homography) inverse(e, n float64, _ PicturePt) PicturePt {
	e, n = e/p.unitM, n/p.unitM
	s := solution{
		a: p.h[0] - e*p.h[6], b: p.h[1] - e*p.h[7],
		d: p.h[3] - n*p.h[6], e: p.h[4] - n*p.h[7],
	}
	u, v := s.unstep(e-p.h[2], n-p.h[5])
	if !(1+p.h[6]*u+p.h[7]*v > 0) {
		u, v = -1e4*u, -1e4*v
	}
	return PicturePt{p.frame.col + u*p.frame.radiusPx, p.frame.row + v*p.frame.radiusPx}
}

// rows are the derivatives of E and N, in metres, by the parameters.
func (p *homography) rows(u, v float64) (e, n vec) {
	w := p.depth(u, v)
	x, y := p.unit(u, v)
	k := p.unitM / w
	e = vec{k * u, k * v, k, 0, 0, 0, -k * x * u, -k * x * v}
	n = vec{0, 0, 0, k * u, k * v, k, -k * y * u, -k * y * v}
	return e, n
}

func (p *homography) crossed(at, to PicturePt) [2][2]float64 {
	ae, an := p.rows(p.frame.centred(at))
	be, bn := p.rows(p.frame.centred(to))
	const m = maxParams
	return [2][2]float64{
		{quad(ae, &p.q, be, m), quad(ae, &p.q, bn, m)},
		{quad(an, &p.q, be, m), quad(an, &p.q, bn, m)},
	}
}

// solvePerspective fits a perspective: a direct linear start, then Gauss and
// Newton on the grid residuals in metres, each weighted by the inverse of its
// variance, since a pixel covers more ground where the picture is farther off.
func solvePerspective(points []ControlPoint) (bent, error) {
	if err := checkFour(points); err != nil {
		return bent{}, err
	}
	p := &homography{frame: newFrame(points)}
	for _, q := range points {
		p.unitM += math.Hypot(q.Ref.E-p.frame.e, q.Ref.N-p.frame.n) / float64(len(points))
	}
	if !p.start(points) || !p.refine(points) || !p.facing(points) {
		return bent{}, whyNoFit(points)
	}
	return p.finish(points), nil
}

// checkFour refuses points of which all, or all but one, lie on one line: no
// four of them are then in general position.
func checkFour(points []ControlPoint) error {
	if err := checkSpread(points); err != nil {
		return err
	}
	for i := range points {
		if err := checkSpread(without(points, i)); err != nil {
			return err
		}
	}
	return nil
}

func without(points []ControlPoint, i int) []ControlPoint {
	return append(append(make([]ControlPoint, 0, len(points)), points[:i]...), points[i+1:]...)
}

// start solves h·(u, v, 1) − E·(h6·u + h7·v) = E and the like for N.
func (p *homography) start(points []ControlPoint) bool {
	var normal square
	var rhs vec
	for _, q := range points {
		u, v := p.frame.centred(q.At)
		e, n := (q.Ref.E-p.frame.e)/p.unitM, (q.Ref.N-p.frame.n)/p.unitM
		gather(&normal, &rhs, vec{u, v, 1, 0, 0, 0, -e * u, -e * v}, 1, e)
		gather(&normal, &rhs, vec{0, 0, 0, u, v, 1, -n * u, -n * v}, 1, n)
	}
	inv, ok := invert(normal, maxParams)
	for i := range p.h {
		p.h[i] = dot(vec(inv[i]), rhs, maxParams)
	}
	return ok
}

// gather adds one equation to normal equations.
func gather(normal *square, rhs *vec, row vec, weight, value float64) {
	for i, x := range row {
		rhs[i] += weight * x * value
		for j, y := range row {
			normal[i][j] += weight * x * y
		}
	}
}

// weight is the inverse variance of a point's residual at its own scale.
func (p *homography) weight(q ControlPoint) float64 {
	a, b, d, e := slopeOf(p, q.At)
	return 1 / variance(q, (a*a+b*b+d*d+e*e)/2)
}

func (p *homography) refine(points []ControlPoint) bool {
	weights := make([]float64, len(points))
	for i := range 40 {
		var normal square
		var rhs vec
		for k, q := range points {
			if i < 10 { // then the weights stand still, so that the steps end
				weights[k] = p.weight(q)
			}
			je, jn := p.rows(p.frame.centred(q.At))
			de, dn := warpResidual(p, p.frame, q)
			gather(&normal, &rhs, je, weights[k], de)
			gather(&normal, &rhs, jn, weights[k], dn)
		}
		inv, ok := invert(normal, maxParams)
		if !ok {
			return false
		}
		p.normal = inv
		var size float64
		for k := range p.h {
			step := dot(vec(inv[k]), rhs, maxParams)
			p.h[k] += step
			size = math.Max(size, math.Abs(step))
		}
		if size < 1e-13 {
			break
		}
	}
	return true
}

// facing reports whether all points lie well in front of the horizon.
func (p *homography) facing(points []ControlPoint) bool {
	for _, q := range points {
		u, v := p.frame.centred(q.At)
		if !(1+p.h[6]*u+p.h[7]*v > 0.05) {
			return false
		}
	}
	return true
}

// finish propagates the points' covariances and leaves each point out in turn
// (to first order: residual over one less leverage).
func (p *homography) finish(points []ControlPoint) bent {
	var inner square
	out := bent{warp: p, dof: 2*len(points) - maxParams}
	for _, q := range points {
		je, jn := p.rows(p.frame.centred(q.At))
		var s solution
		s.a, s.b, s.d, s.e = slopeOf(p, q.At)
		c, w := s.pointCov(q.sigmaPx(), q.SigmaRefM), p.weight(q)
		for i := range je {
			for j := range je {
				inner[i][j] += w * w * (je[i]*c.EE*je[j] + je[i]*c.EN*jn[j] + jn[i]*c.EN*je[j] + jn[i]*c.NN*jn[j])
			}
		}
		de, dn := warpResidual(p, p.frame, q)
		out.chi2 += c.mahalanobis2(de, dn)
		out.loo = append(out.loo, leftOut(je, jn, &p.normal, w, de, dn))
	}
	for i := range maxParams {
		for j := range maxParams {
			p.q[i][j] = quad(vec(p.normal[i]), &inner, vec(p.normal[j]), maxParams)
		}
	}
	return out
}

// leftOut is the length of (I − H)⁻¹·r, the residual of a point from a fit
// made without it (Cook and Weisberg, Residuals and Influence in Regression,
// 1982, section 2.2); infinite where the others do not determine it.
func leftOut(je, jn vec, inv *square, weight, de, dn float64) float64 {
	s := solution{
		a: 1 - weight*quad(je, inv, je, maxParams), b: -weight * quad(je, inv, jn, maxParams),
		e: 1 - weight*quad(jn, inv, jn, maxParams),
	}
	s.d = s.b
	if !(s.det() > 1e-9) {
		return math.Inf(1)
	}
	return math.Hypot(s.unstep(de, dn))
}

// fromCorner returns the nine elements from the picture's top-left corner to
// grid coordinates.
func (p *homography) fromCorner() ([9]float64, bool) {
	h, r := p.h, p.frame.radiusPx
	deep := [3]float64{h[6] / r, h[7] / r, 1 - (h[6]*p.frame.col+h[7]*p.frame.row)/r}
	line := func(a, b, c, origin float64) [3]float64 {
		out := [3]float64{a / r, b / r, c - (a*p.frame.col+b*p.frame.row)/r}
		for i := range out {
			out[i] = p.unitM*out[i] + origin*deep[i]
		}
		return out
	}
	e, n := line(h[0], h[1], h[2], p.frame.e), line(h[3], h[4], h[5], p.frame.n)
	out := [9]float64{e[0], e[1], e[2], n[0], n[1], n[2], deep[0], deep[1], deep[2]}
	for i := range out {
		out[i] /= deep[2]
	}
	return out, math.Abs(deep[2]) > 1e-6
}
