package lattice

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"legwright/app/calib"
)

const (
	// mostUnequal is by which part squares may differ on paper, which stretches
	// by 1 to 2 %, mostUnequalDrawn where a program drew them, and
	// mostUnequalPhoto under a lens (common practice, no source).
	mostUnequal, mostUnequalDrawn, mostUnequalPhoto = 0.02, 0.01, 0.03
	// mostUnequalPx is what lines on whole pixels, and the measuring, may do in
	// a small square.
	mostUnequalPx = 1.5
	// lens bounds the focal length of a camera, in diagonals of what the lattice
	// covers: from 0.7 of a whole picture to 1.6 of one that the lattice half
	// fills.
	lensShort, lensLong = 0.7, 3.2
)

// Squares returns an error that wraps ErrNoSquares where the lines make no
// squares: then they are latitude and longitude, the map's frame is among them,
// or they are no grid. A camera held askew makes squares unequal, a scanner does
// not.
func (l *Lattice) Squares(medium calib.Medium) error {
	limit := mostUnequal
	switch medium {
	case calib.Drawn:
		limit = mostUnequalDrawn
	case calib.Photograph:
		limit = mostUnequalPhoto
	}
	limit = max(limit, mostUnequalPx/l.SquarePx)
	then := l.otherwise(medium, limit)
	if part := math.Abs(math.Log(l.HeightPx / l.WidthPx)); l.Oblong || medium != calib.Photograph && !(part <= limit) {
		return fmt.Errorf("%w: the cells are %.0f × %.0f px. %s", ErrNoSquares, l.WidthPx, l.HeightPx, then)
	}
	h, ok := l.homography(medium == calib.Photograph)
	if !ok {
		return fmt.Errorf("%w: there are too few lines to tell; click four intersections and type the reference of each", ErrNoSquares)
	}
	if part := l.anisotropy(h); part > limit {
		return fmt.Errorf("%w: the cells are %.1f %% out of square. %s", ErrNoSquares, 100*part, then)
	}
	if part := l.unevenLines(h); part > limit {
		return fmt.Errorf("%w: the spacing of two neighbouring lines differs by %.1f %% from that of the others. %s", ErrNoSquares, 100*part, then)
	}
	return nil
}

// otherwise says what lines may be that make no squares on the medium, and what to do.
// A photograph is named only where it explains the lines within the limit of that
// medium: the wider one of a lens would let a frame pass.
func (l *Lattice) otherwise(medium calib.Medium, limit float64) string {
	if h, ok := l.homography(true); ok && medium != calib.Photograph && !l.Oblong && max(l.anisotropy(h), l.unevenLines(h)) <= limit {
		return "They may still be squares in a photograph taken at a slant. If the picture is a photograph, choose photograph and use the intersections again; otherwise click four intersections and type the reference of each"
	}
	return "They may be lines of latitude and longitude, or the map's frame may be among them. Type the latitude and longitude of an intersection if they are printed in the margin; otherwise click four intersections and type the reference of each"
}

// homography is a perspective from line numbers, counted from the middle, to
// pixels from the middle.
type homography struct {
	m      [9]float64
	mi, mj float64
	cx, cy float64
}

// at gives the point in the picture of the line numbers i and j.
func (h homography) at(i, j float64) (x, y float64) {
	i, j = i-h.mi, j-h.mj
	w := h.m[6]*i + h.m[7]*j + 1
	return h.cx + (h.m[0]*i+h.m[1]*j+h.m[2])/w, h.cy + (h.m[3]*i+h.m[4]*j+h.m[5])/w
}

// homography fits a perspective to the intersections by least squares in pixels, or
// an affine map where none is asked for or they are too few for it. It reports false where they do
// not even allow that.
func (l *Lattice) homography(perspective bool) (homography, bool) {
	n := len(l.Intersections)
	is, js := map[int]bool{}, map[int]bool{}
	var h homography
	for _, c := range l.Intersections {
		is[c.I], js[c.J] = true, true
		h.mi, h.mj = h.mi+float64(c.I)/float64(n), h.mj+float64(c.J)/float64(n)
		h.cx, h.cy = h.cx+c.Col/float64(n), h.cy+c.Row/float64(n)
	}
	if n < 4 || len(is) < 2 || len(js) < 2 {
		return h, false
	}
	unknowns := 8
	if !perspective || n < 6 {
		unknowns = 6
	}
	for range 4 {
		if !l.refine(&h, unknowns) {
			return h, false
		}
	}
	return h, true
}

