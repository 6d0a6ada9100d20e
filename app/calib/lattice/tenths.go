package lattice

import (
	"cmp"
	"math"
	"slices"
)

// On many maps the squares are divided by fainter lines, tenths mostly. They
// are evenly spaced too, but the margin names the main lines: those with more
// ink. So where the lines of both families fall into few with much ink and many
// with less, the main ones alone are the grid.

const (
	// inkGap is by how much a main line has more ink than a tenth, and
	// fewMain the largest share of main lines among all: half where squares are
	// halved (common practice, no source).
	inkGap, fewMain = 1.3, 0.5
	// tenthsFrom is the number of lines of a family below which no tenths are
	// looked for.
	tenthsFrom = 8
	// mainFill is the share of main lines that must be seen, so that a few dark
	// lines that happen to be even do not pass for the grid.
	mainFill = 0.7
	// mostKinds is how many kinds of lines are distinguished: frame, main lines,
	// and one between.
	mostKinds = 3
)

// mains looks for main lines among the lines of the chosen frame. q is p with rows
// and columns swapped.
func mains(c choice, p, q plane, down, across strips) (choice, bool) {
	const blur = 3
	ds := mainCombs(p, c.f, down, blur)
	as := mainCombs(q, c.f.turned(), across, blur)
	var best choice
	for _, d := range ds {
		for _, a := range as {
			if m, ok := match(c.f, d, a); ok && !m.oblong && m.score > best.score {
				best = m
			}
		}
	}
	best.divided = true
	return best, best.score > 0
}

// mainCombs are the combs of lines that have clearly more ink than many others.
// Still more ink than theirs is the frame's.
func mainCombs(p plane, f frame, s strips, blur int) []comb {
	sum, u0 := s.profile(f)
	all := peaks(sum, u0, blur)
	if len(all) < tenthsFrom {
		return nil
	}
	inks := inksOf(p, f, all)
	limits := splits(inks)
	var out []comb
	for i, most := range append([]float64{math.Inf(1)}, limits...) {
		for _, least := range limits[i:] {
			var kind []peak
			for k, peak := range all {
				if inks[k] > least && inks[k] < most {
					kind = append(kind, peak)
				}
			}
			if len(kind) >= 2 {
				out = append(out, combs(kind, blur)...)
			}
		}
	}
	return slices.DeleteFunc(out, func(c comb) bool { return !c.filled() })
}

// filled says whether enough lines of the comb are seen.
func (c comb) filled() bool {
	return c.hits >= 2 && float64(c.hits) >= mainFill*float64(len(c.teeth))
}

func inksOf(p plane, f frame, lines []peak) []float64 {
	w := newFollower(p, f, leastStep)
	inks := make([]float64, len(lines))
	twice(func(part, parts int) {
		for i := part; i < len(lines); i += parts {
			inks[i] = inkOf(w.follow(lines[i].u))
		}
	})
	return inks
}

// splits are the amounts of ink that part the lines into kinds, from the most
// ink down: the widest gaps above the many.
func splits(inks []float64) []float64 {
	sorted := slices.Clone(inks)
	slices.SortFunc(sorted, func(a, b float64) int { return cmp.Compare(b, a) })
	type gap struct{ at, wide float64 }
	var gaps []gap
	for n := 2; n <= int(fewMain*float64(len(sorted))) && n < len(sorted); n++ {
		if a, b := sorted[n-1], max(sorted[n], 1); a/b > inkGap {
			gaps = append(gaps, gap{math.Sqrt(a * b), a / b})
		}
	}
	slices.SortFunc(gaps, func(a, b gap) int { return cmp.Compare(b.wide, a.wide) })
	gaps = gaps[:min(len(gaps), mostKinds)]
	out := make([]float64, len(gaps))
	for i, g := range gaps {
		out[i] = g.at
	}
	slices.SortFunc(out, func(a, b float64) int { return cmp.Compare(b, a) })
	return out
}

// inkOf is how much ink a line has along most of its length.
func inkOf(line []sample) float64 {
	if len(line) == 0 {
		return 0
	}
	inks := make([]float64, len(line))
	for i, s := range line {
		inks[i] = s.ink
	}
	return median(inks)
}
