package overlay

import (
	"encoding/binary"
	"image"
	"math"

	"legwright/canvas/view"
)

// paper is a strip of the picture, rows y0 up to y1, that one goroutine draws.
type paper struct {
	img    *image.RGBA
	y0, y1 int
}

// segment draws one straight piece with a profile. Round ends reach beyond
// the points; square ends stop at them.
func (p *paper) segment(pr *profile, a, b view.ScreenPt, round bool) {
	a, b, ok := p.clip(a, b, pr.reach+1)
	if !ok {
		return
	}
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	if length < 1e-9 {
		if !round {
			return
		}
		dx, dy, length = 1e-9, 0, 1e-9
	}
	r := run{pr: pr, a: a, ux: dx / length, uy: dy / length, length: length, round: round}
	top := max(p.y0, int(math.Floor(min(a.Y, b.Y)-pr.reach)))
	bottom := min(p.y1, int(math.Ceil(max(a.Y, b.Y)+pr.reach)))
	for y := top; y < bottom; y++ {
		r.row(p, y, min(a.X, b.X)-pr.reach, max(a.X, b.X)+pr.reach)
	}
}

// run is a segment being drawn.
type run struct {
	pr     *profile
	a      view.ScreenPt
	ux, uy float64 // along
	length float64
	round  bool
}

// row draws the pixels of one row between lo and hi that the line covers.
func (r *run) row(p *paper, y int, lo, hi float64) {
	cy := float64(y) + 0.5 - r.a.Y
	// The distance from the axis is |s| with s = uy·x − ux·y.
	if math.Abs(r.uy) > 1e-9 {
		m, w := r.a.X+r.ux*cy/r.uy, r.pr.reach/math.Abs(r.uy)
		lo, hi = max(lo, m-w), min(hi, m+w)
	}
	x0 := max(0, int(math.Floor(lo-0.5)))
	x1 := min(p.img.Rect.Dx(), int(math.Ceil(hi+0.5)))
	if x0 >= x1 {
		return
	}
	cx := float64(x0) + 0.5 - r.a.X
	s, t := r.uy*cx-r.ux*cy, r.ux*cx+r.uy*cy
	pix := p.img.Pix[y*p.img.Stride+4*x0 : y*p.img.Stride+4*x1]
	tab := r.pr.tab
	for ; len(pix) >= 4; pix, s, t = pix[4:], s+r.uy, t+r.ux {
		d, part := math.Abs(s), 1.0
		if t < 0.5 || t > r.length-0.5 {
			if d, part = r.atEnd(s, t); part <= 0 {
				continue
			}
		}
		i := int(d*fine + 0.5)
		if i >= len(tab) {
			continue
		}
		c := tab[i]
		if part < 1 {
			c = scaled(c, part)
		}
		if c != 0 {
			binary.LittleEndian.PutUint32(pix, over(binary.LittleEndian.Uint32(pix), c))
		}
	}
}

// atEnd is the distance and the covered part near and beyond the ends.
func (r *run) atEnd(s, t float64) (d, part float64) {
	d = math.Abs(s)
	if r.round {
		if t < 0 {
			d = math.Hypot(s, t)
		} else if t > r.length {
			d = math.Hypot(s, t-r.length)
		}
		return d, 1
	}
	return d, max(0, min(t+0.5, r.length)-max(t-0.5, 0))
}

// clip cuts a piece to the strip grown by margin (Liang and Barsky, ACM
// Transactions on Graphics 3, 1984), so that pixel loops are short and
// coordinates small.
func (p *paper) clip(a, b view.ScreenPt, margin float64) (view.ScreenPt, view.ScreenPt, bool) {
	t0, t1, ok := p.span(a, b, margin)
	if !ok {
		return a, b, false
	}
	dx, dy := b.X-a.X, b.Y-a.Y
	return view.ScreenPt{X: a.X + t0*dx, Y: a.Y + t0*dy}, view.ScreenPt{X: a.X + t1*dx, Y: a.Y + t1*dy}, true
}

// span is the part of the way from a to b that lies in the strip grown by
// margin, as fractions of the way.
func (p *paper) span(a, b view.ScreenPt, margin float64) (t0, t1 float64, ok bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	if math.IsNaN(dx) || math.IsInf(dx, 0) || math.IsNaN(dy) || math.IsInf(dy, 0) {
		return 0, 0, false
	}
	t0, t1 = 0, 1
	for _, e := range [4][2]float64{
		{-dx, a.X + margin},
		{dx, float64(p.img.Rect.Dx()) + margin - a.X},
		{-dy, a.Y - float64(p.y0) + margin},
		{dy, float64(p.y1) + margin - a.Y},
	} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return 0, 0, false
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		case e[0] > 0:
			t1 = min(t1, e[1]/e[0])
		}
	}
	return t0, t1, t0 <= t1
}

// dashed draws a piece in dashes; lengths are pixels, and the pattern begins
// at a. It visits only dashes within the strip.
func (p *paper) dashed(pr *profile, a, b view.ScreenPt, dash []float64, round bool) {
	t0, t1, ok := p.span(a, b, pr.reach+1)
	length := a.Dist(b)
	if !ok || length == 0 {
		return
	}
	period := 0.0
	for _, d := range dash {
		period += d
	}
	at := func(s float64) view.ScreenPt {
		f := s / length
		return view.ScreenPt{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
	}
	for s := math.Floor(t0*length/period) * period; s < t1*length; s += period {
		from := s
		for i, d := range dash {
			if to := min(from+d, length); i%2 == 0 && to > max(from, 0) {
				p.segment(pr, at(max(from, 0)), at(to), round)
			}
			from += d
		}
	}
}

// blit lays a premultiplied picture over the strip with its corner at x, y.
func (p *paper) blit(src *image.RGBA, x, y int) {
	w := src.Rect.Dx()
	from, to := max(0, -x), min(w, p.img.Rect.Dx()-x)
	if from >= to {
		return
	}
	for row := max(0, p.y0-y); row < min(src.Rect.Dy(), p.y1-y); row++ {
		s := src.Pix[row*src.Stride+4*from : row*src.Stride+4*to]
		d := p.img.Pix[(y+row)*p.img.Stride+4*(x+from):]
		for i := 0; i < len(s); i += 4 {
			if c := binary.LittleEndian.Uint32(s[i:]); c != 0 {
				binary.LittleEndian.PutUint32(d[i:], over(binary.LittleEndian.Uint32(d[i:]), c))
			}
		}
	}
}
