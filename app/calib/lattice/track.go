package lattice

import (
	"math"
	"slices"
)

// sample is a line's centre measured over a block of rows.
type sample struct {
	y, x     float64 // middle of the block and column, pixel centres at whole numbers
	contrast float64 // how much darker than the paper beside it
	ink      float64 // contrast summed across the line
}

// follower measures lines of the down family near where the frame says.
type follower struct {
	p     plane
	f     frame
	block int // rows of a sample
	reach int // columns looked at on either side
}

func newFollower(p plane, f frame, step float64) follower {
	return follower{
		p: p, f: f,
		block: int(min(max(step/8, 8), 24)),
		reach: int(min(max(0.07*step, 4), 24)),
	}
}

// follow measures the line at u from top to bottom: of all ways that drift
// slowly beside the straight one, the darkest.
func (w follower) follow(u float64) []sample {
	x0 := u/(1-w.f.alpha*u) + w.f.cx
	slope := w.f.down.slopeAt(x0 - w.f.cx)
	at := func(y float64) float64 { return x0 + slope*(y-w.f.cy) }
	n := w.p.h / w.block
	states := 2*w.reach + 1
	dark := make([][]float64, n) // contrast of each offset
	for b := range n {
		dark[b] = w.contrasts(b*w.block, at, slope)
	}
	path := darkest(dark, states)
	out := make([]sample, 0, n)
	for b, s := range path {
		if dark[b] == nil {
			continue
		}
		y := float64(b*w.block) + float64(w.block-1)/2
		off, c := centre(dark[b], s)
		out = append(out, sample{y: y, x: at(y+0.5) - 0.5 + off - float64(w.reach), contrast: c, ink: inkAt(dark[b], s)})
	}
	return out
}

// inkAt sums the contrast over the breadth of a line at the offset s.
func inkAt(d []float64, s int) (sum float64) {
	for _, v := range d[max(0, s-3):min(len(d), s+4)] {
		sum += v
	}
	return sum
}

// contrasts gives, over the rows from y0 on, how much darker the picture is at
// each offset along the line than at both sides; nil where the line is not
// inside the picture.
func (w follower) contrasts(y0 int, at func(float64) float64, slope float64) []float64 {
	side := w.reach + reach
	n := 2*side + 1
	sum := make([]float64, n)
	for y := y0; y < y0+w.block; y++ {
		x := at(float64(y)+0.5) - 0.5 - float64(side)
		k := int(math.Floor(x))
		if k < 0 || k+n+1 > w.p.w {
			return nil
		}
		t := x - float64(k)
		row := w.p.row(y)[k : k+n+1]
		for i := range sum {
			sum[i] += float64(row[i])*(1-t) + float64(row[i+1])*t
		}
	}
	out := make([]float64, 2*w.reach+1)
	for i := range out {
		out[i] = max(0, min(sum[i], sum[i+2*reach])-sum[i+reach]) / float64(w.block)
	}
	return out
}

// darkest finds the offsets, one a block, with the most contrast in all, for a
// price on every change of offset and a pull to where the line should be
// (dynamic programming). Contrast counts up to a cap, so that the black frame
// beside a fine grid line is no better than the line.
func darkest(dark [][]float64, states int) []int {
	const price, cap, pull = 3.0, 12.0, 0.12
	middle := states / 2
	best := make([]float64, states)
	from := make([][]int8, len(dark))
	next := make([]float64, states)
	for b, d := range dark {
		from[b] = make([]int8, states)
		for s := range states {
			top, step := best[s], 0
			for _, k := range [2]int{-1, 1} {
				if t := s + k; t >= 0 && t < states && best[t]-price > top {
					top, step = best[t]-price, k
				}
			}
			if d != nil {
				top += min(d[s], cap) - pull*math.Abs(float64(s-middle))
			}
			next[s], from[b][s] = top, int8(step)
		}
		best, next = next, best
	}
	path := make([]int, len(dark))
	s := middle
	for t, v := range best {
		if v > best[s] {
			s = t
		}
	}
	for b := len(dark) - 1; b >= 0; b-- {
		path[b] = s
		s += int(from[b][s])
	}
	return path
}

