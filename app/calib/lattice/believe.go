package lattice

import (
	"slices"
)

// Lines that are evenly spaced by chance, or of which only every third is taken,
// leave others of the same kind between them. A table or a legend has no others,
// but fills only a part of the sheet.

const (
	// alike is the share of the ink of the grid's lines, and of the strips in
	// which they are seen, from which another line is as good as they are.
	alike = 0.6
	// mostStrangers is how many such lines there must be fewer of, for each of a
	// family's.
	mostStrangers = 0.5
	// leastFill is the share of the picture's width and height that a grid must
	// cover, with a square around it, and leastSeen the share of the intersections of
	// its lines that must be measured (common practice, no source).
	leastFill, leastSeen = 0.5, 0.4
)

// strangers counts the lines between those of the comb that are as good as they
// are.
func (c comb) strangers(p plane, f frame, s strips) int {
	sum, u0 := s.profile(f)
	all := peaks(sum, u0, 3)
	near := max(8, 0.04*c.step)
	first, last := c.teeth[0].u, c.teeth[len(c.teeth)-1].u
	var on, off []peak
	for _, k := range all {
		switch {
		case c.holds(k.u, near):
			on = append(on, k)
		case k.u > first && k.u < last:
			off = append(off, k)
		}
	}
	if len(on) == 0 || len(off) == 0 {
		return 0
	}
	inkOn, inkOff := inksOf(p, f, on), inksOf(p, f, off)
	ink := median(slices.Clone(inkOn))
	weights := make([]float64, len(on))
	for i, k := range on {
		weights[i] = k.weight
	}
	weight := median(weights)
	n := 0
	for i, k := range off {
		if inkOff[i] >= alike*ink && k.weight >= alike*weight {
			n++
		}
	}
	return n
}

// believable says whether the lines of both families stand out from the others
// of the picture: of a graticule every second meridian may make squares. q is p
// with rows and columns swapped.
func (c choice) believable(p, q plane, down, across strips) bool {
	few := func(cb comb, strangers int) bool { return float64(strangers) < mostStrangers*float64(cb.hits) }
	return few(c.down, c.down.strangers(p, c.f, down)) && few(c.across, c.across.strangers(q, c.f.turned(), across))
}

// fills says whether the lattice covers enough of a picture, and enough of its
// intersections were measured.
func (l *Lattice) fills(w, h int) bool {
	x0, y0, x1, y1 := l.box()
	is, js := map[int]bool{}, map[int]bool{}
	for _, c := range l.Intersections {
		is[c.I], js[c.J] = true, true
	}
	s := l.SquarePx
	wide := min(x1+s, float64(w)) - max(x0-s, 0)
	high := min(y1+s, float64(h)) - max(y0-s, 0)
	return wide >= leastFill*float64(w) && high >= leastFill*float64(h) &&
		float64(len(l.Intersections)) >= leastSeen*float64(len(is)*len(js))
}
