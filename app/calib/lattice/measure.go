package lattice

import (
	"context"
	"math"
	"slices"
)

const (
	// leastContrast is the faintest line that is believed, in grey levels.
	leastContrast = 3
	// leastSupport is the share of the lattice's lines that must be seen, and
	// leastRatio by how much that must exceed what lies half a square beside.
	leastSupport = 0.3
	leastRatio   = 2.2
)

// measured are the lines of one family.
type measured struct {
	us    []float64
	lines [][]sample
	least float64 // contrast of a sample that shows the line
}

// measure follows every line of the choice, finds the intersections and judges
// whether the whole is a grid. q is p with rows and columns swapped.
func measure(ctx context.Context, p, q plane, c choice) (*Lattice, string) {
	down := followAll(ctx, newFollower(p, c.f, c.down.step), c.down, 0)
	across := followAll(ctx, newFollower(q, c.f.turned(), c.across.step), c.across, 0)
	if ctx.Err() != nil {
		return nil, ""
	}
	l := &Lattice{Oblong: c.oblong}
	l.crossAll(down, across, c)
	l.dropFrames(c, down, across)
	l.dropUneven(c, down.odd(), across.odd())
	l.dropStrays(c)
	l.describe()
	if n := l.wholeCells(); n < 2 || c.oblong && n < 4 {
		return nil, tooFaint
	}
	if !l.fills(p.w, p.h) {
		return nil, tooSmall
	}
	l.Support = support(down, across, l.Intersections, c)
	beside := c.beside(ctx, newFollower(p, c.f, c.down.step), c.down)
	above := c.beside(ctx, newFollower(q, c.f.turned(), c.across.step), c.across)
	beside.least, above.least = down.least, across.least
	l.Control = support(beside, above, l.Intersections, c)
	if l.Support < leastSupport || l.Support < leastRatio*l.Control {
		return nil, tooFaint
	}
	return l, ""
}

// crossAll measures every intersection that can be seen.
func (l *Lattice) crossAll(down, across measured, c choice) {
	for i, u := range down.us {
		for j, v := range across.us {
			x, y := c.f.xy(u, v)
			if k, ok := cross(down, across, i, j, x, y, c); ok {
				k.I, k.J = i, -j
				l.Intersections = append(l.Intersections, k)
			}
		}
	}
}

// beside measures what lies half a square beside the comb's lines or, where
// fainter lines divide the squares, between two of those.
func (c choice) beside(ctx context.Context, w follower, cb comb) measured {
	if c.divided {
		w.reach = min(w.reach, max(2, int(0.03*cb.step)))
		return followAll(ctx, w, cb, 0.45*cb.step)
	}
	return followAll(ctx, w, cb, cb.step/2)
}

// followAll measures the comb's lines, moved aside by off.
func followAll(ctx context.Context, w follower, c comb, off float64) measured {
	m := measured{us: c.places()}
	m.lines = make([][]sample, len(m.us))
	twice(func(part, parts int) {
		for i := part; i < len(m.us) && ctx.Err() == nil; i += parts {
			m.lines[i] = w.follow(m.us[i] + off)
		}
	})
	m.least = darkEnough(m.lines)
	return m
}

// odd says which lines are drawn much more strongly than the rest, as frames
// are.
func (m measured) odd() []bool {
	dark := make([]float64, len(m.lines))
	for i, l := range m.lines {
		var seen []float64
		for _, s := range l {
			if s.contrast >= m.least {
				seen = append(seen, s.contrast)
			}
		}
		if len(seen) > 0 {
			dark[i] = median(seen)
		}
	}
	usual := median(slices.Clone(dark))
	out := make([]bool, len(dark))
	for i, d := range dark {
		out[i] = d > 1.6*usual
	}
	return out
}

// darkEnough is the contrast from which a sample shows a line: about a third
// of what the better part of the lines has.
func darkEnough(lines [][]sample) float64 {
	var all []float64
	for _, l := range lines {
		for _, s := range l {
			all = append(all, s.contrast)
		}
	}
	if len(all) == 0 {
		return leastContrast
	}
	slices.Sort(all)
	return max(leastContrast, 0.35*all[len(all)*7/10])
}

// places are the comb's lines and one more at each end, which a margin may
// have hidden from the count.
func (c comb) places() []float64 {
	n := len(c.teeth)
	first, last := c.teeth[0].u, c.teeth[n-1].u
	a, b := c.step, c.step
	if n > 2 {
		a, b = c.teeth[1].u-first, last-c.teeth[n-2].u
	}
	out := []float64{first - a}
	for _, t := range c.teeth {
		out = append(out, t.u)
	}
	return append(out, last+b)
}

