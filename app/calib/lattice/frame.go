package lattice

import "math"

// frame makes two pencils upright: down is the family of lines that run down
// the picture, across the one that runs across it, told by rows as down is by
// columns. Where their lines meet, the frame's u is the same along each line
// of down and v along each line of across, and lines evenly spaced on the
// ground are evenly spaced in u and in v. Its unit is the pixel at the middle.
type frame struct {
	cx, cy       float64
	down, across pencil
	alpha, beta  float64 // the vanishing line 1 + αX + βY = 0
}

// newFrame joins the pencils. It fails where they are nearly parallel.
func newFrame(w, h int, down, across pencil) (frame, bool) {
	f := frame{cx: float64(w) / 2, cy: float64(h) / 2, down: down, across: across}
	det := 1 - down.s0*across.s0
	if det < 0.5 || math.Abs(down.s0+across.s0) > 0.16 {
		return f, false
	}
	f.alpha = (across.s1 - down.s1*across.s0) / det
	f.beta = (down.s1 - across.s1*down.s0) / det
	return f, math.Abs(f.alpha)*f.cx+math.Abs(f.beta)*f.cy < 0.4
}

// uv takes a point in pixels to the frame.
func (f frame) uv(x, y float64) (u, v float64) {
	x, y = x-f.cx, y-f.cy
	k := 1 + f.alpha*x + f.beta*y
	return (x - f.down.s0*y) / k, (y - f.across.s0*x) / k
}

// xy takes a point of the frame to pixels.
func (f frame) xy(u, v float64) (x, y float64) {
	// x − s0·y = u·k, y − r0·x = v·k, k = 1 + αx + βy: linear in x and y.
	s, r := f.down.s0, f.across.s0
	a, b := 1-u*f.alpha, -s-u*f.beta
	c, d := -r-v*f.alpha, 1-v*f.beta
	det := a*d - b*c
	if math.Abs(det) < 1e-9 {
		return math.NaN(), math.NaN()
	}
	return f.cx + (u*d-b*v)/det, f.cy + (a*v-c*u)/det
}

// turned is the same frame for the plane with rows and columns swapped.
func (f frame) turned() frame {
	return frame{f.cy, f.cx, f.across, f.down, f.beta, f.alpha}
}
