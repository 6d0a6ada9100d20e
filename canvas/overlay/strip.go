package overlay

import (
	"encoding/binary"
	"image"
	"math"

	"legwright/canvas/view"
)

// strip is a part of the picture, rows y0 up to y1, that one goroutine draws.
type strip struct {
	img    *image.RGBA
	y0, y1 int
}

// segment draws one straight piece with a profile. Round ends reach beyond
// the points; square ends stop at them.
func (p *strip) segment(pr *profile, a, b view.ScreenPt, round bool) {
	p.piece(pr, a, b, round, pr.reach, pr.reach)
}

// piece is segment with round ends that are drawn only so far beyond the points: in a bend
// the next piece draws the rest.
func (p *strip) piece(pr *profile, a, b view.ScreenPt, round bool, beforeA, beyondB float64) {
	if len(pr.tab) == 0 {
		return
	}
	a, b, ok := p.clip(a, b, pr.reach+1)
	if !ok {
		return
	}
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Sqrt(dx*dx + dy*dy)
	if length < 1e-9 {
		if !round {
			return
		}
		dx, dy, length = 1e-9, 0, 1e-9
	}
	r := run{pr: pr, a: a, ux: dx / length, uy: dy / length, length: length, round: round}
	r.perX, r.perY = 1/r.ux, 1/r.uy
	r.from, r.to = -beforeA, length+beyondB
	r.lo, r.hi = min(a.X, b.X)-pr.reach, max(a.X, b.X)+pr.reach
	top := max(p.y0, int(math.Floor(min(a.Y, b.Y)-pr.reach)))
	bottom := min(p.y1, int(math.Ceil(max(a.Y, b.Y)+pr.reach)))
	for y := top; y < bottom; y++ {
		r.row(p, y)
	}
}

// run is a segment being drawn.
type run struct {
	pr       *profile
	a        view.ScreenPt
	ux, uy   float64 // along
	length   float64
	lo, hi   float64 // columns it can reach
	from, to float64 // along, what is drawn of it and its round ends
	round    bool

	perX, perY float64 // 1/ux and 1/uy
}

// row draws the pixels of one row that the line covers: those near its ends
// with care, those between in a loop of its own.
func (r *run) row(p *strip, y int) {
	cy := float64(y) + 0.5 - r.a.Y
	lo, hi := r.lo, r.hi
	// The distance from the axis is |s| with s = uy·x − ux·y.
	if math.Abs(r.uy) > 1e-9 {
		m, w := r.a.X+r.ux*cy*r.perY, r.pr.reach*math.Abs(r.perY)
		lo, hi = max(lo, m-w), min(hi, m+w)
	}
	if math.Abs(r.ux) > 1e-9 {
		m, n := r.a.X+(r.from-r.uy*cy)*r.perX, r.a.X+(r.to-r.uy*cy)*r.perX
		lo, hi = max(lo, min(m, n)), min(hi, max(m, n))
	} else if t := r.uy * cy; t < r.from || t > r.to {
		return
	}
	x0, x1 := max(0, int(lo)), min(p.img.Rect.Dx(), int(hi)+1)
	if x0 >= x1 {
		return
	}
	in0, in1 := r.inner(cy, x0, x1)
	pix := p.img.Pix[y*p.img.Stride:]
	r.ends(pix[4*x0:4*in0], cy, x0)
	r.middle(pix[4*in0:4*in1], cy, in0)
	r.ends(pix[4*in1:4*x1], cy, in1)
}

// inner is the range of columns from x0 to x1 in which t = ux·x + uy·y lies
// half a pixel or more inside both ends.
func (r *run) inner(cy float64, x0, x1 int) (from, to int) {
	t := r.ux*(float64(x0)+0.5-r.a.X) + r.uy*cy
	u := t + r.ux*float64(x1-1-x0)
	if min(t, u) >= 0.5 && max(t, u) <= r.length-0.5 {
		return x0, x1
	}
	if max(t, u) < 0.5 || min(t, u) > r.length-0.5 || math.Abs(r.ux) < 1e-9 {
		return x0, x0
	}
	p, q := (0.5-t)*r.perX, (r.length-0.5-t)*r.perX
	if p > q {
		p, q = q, p
	}
	n := float64(x1 - x0)
	from = int(min(max(math.Ceil(p), 0), n))
	to = int(min(max(math.Floor(q)+1, float64(from)), n))
	return x0 + from, x0 + to
}

