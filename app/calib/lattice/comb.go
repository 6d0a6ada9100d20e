package lattice

import (
	"cmp"
	"math"
	"slices"
)

// peak is a position in the frame where a line of one family seems to lie.
type peak struct {
	u      float64
	weight float64 // share of the strips it was seen in, about 0 … 1
}

// comb is a run of evenly spaced peaks.
type comb struct {
	teeth []tooth
	step  float64 // mean spacing in u
	score float64
	hits  int
}

// tooth is one line of a comb: where it is, and whether a peak was there.
type tooth struct {
	u   float64
	hit bool
}

const (
	// leastStep is the smallest grid square, in pixels.
	leastStep = 50
	// lostTeeth is how many neighbouring lines may be unseen.
	lostTeeth = 2
	// seeds is how many of the heaviest peaks propose combs.
	seeds = 28
	// kept is how many combs of a family go on.
	kept = 12
)

// profile gathers the segments of a family over u, one bin a pixel, and the
// share of the strips that can see each position.
func (s strips) profile(f frame) (sum []float64, u0 float64) {
	w := float64(s.p.w)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range []float64{0, w} {
		for _, y := range []float64{0, float64(s.p.h)} {
			u, _ := f.uv(x, y)
			lo, hi = min(lo, u), max(hi, u)
		}
	}
	n := int(hi-lo) + 2
	sum = make([]float64, n)
	seen := make([]float64, n)
	for j := range s.segs {
		y := (float64(j) + 0.5) * float64(s.high)
		a, _ := f.uv(0, y)
		b, _ := f.uv(w, y)
		for i := max(0, int(a-lo)); i < min(n, int(b-lo)+1); i++ {
			seen[i]++
		}
		for _, g := range s.segs[j] {
			u, _ := f.uv(g.x, g.y)
			x0 := u / (1 - f.alpha*u)
			if math.Abs(g.slope-f.down.slopeAt(x0)) > 0.012+1.6/float64(s.high) {
				continue
			}
			if i := int(u - lo); i >= 0 && i < n {
				sum[i] += min(1, g.strength/(7*float64(s.high)))
			}
		}
	}
	few := 0.25 * float64(len(s.segs))
	for i := range sum {
		sum[i] /= max(seen[i], few, 1)
	}
	return sum, lo
}

// peaks finds the positions where a window of ±blur bins holds most.
func peaks(sum []float64, u0 float64, blur int) []peak {
	n := len(sum)
	smooth := make([]float64, n)
	for i := range sum {
		if sum[i] == 0 {
			continue
		}
		for d := -blur; d <= blur; d++ {
			if k := i + d; k >= 0 && k < n {
				smooth[k] += sum[i] * (1 - 0.5*math.Abs(float64(d))/float64(blur+1))
			}
		}
	}
	sorted := slices.Clone(smooth)
	slices.Sort(sorted)
	least := max(0.12, 1.5*sorted[n/2])
	var out []peak
	for i, v := range smooth {
		if v < least {
			continue
		}
		lo, hi := max(0, i-blur-3), min(n, i+blur+4)
		if slices.Max(smooth[lo:hi]) > v || slices.Index(smooth[lo:hi], v) != i-lo {
			continue
		}
		var m, mu float64
		for k := max(0, i-blur); k <= min(n-1, i+blur); k++ {
			m, mu = m+sum[k], mu+sum[k]*float64(k)
		}
		out = append(out, peak{u0 + mu/m + 0.5, min(v, 1.2)})
	}
	slices.SortFunc(out, func(a, b peak) int { return cmp.Compare(b.weight, a.weight) })
	out = out[:min(len(out), 160)]
	slices.SortFunc(out, func(a, b peak) int { return cmp.Compare(a.u, b.u) })
	return out
}

// combs finds the best runs of evenly spaced peaks. A step of half the true
// one pays for the lines that are not there, one of twice for those left over.
func combs(ps []peak, blur int) []comb {
	var all []comb
	seed := heaviest(ps, seeds)
	for n, i := range seed {
		for _, k := range seed[n+1:] {
			if step := ps[k].u - ps[i].u; step >= leastStep {
				all = append(all, grow(ps, i, k, step, blur))
			}
		}
	}
	slices.SortFunc(all, func(a, b comb) int { return cmp.Compare(b.score, a.score) })
	var out []comb
	for _, c := range all {
		if len(out) == kept {
			break
		}
		if !slices.ContainsFunc(out, c.same) {
			out = append(out, c)
		}
	}
	return out
}

