package lattice

import (
	"cmp"
	"math"
	"slices"
)

// pencil is a family of straight lines that meet in one point, or are
// parallel: a line that crosses the middle row at X0 from the middle of the
// plane has the slope s0 + s1·X0.
type pencil struct {
	s0, s1 float64
	score  float64 // length of the chains that belong to it, in plane heights
}

func (c pencil) slopeAt(x0 float64) float64 { return c.s0 + c.s1*x0 }

const (
	// tried is how many of the longest chains propose pencils.
	tried = 80
	// pencils is how many of the best go on.
	pencils = 4
	// fan is the largest difference of slope from edge to edge.
	fan = 0.35
)

// findPencils proposes the pencils that most of the long chains belong to, by
// trying every pair of them.
func findPencils(chains []chain, w, h int) []pencil {
	cx := float64(w) / 2
	lines := make([]chain, len(chains))
	for i, c := range chains {
		c.x0 -= cx
		lines[i] = c
	}
	top := lines[:min(len(lines), tried)]
	var all []pencil
	for i, a := range top {
		all = append(all, pencil{s0: a.slope})
		for _, b := range top[:i] {
			if math.Abs(a.x0-b.x0) < 0.05*float64(w) {
				continue
			}
			s1 := (a.slope - b.slope) / (a.x0 - b.x0)
			p := pencil{s0: a.slope - s1*a.x0, s1: s1}
			if math.Abs(s1)*float64(w) <= fan && math.Abs(p.s0) <= steepest {
				all = append(all, p)
			}
		}
	}
	for i := range all {
		all[i].score = all[i].support(lines, float64(h))
	}
	slices.SortFunc(all, func(a, b pencil) int { return cmp.Compare(b.score, a.score) })
	var out []pencil
	for _, p := range all {
		if len(out) == pencils {
			break
		}
		if !slices.ContainsFunc(out, func(o pencil) bool { return o.near(p, float64(w)) }) {
			out = append(out, p.polished(lines, float64(h)))
		}
	}
	return out
}

// near says that two pencils are the same but for noise.
func (c pencil) near(o pencil, w float64) bool {
	return math.Abs(c.s0-o.s0) < 0.015 && math.Abs(c.s1-o.s1)*w < 0.04
}

// weight of a chain in a pencil: 1 on it, 0 beyond the tolerance.
func (c pencil) weight(l chain) float64 {
	tol := 0.008 + 2/l.length
	d := (l.slope - c.slopeAt(l.x0)) / tol
	return max(0, 1-d*d)
}

func (c pencil) support(lines []chain, h float64) float64 {
	var sum float64
	for _, l := range lines {
		sum += c.weight(l) * l.length * l.length / (h * h)
	}
	return sum
}

// polished fits the pencil to the chains that belong to it.
func (c pencil) polished(lines []chain, h float64) pencil {
	for range 3 {
		var f lineFit
		for _, l := range lines {
			if w := c.weight(l); w > 0 {
				f.add(l.x0, l.slope, w*l.length*l.length)
			}
		}
		if f.n == 0 {
			break
		}
		if f.tt/f.n-(f.t/f.n)*(f.t/f.n) < 1e4 { // one point alone says nothing of the fan
			c.s0 = f.x / f.n
			continue
		}
		c.s0, c.s1 = f.solve()
	}
	c.score = c.support(lines, h)
	return c
}
