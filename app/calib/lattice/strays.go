package lattice

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// sure is how many intersections tell the surface well enough to judge them by
// their own scatter.
const sure = 16

// dropStrays fits a smooth surface to the intersections of lines that the comb
// saw, and drops all that lie off it: an edge of a wood or a wall beside the
// line, or the map's frame where the next line would have been.
func (l *Lattice) dropStrays(c choice) {
	step := min(c.down.step, c.across.step)
	for range 3 {
		off := l.smoothOff(c)
		if off == nil {
			return
		}
		sorted := slices.Clone(off)
		slices.Sort(sorted)
		limit := max(5, 0.012*step) // paper warps by some pixels
		if len(off) >= sure {
			limit = min(limit, max(1.2, 4*sorted[len(sorted)/2]))
		}
		kept := l.Intersections[:0:0]
		for i, c := range l.Intersections {
			if off[i] <= limit {
				kept = append(kept, c)
			}
		}
		if len(kept) == len(l.Intersections) {
			return
		}
		l.Intersections = kept
	}
}

// seen says whether the intersection's lines are teeth at which a peak was.
func (c choice) seen(k Intersection) bool {
	hit := func(cb comb, n int) bool { return n >= 1 && n <= len(cb.teeth) && cb.teeth[n-1].hit }
	return hit(c.down, k.I) && hit(c.across, -k.J)
}

// dropUneven drops an outermost line that does not stand where its fellows
// say: the frame of a map is often near where the next grid line would be, and
// is drawn more strongly, so less is forgiven a line that looks odd. In the
// frame's u and v lines are evenly spaced.
func (l *Lattice) dropUneven(c choice, oddDown, oddAcross []bool) {
	for range 3 {
		i := uneven(l.lines(c, false), oddDown, c.down.step, c.across.step)
		j := uneven(l.lines(c, true), oddAcross, c.across.step, c.down.step)
		if i == none && j == none {
			return
		}
		l.Intersections = slices.DeleteFunc(l.Intersections, func(k Intersection) bool { return k.I == i || -k.J == j })
	}
}

const none = math.MinInt

// foundLine is where a line lies: its number and the median of u or v.
type foundLine struct {
	n  int
	at float64
}

// lines returns the lines of one family, in order.
func (l *Lattice) lines(c choice, across bool) []foundLine {
	at := map[int][]float64{}
	for _, k := range l.Intersections {
		u, v := c.f.uv(k.Col, k.Row)
		if across {
			at[-k.J] = append(at[-k.J], v)
		} else {
			at[k.I] = append(at[k.I], u)
		}
	}
	var out []foundLine
	for n, v := range at {
		out = append(out, foundLine{n, median(v)})
	}
	slices.SortFunc(out, func(a, b foundLine) int { return cmp.Compare(a.n, b.n) })
	return out
}

// uneven gives the number of the first or last line if it stands apart from
// where the others put it; step is the family's spacing and other that of the
// lines across, by which three lines alone are judged.
func uneven(ps []foundLine, odd []bool, step, other float64) int {
	if len(ps) < 3 {
		return none
	}
	worst, far := none, 1.0
	for _, end := range []int{0, len(ps) - 1} {
		rest := ps[1:]
		if end > 0 {
			rest = ps[:end]
		}
		rest = nearestTo(rest, ps[end].n, 4)
		var f lineFit
		for _, p := range rest {
			f.add(float64(p.n-ps[end].n), p.at, 1)
		}
		want, _ := f.solve()
		most := max(2.5, 0.012*step)
		if odd[ps[end].n] {
			most = max(2.5, 0.006*step)
		}
		if d := math.Abs(ps[end].at-want) / most; d > far {
			worst, far = ps[end].n, d
		}
	}
	if worst != none && len(ps) == 3 {
		return unevenOfThree(ps, odd, other)
	}
	return worst
}

// nearestTo gives the n places nearest in number.
func nearestTo(ps []foundLine, to, n int) []foundLine {
	if len(ps) <= n {
		return ps
	}
	if to < ps[0].n {
		return ps[:n]
	}
	return ps[len(ps)-n:]
}

// unevenOfThree finds which of three lines looks odd, or else which the spacing
// of the other family speaks against.
func unevenOfThree(ps []foundLine, odd []bool, other float64) int {
	if a, b := odd[ps[0].n], odd[ps[2].n]; a != b {
		if a {
			return ps[0].n
		}
		return ps[2].n
	}
	gap := func(a, b foundLine) float64 {
		return math.Abs((b.at-a.at)/float64(b.n-a.n)-other) / other
	}
	first, last := gap(ps[0], ps[1]), gap(ps[1], ps[2])
	if first > last {
		return ps[0].n
	}
	return ps[2].n
}

// terms is how many terms of a polynomial in i and j, of at most the third
// degree, the intersections can bear.
func terms(n, ni, nj int) int {
	switch {
	case n >= 40 && ni >= 5 && nj >= 5:
		return 10
	case n >= 16 && ni >= 4 && nj >= 4:
		return 6
	case n >= 6:
		return 4
	}
	return 3
}

func polynomial(i, j float64, n int) []float64 {
	all := []float64{1, i, j, i * j, i * i, j * j, i * i * i, i * i * j, i * j * j, j * j * j}
	return all[:n]
}

// smoothOff is how far each intersection lies from the surface, in the frame's u
// and v, where the tilt of a camera is not a curve; nil where there are too few
// to say.
func (l *Lattice) smoothOff(ch choice) []float64 {
	n := len(l.Intersections)
	is, js := map[int]bool{}, map[int]bool{}
	var mi, mj float64
	used := 0
	for _, c := range l.Intersections {
		if ch.seen(c) {
			used++
		}
		is[c.I], js[c.J] = true, true
		mi, mj = mi+float64(c.I)/float64(n), mj+float64(c.J)/float64(n)
	}
	k := terms(used, len(is), len(js))
	if used < k+1 {
		return nil
	}
	si, sj := max(1, float64(len(is))/2), max(1, float64(len(js))/2)
	weight := make([]float64, n)
	for i, c := range l.Intersections {
		if ch.seen(c) {
			weight[i] = 1
		}
	}
	off := make([]float64, n)
	for range 8 {
		a, b := mat.NewDense(n, k, nil), mat.NewDense(n, 2, nil)
		for r, c := range l.Intersections {
			for t, v := range polynomial((float64(c.I)-mi)/si, (float64(c.J)-mj)/sj, k) {
				a.Set(r, t, weight[r]*v)
			}
			u, v := ch.f.uv(c.Col, c.Row)
			b.Set(r, 0, weight[r]*u)
			b.Set(r, 1, weight[r]*v)
		}
		var x mat.Dense
		if x.Solve(a, b) != nil {
			return nil
		}
		for r, c := range l.Intersections {
			u, v := ch.f.uv(c.Col, c.Row)
			for t, p := range polynomial((float64(c.I)-mi)/si, (float64(c.J)-mj)/sj, k) {
				u, v = u-p*x.At(t, 0), v-p*x.At(t, 1)
			}
			off[r] = math.Hypot(u, v)
			if ch.seen(c) {
				weight[r] = 1 / math.Sqrt(1+off[r]*off[r]/0.25)
			}
		}
	}
	return off
}
