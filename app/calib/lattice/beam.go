package lattice

import (
	"context"
	"slices"
)

const (
	// reach is how far beside a line its paper is looked at, in pixels: lines
	// of up to four pixels are seen at full contrast.
	reach = 4
	// most is the contrast above which darker is not surer.
	most = 40
	// steepest is the largest tangent between a line and its axis: 15° of a
	// turned scan and as much again as a tilted camera adds.
	steepest = 0.45
)

// segment is a piece of a line that runs nearly down a strip of rows. Its
// middle is (x, y) with pixel centres at whole numbers, and slope is columns
// to the right a row down.
type segment struct {
	x, y, slope float64
	strength    float64 // sum of contrast over the strip's rows
}

// strips are the segments found in each strip of rows.
type strips struct {
	p    plane
	high int // rows of a strip
	segs [][]segment
}

// findSegments sums the picture's ridges along all straight ways down each
// strip, by halves (the discrete Radon transform of Götz and Druck and of
// Brady, 1998), and keeps the ways that stand out.
func findSegments(ctx context.Context, p plane) strips {
	s := strips{p: p, high: 64}
	if min(p.w, p.h) < 900 {
		s.high = 32
	}
	s.segs = make([][]segment, p.h/s.high)
	twice(func(part, parts int) {
		b := newBeams(p.w, s.high)
		for i := part; i < len(s.segs) && ctx.Err() == nil; i += parts {
			s.segs[i] = b.strip(p, i*s.high)
		}
	})
	return s
}

// beams is the work space of one strip.
type beams struct {
	w, wide, high int        // wide has room for the slopes on either side
	levels        [][]uint16 // level l: high>>l parts × (2·turns(l)+1) slopes × wide
	best          []uint16
	slope         []int8
	sorted        []uint16
}

// turns is the largest shift over 2^l rows.
func turns(l int) int {
	if l == 0 {
		return 0
	}
	n := steepest * float64(int(1)<<l)
	return int(n + 0.999)
}

func newBeams(w, high int) *beams {
	b := &beams{w: w, wide: w + 2*high, high: high}
	for l := 0; high>>l > 0; l++ {
		b.levels = append(b.levels, make([]uint16, (high>>l)*(2*turns(l)+1)*b.wide))
	}
	b.best, b.slope = make([]uint16, b.wide), make([]int8, b.wide)
	return b
}

// line gives the sums of one part and slope of a level.
func (b *beams) line(l, part, t int) []uint16 {
	n := 2*turns(l) + 1
	return b.levels[l][(part*n+t+turns(l))*b.wide:][:b.wide]
}

// strip finds the segments in the rows from y0 on.
func (b *beams) strip(p plane, y0 int) []segment {
	for y := range b.high {
		ridge(b.line(0, y, 0)[b.high:b.high+b.w], p.row(y0+y))
	}
	for l := 1; l < len(b.levels); l++ {
		for part := range b.high >> l {
			for t := -turns(l); t <= turns(l); t++ {
				b.join(l, part, t)
			}
		}
	}
	b.strongest()
	return b.peaks(y0)
}

// ridge writes how much darker each pixel is than the darker of its two
// neighbours at reach, held to 0 … most.
func ridge(dst []uint16, src []uint8) {
	n := len(src)
	clear(dst)
	if n < 2*reach+1 {
		return
	}
	l, c, r, out := src[:n-2*reach], src[reach:n-reach], src[2*reach:], dst[reach:n-reach]
	c, r, out = c[:len(l)], r[:len(l)], out[:len(l)]
	for i, a := range l {
		d := int(min(a, r[i])) - int(c[i])
		out[i] = uint16(min(max(d, 0), most))
	}
}

// join adds the lower half to the upper one, shifted by what the slope moves
// on the way.
func (b *beams) join(l, part, t int) {
	half := t / 2
	shift := t - half
	if l == 1 {
		half, shift = 0, t
	}
	top, low := b.line(l-1, 2*part, half), b.line(l-1, 2*part+1, half)
	dst := b.line(l, part, t)
	from, to := max(0, -shift), b.wide-max(0, shift)
	copy(dst[:from], top[:from])
	copy(dst[to:], top[to:])
	d, a, c := dst[from:to], top[from:to], low[from+shift:to+shift]
	a, c = a[:len(d)], c[:len(d)]
	for i := range d {
		d[i] = a[i] + c[i]
	}
}

// strongest finds for each middle the slope with the largest sum.
func (b *beams) strongest() {
	clear(b.best)
	l := len(b.levels) - 1
	for t := -turns(l); t <= turns(l); t++ {
		src := b.line(l, 0, t)
		mid := t / 2 // the line's middle stands t/2 right of its head
		from, to := max(0, -mid), b.wide-max(0, mid)
		best, slope := b.best[from+mid:to+mid], b.slope[from+mid:to+mid]
		for i, v := range src[from:to] {
			if v > best[i] {
				best[i], slope[i] = v, int8(t)
			}
		}
	}
}

// peaks keeps the columns that stand out of the strip.
func (b *beams) peaks(y0 int) []segment {
	m, s := b.best[b.high:b.high+b.w], b.slope[b.high:]
	b.sorted = append(b.sorted[:0], m...)
	slices.Sort(b.sorted)
	q2, q3 := float64(b.sorted[b.w/2]), float64(b.sorted[3*b.w/4])
	least := uint16(min(q2+1.5*(q3-q2)+2.5*float64(b.high), 0.5*most*float64(b.high)))
	var out []segment
	for x := range m {
		v := m[x]
		if v < least {
			continue
		}
		top := true
		for d := 1; d <= 4 && top; d++ {
			top = (x-d < 0 || m[x-d] < v) && (x+d >= b.w || m[x+d] <= v)
		}
		if top {
			t := float64(s[x])
			odd := t/2 - float64(int(t)/2)
			out = append(out, segment{
				x: float64(x) + odd, y: float64(y0) + float64(b.high-1)/2,
				slope: t / float64(b.high), strength: float64(v),
			})
		}
	}
	return out
}
