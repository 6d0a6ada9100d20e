package calib

import (
	"math"

	"legwright/app/geodesy"
)

// estimate is a plane fitted to control points with what the paper adds.
type estimate struct {
	plane  plane
	judged plane // at which slips are judged: see steadied
	design design
	gls    *gls    // nil for a given matrix
	camera *camera // nil unless a photograph of known size
	scale  float64 // by which the variance of the clicks is multiplied
	softer float64 // by which the bend is larger than usual paper's
	strict float64 // yᵀPy with the clicks as stated
	widen  float64 // by which the covariance is multiplied: see student
}

// leastClickPx keeps control points that claim to be exact from upsetting the
// arithmetic.
const leastClickPx = 0.02

// clicksOf is the variance of each point per axis, in px², the clicks' own
// being multiplied by scale.
func (p *plane) clicksOf(points []ControlPoint, scale float64) []float64 {
	out := make([]float64, len(points))
	for i, q := range points {
		click, ref := math.Max(q.sigmaPx(), leastClickPx), 0.0
		if q.SigmaRefM > 0 {
			ref = q.SigmaRefM / p.metresPerPixel(q.At)
		}
		out[i] = scale*click*click + ref*ref
	}
	return out
}

// offsets are how far each reference lies from its point in the picture, in
// pixels by axis, if the paper were flat. They are taken on the grid, where a
// wrong reference shifts by what it is out, and turned into pixels at the point.
func (p *plane) offsets(points []ControlPoint) (y [2][]float64) {
	y[0], y[1] = make([]float64, len(points)), make([]float64, len(points))
	for i, q := range points {
		at := p.grid(q.At)
		y[0][i], y[1][i] = p.pixels(q.At, q.Ref.E-at.E, q.Ref.N-at.N)
	}
	return y
}

func placesOf(points []ControlPoint) []PicturePt {
	out := make([]PicturePt, len(points))
	for i, p := range points {
		out[i] = p.At
	}
	return out
}

// startPlane is the plane of a similarity by least squares.
func startPlane(points []ControlPoint) (plane, bool) {
	s := similarity(points)
	p := plane{frame: s.frame, unitM: math.Sqrt(s.meanScale2()) * s.frame.radiusPx}
	if !(p.unitM > 0) {
		return p, false
	}
	k := s.frame.radiusPx / p.unitM
	p.set(mat3{{k * s.a, k * s.b, s.c / p.unitM}, {k * s.d, k * s.e, s.f / p.unitM}, {0, 0, 1}})
	return p, p.unitM > leastScale*extentM(points, p.frame)
}

// leastScale is the scale below which a similarity has collapsed, as a part of
// the references' extent: of a mirrored square of points.
const leastScale = 1e-6

// extentM is the root mean square distance of references from their centroid.
func extentM(points []ControlPoint, f frame) float64 {
	var sum float64
	for _, p := range points {
		de, dn := p.Ref.E-f.e, p.Ref.N-f.n
		sum += (de*de + dn*dn) / float64(len(points))
	}
	return math.Sqrt(sum)
}

// refine fits the plane and the paper together by Gauss's and Newton's method,
// for one scale of the clicks' variance and one of the bend. A similarity is
// linear and settles at once.
func (e estimate) refine(points []ControlPoint) (estimate, bool) {
	at, freedom := placesOf(points), e.design.plane
	var refs bool
	for _, q := range points {
		refs = refs || q.SigmaRefM > 0
	}
	e.gls = nil
	for i := range 30 {
		if e.gls == nil || refs && i < 5 { // then the weights stand still, so that the steps end
			var ok bool
			if e.gls, ok = newGLS(e.design, at, e.plane.clicksOf(points, e.scale), len(points)); !ok {
				return e, false
			}
		}
		var seen *pseudo
		if e.camera != nil {
			seen = e.camera.observed(e.plane)
		}
		if !e.gls.observe(seen) {
			return e, false
		}
		e.gls.solve(e.plane.offsets(points))
		var size float64
		for _, t := range e.gls.theta[:freedom] {
			size = math.Max(size, math.Abs(t))
		}
		if math.IsNaN(size) || size > 1e8 {
			return e, false
		}
		if size < 1e-7 {
			break
		}
		e.plane = e.plane.moved(e.gls.theta[:freedom])
		if !e.plane.facing(points) {
			return e, false
		}
	}
	return e, true
}

// How many control points of a photograph a perspective takes, and how many it takes for
// a wrong reference to show: with four, one point a square out often passes for another
// tilt of the camera (our own made photographs).
const (
	leastPhoto  = 4
	usefulPhoto = 5
)

// estimateOf fits points that were checked.
func estimateOf(points []ControlPoint, o Options) (estimate, error) {
	p, ok := startPlane(points)
	if !ok {
		return estimate{}, ErrSingular
	}
	flat := estimate{plane: p, scale: 1, softer: 1}
	flat.design = design{frame: p.frame, plane: similarFreedom, paper: paperOf(o.Medium, diagonalOf(o, points))}
	e := flat
	if o.Medium == Photograph && len(points) >= leastPhoto {
		if err := checkFour(points); err != nil {
			return e, err
		}
		e.design.plane = planeFreedom
		if c, ok := cameraOf(o); ok {
			e.camera = &c
		}
	}
	if e, ok = e.searched(points); e.design.plane == planeFreedom && (!ok || e.strict > chi2Bound(e.gls.rank)) {
		e, ok = e.disagreeing(points, ok)
	}
	if !ok && flat.design.plane != e.design.plane { // points that contradict each other: held flat they say so
		e, ok = flat.searched(points)
	}
	if !ok {
		return e, ErrSingular
	}
	if e.judged.unitM == 0 {
		e.judged = e.plane
	}
	e.widen = student(clickFreedom + float64(e.gls.rank))
	return e, nil
}

// disagreeing is the estimate of a photograph whose points do not agree, or have no
// plane at all.
func (e estimate) disagreeing(points []ControlPoint, found bool) (estimate, bool) {
	p, ok := e.steadied(points, found)
	if !ok {
		return e, false
	}
	if !found {
		return e.heldAt(points, p)
	}
	e.judged = p
	return e, true
}

// givenEstimate is the estimate of a given matrix.
func givenEstimate(s linear) estimate {
	p := plane{frame: s.frame, unitM: 1}
	p.set(mat3{{s.a, s.b, s.c}, {s.d, s.e, s.f}, {0, 0, 1}})
	return estimate{plane: p, judged: p, design: design{frame: s.frame}, scale: 1, softer: 1}
}

// at returns the grid position of a point: that of the plane, where the paper
// moved it from.
func (e *estimate) at(p PicturePt) geodesy.Grid {
	if e.gls != nil {
		col, row := e.gls.shift(p, false)
		p = PicturePt{p.Col + col, p.Row + row}
	}
	return e.plane.grid(p)
}
