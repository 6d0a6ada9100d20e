package calib

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// mat3 is a 3×3 matrix, rows first.
type mat3 [3][3]float64

func (m mat3) times(o mat3) (out mat3) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[i][j] += m[i][k] * o[k][j]
			}
		}
	}
	return out
}

// adjugate is the inverse times the determinant.
func (m mat3) adjugate() (out mat3) {
	for i := range 3 {
		for j := range 3 {
			a, b := (j+1)%3, (j+2)%3
			c, d := (i+1)%3, (i+2)%3
			out[i][j] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	return out
}

// minDepth is the least depth, with that of the points' centroid as 1, at
// which a point of the picture is mapped. Nearer to the horizon of a
// perspective everything is held there, where its error bars are beyond use.
const minDepth = 0.02

// plane is the map of flat, unstretched paper: a similarity or a homography
// between centred picture coordinates (units of frame.radiusPx) and centred
// grid coordinates (units of unitM). Its last element is 1: the centroid of
// the points is never on the horizon (Hartley and Zisserman, Multiple View
// Geometry, 2nd edition 2004, section 4.1).
type plane struct {
	frame frame
	unitM float64
	h     mat3 // picture to grid
	back  mat3 // grid to picture, up to its scale
}

func (p *plane) set(h mat3) {
	for i := range 3 {
		for j := range 3 {
			p.h[i][j] = h[i][j] / h[2][2]
		}
	}
	p.back = p.h.adjugate()
}

// grid maps a point of the picture, held at a least depth near the horizon.
func (p *plane) grid(at PicturePt) geodesy.Grid {
	u, v := p.frame.centred(at)
	w := math.Max(minDepth, p.depth(u, v))
	return geodesy.Grid{
		E: p.frame.e + p.unitM*(p.h[0][0]*u+p.h[0][1]*v+p.h[0][2])/w,
		N: p.frame.n + p.unitM*(p.h[1][0]*u+p.h[1][1]*v+p.h[1][2])/w,
	}
}

func (p *plane) depth(u, v float64) float64 { return p.h[2][0]*u + p.h[2][1]*v + 1 }

// picture is the inverse of grid. Ground beyond the horizon is not in the
// picture: it is put far outside, on the side where it lies.
func (p *plane) picture(g geodesy.Grid) PicturePt {
	e, n := (g.E-p.frame.e)/p.unitM, (g.N-p.frame.n)/p.unitM
	b := &p.back
	w := b[2][0]*e + b[2][1]*n + b[2][2]
	u, v := (b[0][0]*e+b[0][1]*n+b[0][2])/w, (b[1][0]*e+b[1][1]*n+b[1][2])/w
	if !(p.depth(u, v) > 0) {
		u, v = -1e4*u, -1e4*v
	}
	return PicturePt{p.frame.col + u*p.frame.radiusPx, p.frame.row + v*p.frame.radiusPx}
}

// slope returns the partial derivatives a, b of E and d, e of N by column and
// row at a point of the picture, in metres per pixel.
func (p *plane) slope(at PicturePt) (a, b, d, e float64) {
	u, v := p.frame.centred(at)
	w := math.Max(minDepth, p.depth(u, v))
	x := (p.h[0][0]*u + p.h[0][1]*v + p.h[0][2]) / w
	y := (p.h[1][0]*u + p.h[1][1]*v + p.h[1][2]) / w
	k := p.unitM / (w * p.frame.radiusPx)
	return k * (p.h[0][0] - x*p.h[2][0]), k * (p.h[0][1] - x*p.h[2][1]),
		k * (p.h[1][0] - y*p.h[2][0]), k * (p.h[1][1] - y*p.h[2][1])
}

// metresPerPixel is the mean scale at a point of the picture.
func (p *plane) metresPerPixel(at PicturePt) float64 {
	a, b, d, e := p.slope(at)
	return math.Sqrt(math.Abs(a*e - b*d))
}

// rotation is the direction of grid north at a point, clockwise from picture up.
func (p *plane) rotation(at PicturePt) units.Angle {
	col, row := p.pixels(at, 0, 1)
	return units.Angle(math.Atan2(col, -row)).Signed()
}

// pixels turns a step on the grid, in metres, into one in the picture at a
// point.
func (p *plane) pixels(at PicturePt, eastM, northM float64) (col, row float64) {
	a, b, d, e := p.slope(at)
	det := a*e - b*d
	return (e*eastM - b*northM) / det, (a*northM - d*eastM) / det
}

// metres turns a step in the picture, in pixels, into one on the grid.
func (p *plane) metres(at PicturePt, col, row float64) (eastM, northM float64) {
	a, b, d, e := p.slope(at)
	return a*col + b*row, d*col + e*row
}

// moved returns the plane after the displacement that its first parameters
// describe: see columnsOf.
func (p *plane) moved(step []float64) plane {
	k := 1 / p.frame.radiusPx
	d := mat3{{1 + k*step[0], k * step[1], k * step[2]}, {-k * step[1], 1 + k*step[0], k * step[3]}, {0, 0, 1}}
	if len(step) == planeFreedom {
		d = mat3{
			{1 + k*step[0], k * step[1], k * step[2]},
			{k * step[4], 1 + k*step[5], k * step[3]},
			{k * step[6], k * step[7], 1},
		}
	}
	out := *p
	out.set(p.h.times(d))
	return out
}

// facing reports whether all points lie well in front of the horizon.
func (p *plane) facing(points []ControlPoint) bool {
	for _, q := range points {
		if !(p.depth(p.frame.centred(q.At)) > 0.05) {
			return false
		}
	}
	return true
}