// heaviest gives the indices of the n heaviest peaks, from the left.
func heaviest(ps []peak, n int) []int {
	order := make([]int, len(ps))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ps[b].weight, ps[a].weight) })
	order = order[:min(n, len(order))]
	slices.Sort(order)
	return order
}

// same says that two combs have the same step and phase.
func (c comb) same(o comb) bool {
	if math.Abs(c.step-o.step) > 0.02*c.step {
		return false
	}
	d := math.Remainder(c.teeth[0].u-o.teeth[0].u, c.step)
	return math.Abs(d) < 0.08*c.step
}

// grow walks from the peaks i and k to both sides.
func grow(ps []peak, i, k int, step float64, blur int) comb {
	up := walk(ps, ps[k].u, step, blur)
	down := walk(ps, ps[i].u, -step, blur)
	slices.Reverse(down)
	c := comb{teeth: append(append(down, tooth{ps[i].u, true}, tooth{ps[k].u, true}), up...)}
	c.rate(ps, blur)
	return c
}

// walk follows a step, which may change slowly, until the peaks end.
func walk(ps []peak, u, step float64, blur int) []tooth {
	var out []tooth
	lost := 0
	for {
		next := u + step
		if next < ps[0].u-math.Abs(step) || next > ps[len(ps)-1].u+math.Abs(step) {
			break
		}
		if p, ok := nearest(ps, next, max(float64(blur), 0.03*math.Abs(step)*float64(1+lost))); ok {
			step += 0.3 * (p.u - next) / float64(1+lost)
			u, lost = p.u, 0
			out = append(out, tooth{u, true})
			continue
		}
		if lost++; lost > lostTeeth {
			break
		}
		u = next
		out = append(out, tooth{u, false})
	}
	for len(out) > 0 && !out[len(out)-1].hit {
		out = out[:len(out)-1]
	}
	return out
}

// nearest is the heaviest peak within tol of u; those farther off count less.
func nearest(ps []peak, u, tol float64) (best peak, ok bool) {
	most := 0.0
	i, _ := slices.BinarySearchFunc(ps, u-tol, func(p peak, u float64) int { return cmp.Compare(p.u, u) })
	for ; i < len(ps) && ps[i].u <= u+tol; i++ {
		d := (ps[i].u - u) / tol
		if w := ps[i].weight * (1 - 0.7*d*d); w > most {
			best, most, ok = ps[i], w, true
		}
	}
	return best, ok
}

// rate scores a comb: what its lines weigh, less what is missing and what is
// left over between its first and last line.
func (c *comb) rate(ps []peak, blur int) {
	n := len(c.teeth)
	c.step = (c.teeth[n-1].u - c.teeth[0].u) / float64(n-1)
	tol := max(float64(blur), 0.03*c.step)
	var on, off float64
	c.hits = 0
	for _, p := range ps {
		if p.u < c.teeth[0].u-tol || p.u > c.teeth[n-1].u+tol {
			continue
		}
		if c.holds(p.u, tol) {
			on += p.weight
		} else {
			off += p.weight
		}
	}
	for _, t := range c.teeth {
		if t.hit {
			c.hits++
		}
	}
	mean := on / float64(c.hits)
	c.score = on - 0.8*mean*float64(n-c.hits) - 0.35*off - 0.5*mean*c.unevenness(max(float64(blur)/2, 0.012*c.step))
}

// unevenness sums, over the teeth that have two neighbours, how far each stands
// from the middle between them, squared and measured in tol, each at most 1.
func (c *comb) unevenness(tol float64) (sum float64) {
	for i := 1; i+1 < len(c.teeth); i++ {
		d := (c.teeth[i].u - (c.teeth[i-1].u+c.teeth[i+1].u)/2) / tol
		sum += min(1, d*d)
	}
	return sum
}

func (c *comb) holds(u, tol float64) bool {
	i, _ := slices.BinarySearchFunc(c.teeth, u-tol, func(t tooth, u float64) int { return cmp.Compare(t.u, u) })
	return i < len(c.teeth) && c.teeth[i].u <= u+tol
}