// middle draws pixels between the ends; their distance changes by uy from one
// to the next.
func (r *run) middle(pix []uint8, cy float64, x int) {
	r.pr.row(pix, r.uy*(float64(x)+0.5-r.a.X)-r.ux*cy, r.uy)
}

// row draws pixels of which the first lies off pixels from the axis, and each next one step
// farther. It counts in 1/65536 pixel.
func (p *profile) row(pix []uint8, off, step float64) {
	const one = 1 << 16
	s, ds := int(math.Round(off*one)), int(math.Round(step*one))
	tab := p.tab
	for ; len(pix) >= 4; pix, s = pix[4:], s+ds {
		d := s
		if d < 0 {
			d = -d
		}
		i := (d + one/fine/2) / (one / fine)
		if i >= len(tab) {
			continue
		}
		put(pix, tab[i])
	}
}

// ends draws pixels near and beyond the ends.
func (r *run) ends(pix []uint8, cy float64, x int) {
	cx := float64(x) + 0.5 - r.a.X
	s, t := r.uy*cx-r.ux*cy, r.ux*cx+r.uy*cy
	tab := r.pr.tab
	for ; len(pix) >= 4; pix, s, t = pix[4:], s+r.uy, t+r.ux {
		d, part := r.atEnd(s, t)
		i := int(d*fine + 0.5)
		if part <= 0 || i >= len(tab) {
			continue
		}
		c := tab[i]
		if part < 1 {
			c = scaled(c, part)
		}
		put(pix, c)
	}
}

// put lays a premultiplied pixel over the first of pix.
func put(pix []uint8, c uint32) {
	switch {
	case c == 0:
	case c >= 0xff000000:
		binary.LittleEndian.PutUint32(pix, c)
	default:
		binary.LittleEndian.PutUint32(pix, over(binary.LittleEndian.Uint32(pix), c))
	}
}

// atEnd is the distance and the covered part near and beyond the ends.
func (r *run) atEnd(s, t float64) (d, part float64) {
	if !r.round {
		return math.Abs(s), min(t+0.5, r.length) - max(t-0.5, 0)
	}
	if t > 0 {
		t = max(t-r.length, 0)
	}
	return math.Sqrt(s*s + t*t), 1
}

// clip cuts a piece to the strip grown by margin (Liang and Barsky, ACM
// Transactions on Graphics 3, 1984), so that pixel loops are short and
// coordinates small.
func (p *strip) clip(a, b view.ScreenPt, margin float64) (view.ScreenPt, view.ScreenPt, bool) {
	t0, t1, ok := p.span(a, b, margin)
	if !ok {
		return a, b, false
	}
	dx, dy := b.X-a.X, b.Y-a.Y
	return view.ScreenPt{X: a.X + t0*dx, Y: a.Y + t0*dy}, view.ScreenPt{X: a.X + t1*dx, Y: a.Y + t1*dy}, true
}

// span is the part of the way from a to b that lies in the strip grown by
// margin, as fractions of the way.
func (p *strip) span(a, b view.ScreenPt, margin float64) (t0, t1 float64, ok bool) {
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

// farthest is the longest piece, in pixels, along which dashes and dots can
// still be counted; ends of longer ones are off every map.
const farthest = 1e9

// dashed draws a piece in dashes; lengths are pixels, and the pattern begins
// at a. It visits only dashes within the strip.
func (p *strip) dashed(pr *profile, a, b view.ScreenPt, dash []float64, round bool) {
	p.dashedFrom(pr, a, b, dash, 0, round)
}

// dashedFrom is dashed with a pattern that began so many pixels before a.
func (p *strip) dashedFrom(pr *profile, a, b view.ScreenPt, dash []float64, before float64, round bool) {
	t0, t1, ok := p.span(a, b, pr.reach+1)
	length := a.Dist(b)
	if !ok || length == 0 || length > farthest {
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
	before = math.Mod(before, period)
	for s := math.Floor((t0*length+before)/period)*period - before; s < t1*length; s += period {
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
func (p *strip) blit(src *image.RGBA, x, y int) {
	w := src.Rect.Dx()
	from, to := max(0, -x), min(w, p.img.Rect.Dx()-x)
	if from >= to {
		return
	}
	for row := max(0, p.y0-y); row < min(src.Rect.Dy(), p.y1-y); row++ {
		s := src.Pix[row*src.Stride+4*from : row*src.Stride+4*to]
		d := p.img.Pix[(y+row)*p.img.Stride+4*(x+from):]
		for i := 0; i < len(s); i += 4 {
			put(d[i:], binary.LittleEndian.Uint32(s[i:]))
		}
	}
}