// centre refines the offset s to the middle of the dark around it.
func centre(d []float64, s int) (off, contrast float64) {
	for s > 0 && d[s-1] > d[s] {
		s--
	}
	for s+1 < len(d) && d[s+1] > d[s] {
		s++
	}
	top := d[s]
	if top <= 0 {
		return float64(s), 0
	}
	least := 0.35 * top
	lo, hi := s, s
	for lo > 0 && d[lo-1] > least && s-lo < 3 {
		lo--
	}
	for hi+1 < len(d) && d[hi+1] > least && hi-s < 3 {
		hi++
	}
	var m, mo float64
	for i := max(0, lo-1); i <= min(len(d)-1, hi+1); i++ {
		v := max(0, d[i]-0.15*top)
		m, mo = m+v, mo+v*float64(i)
	}
	return mo / m, top
}

// local is the straight piece of a line around a point.
type local struct {
	x, slope float64 // at the point's row
	support  float64 // share of the samples near it that lie on it, 0 … 1
	arms     int     // sides, above and below, on which it is seen
	sigma    float64 // of x, pixels
}

// around fits the samples within ±half rows of y, forgiving those that are
// off it, and counts those darker than least.
func around(line []sample, y, half, least float64) (local, bool) {
	i, _ := slices.BinarySearchFunc(line, y-half, func(s sample, y float64) int {
		if s.y < y {
			return -1
		}
		return 1
	})
	k := i
	for k < len(line) && line[k].y <= y+half {
		k++
	}
	win := line[i:k]
	if len(win) < 4 {
		return local{}, false
	}
	x, slope := medianLine(win, y, least)
	for range 6 {
		var f lineFit
		for _, s := range win {
			d := s.x - x - slope*(s.y-y)
			f.add(s.y-y, s.x, sampleWeight(s, least)/(1+d*d/0.09))
		}
		if f.n < 1e-6 {
			return local{}, false
		}
		x, slope = f.solve()
	}
	return judge(win, x, slope, y, least)
}

func sampleWeight(s sample, least float64) float64 {
	if s.contrast < least {
		return 0.05 * s.contrast / least
	}
	return min(s.contrast, 4*least) / least
}

// medianLine is a first line through the samples: their median position and the
// median slope of the pairs half a window apart.
func medianLine(win []sample, y, least float64) (x, slope float64) {
	dark := make([]sample, 0, len(win))
	for _, s := range win {
		if s.contrast >= least {
			dark = append(dark, s)
		}
	}
	if len(dark) < 4 {
		dark = win
	}
	var slopes, xs []float64
	half := len(dark) / 2
	for i := range len(dark) - half {
		a, b := dark[i], dark[i+half]
		slopes = append(slopes, (b.x-a.x)/(b.y-a.y))
	}
	slope = median(slopes)
	for _, s := range dark {
		xs = append(xs, s.x-slope*(s.y-y))
	}
	return median(xs), slope
}

func median(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}

func judge(win []sample, x, slope, y, least float64) (local, bool) {
	var on, above, below, nAbove, nBelow, sum, weight float64
	for _, s := range win {
		d := s.x - x - slope*(s.y-y)
		good := s.contrast >= least && math.Abs(d) < 1
		if s.y < y {
			nAbove++
		} else {
			nBelow++
		}
		if !good {
			continue
		}
		on++
		sum, weight = sum+d*d, weight+1
		if s.y < y {
			above++
		} else {
			below++
		}
	}
	l := local{x: x, slope: slope, support: on / float64(len(win))}
	if nAbove > 0 && above/nAbove > 0.4 {
		l.arms++
	}
	if nBelow > 0 && below/nBelow > 0.4 {
		l.arms++
	}
	if weight < 3 {
		return l, false
	}
	l.sigma = math.Sqrt(sum/weight+0.01) / math.Sqrt(weight)
	return l, true
}