// window is how far along a line an intersection's straight pieces reach.
func window(step float64) float64 { return min(max(0.55*step, 48), 260) }

// cross measures the intersection of line i of down with line j of across, near
// (x, y) in pixels.
func cross(down, across measured, i, j int, x, y float64, c choice) (Intersection, bool) {
	x, y = x-0.5, y-0.5 // samples count from the middle of the first pixel
	var d, a local
	for range 3 {
		var dOK, aOK bool
		d, dOK = around(down.lines[i], y, window(c.across.step), down.least)
		a, aOK = around(across.lines[j], x, window(c.down.step), across.least)
		if !dOK || !aOK {
			return Intersection{}, false
		}
		// col = d.x + d.slope·(row − y), row = a.x + a.slope·(col − x)
		col := (d.x + d.slope*(a.x-a.slope*x-y)) / (1 - d.slope*a.slope)
		x, y = col, a.x+a.slope*(col-x)
	}
	q := math.Sqrt(d.support * a.support)
	if d.arms == 0 || a.arms == 0 || d.support < 0.3 || a.support < 0.3 {
		return Intersection{}, false
	}
	return Intersection{Col: x + 0.5, Row: y + 0.5, Quality: q, SigmaPx: math.Sqrt((d.sigma*d.sigma + a.sigma*a.sigma) / 2)}, true
}

// support is the share of samples between the outermost intersections that show a
// line.
func support(down, across measured, cs []Intersection, c choice) float64 {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, k := range cs {
		x0, x1 = min(x0, k.Col), max(x1, k.Col)
		y0, y1 = min(y0, k.Row), max(y1, k.Row)
	}
	var on, all float64
	count := func(m measured, from, to, lo, hi, half float64) {
		for _, l := range m.lines {
			a, n := straightShare(l, from, to, lo, hi, half, m.least)
			on, all = on+a, all+n
		}
	}
	count(down, y0, y1, x0-2, x1+2, window(c.across.step))
	count(across, x0, x1, y0-2, y1+2, window(c.down.step))
	if all == 0 {
		return 0
	}
	return on / all
}

// straightShare counts the samples of a line within from … to, as long as the
// line lies within lo … hi, and those of them that lie dark on a straight
// piece.
func straightShare(line []sample, from, to, lo, hi, half, least float64) (on, all float64) {
	for y := from + half; y < to+half; y += 2 * half {
		mid := min(y, to)
		l, ok := around(line, mid, half, least)
		if !ok {
			all += 1
			continue
		}
		if l.x < lo || l.x > hi {
			continue
		}
		all++
		on += l.support
	}
	return on, all
}

// wholeCells is the number of squares all of whose corners were found. Two frames
// of a picture have one at most.
func (l *Lattice) wholeCells() int {
	at := map[[2]int]bool{}
	for _, c := range l.Intersections {
		at[[2]int{c.I, c.J}] = true
	}
	n := 0
	for k := range at {
		if at[[2]int{k[0] + 1, k[1]}] && at[[2]int{k[0], k[1] + 1}] && at[[2]int{k[0] + 1, k[1] + 1}] {
			n++
		}
	}
	return n
}

// describe fills in the measures of the cells.
func (l *Lattice) describe() {
	at := map[[2]int]Intersection{}
	for _, c := range l.Intersections {
		at[[2]int{c.I, c.J}] = c
	}
	var w, h, angle []float64
	for k, c := range at {
		if r, ok := at[[2]int{k[0] + 1, k[1]}]; ok {
			w = append(w, math.Hypot(r.Col-c.Col, r.Row-c.Row))
			angle = append(angle, math.Atan2(r.Row-c.Row, r.Col-c.Col))
		}
		if u, ok := at[[2]int{k[0], k[1] + 1}]; ok {
			h = append(h, math.Hypot(u.Col-c.Col, u.Row-c.Row))
			angle = append(angle, math.Atan2(u.Col-c.Col, c.Row-u.Row))
		}
	}
	if len(w) == 0 || len(h) == 0 {
		return
	}
	l.WidthPx, l.HeightPx, l.Angle = median(w), median(h), median(angle)
	l.SquarePx = math.Sqrt(l.WidthPx * l.HeightPx)
}