// refine solves for the perspective with the weights of the last one.
func (l *Lattice) refine(h *homography, unknowns int) bool {
	n := len(l.Intersections)
	a, b := mat.NewDense(2*n, unknowns, nil), mat.NewVecDense(2*n, nil)
	for k, c := range l.Intersections {
		i, j := float64(c.I)-h.mi, float64(c.J)-h.mj
		x, y := c.Col-h.cx, c.Row-h.cy
		w := 1 / (h.m[6]*i + h.m[7]*j + 1)
		rows := [2][]float64{{i, j, 1, 0, 0, 0, -x * i, -x * j}, {0, 0, 0, i, j, 1, -y * i, -y * j}}
		for r, row := range rows {
			for t, v := range row[:unknowns] {
				a.Set(2*k+r, t, w*v)
			}
		}
		b.SetVec(2*k, w*x)
		b.SetVec(2*k+1, w*y)
	}
	var x mat.VecDense
	if x.SolveVec(a, b) != nil {
		return false
	}
	for t := range unknowns {
		h.m[t] = x.AtVec(t)
	}
	return true
}

// anisotropy is by which part squares are unequal or out of square, for the
// camera that explains them best: a flat sheet has none.
func (l *Lattice) anisotropy(h homography) float64 {
	x0, y0, x1, y1 := l.box()
	diag := math.Hypot(x1-x0, y1-y0)
	best := math.Inf(1)
	for f := lensShort; f <= lensLong; f *= 1.05 {
		x, y, z := h.m[0], h.m[3], h.m[6]*f*diag
		u, v, w := h.m[1], h.m[4], h.m[7]*f*diag
		a, b := math.Sqrt(x*x+y*y+z*z), math.Sqrt(u*u+v*v+w*w)
		skew := math.Abs(x*u+y*v+z*w) / (a * b)
		best = min(best, max(math.Abs(math.Log(a/b)), skew))
	}
	return best
}

// box is the upright box that holds the intersections, pixels.
func (l *Lattice) box() (x0, y0, x1, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range l.Intersections {
		x0, x1 = min(x0, c.Col), max(x1, c.Col)
		y0, y1 = min(y0, c.Row), max(y1, c.Row)
	}
	return x0, y0, x1, y1
}

// off is how far an intersection lies from a perspective, in squares along i and j.
func (h homography) off(c Intersection) (di, dj float64) {
	i, j := float64(c.I), float64(c.J)
	x, y := h.at(i, j)
	rx, ry := h.at(i+1, j)
	ux, uy := h.at(i, j+1)
	det := (rx-x)*(uy-y) - (ux-x)*(ry-y)
	dx, dy := c.Col-x, c.Row-y
	return (dx*(uy-y) - dy*(ux-x)) / det, ((rx-x)*dy - (ry-y)*dx) / det
}

// residuals are what the lines lie off a perspective, in pixels: the mean of each
// line's intersections.
func (l *Lattice) residuals(h homography) (down, across map[int]mean) {
	down, across = map[int]mean{}, map[int]mean{}
	for _, c := range l.Intersections {
		di, dj := h.off(c)
		down[c.I] = down[c.I].with(di * l.WidthPx)
		across[c.J] = across[c.J].with(dj * l.HeightPx)
	}
	return down, across
}

// unevenLines is by which part of a square two neighbouring lines are farther
// apart than a perspective has them, or nearer, at the worst. Each intersection is
// compared with the next one on the same line, so that bent paper does not count.
func (l *Lattice) unevenLines(h homography) (worst float64) {
	for _, line := range [2]func(Intersection) (number, place int, off float64){
		func(c Intersection) (int, int, float64) { d, _ := h.off(c); return c.I, c.J, d },
		func(c Intersection) (int, int, float64) { _, d := h.off(c); return c.J, c.I, d },
	} {
		at := map[[2]int]float64{}
		for _, c := range l.Intersections {
			n, place, off := line(c)
			at[[2]int{n, place}] = off
		}
		gaps := map[int]mean{}
		for k, off := range at {
			if next, ok := at[[2]int{k[0] + 1, k[1]}]; ok {
				gaps[k[0]] = gaps[k[0]].with(next - off)
			}
		}
		for _, g := range gaps {
			if g.n >= 2 {
				worst = max(worst, math.Abs(g.value()))
			}
		}
	}
	return worst
}
