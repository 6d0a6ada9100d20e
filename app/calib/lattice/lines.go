package lattice

import (
	"cmp"
	"slices"
)

// Lines are the intersections along each line of the lattice in their order, those
// that run upwards first. A line with a single intersection is left out.
func (l *Lattice) Lines() [][]Intersection {
	up, across := map[int][]Intersection{}, map[int][]Intersection{}
	for _, c := range l.Intersections {
		up[c.I] = append(up[c.I], c)
		across[c.J] = append(across[c.J], c)
	}
	out := ordered(up, func(c Intersection) int { return c.J })
	return append(out, ordered(across, func(c Intersection) int { return c.I })...)
}

// ordered lists the lines by their number, and each by the numbers of its intersections.
func ordered(lines map[int][]Intersection, place func(Intersection) int) [][]Intersection {
	numbers := make([]int, 0, len(lines))
	for n := range lines {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	var out [][]Intersection
	for _, n := range numbers {
		line := lines[n]
		if len(line) < 2 {
			continue
		}
		slices.SortFunc(line, func(a, b Intersection) int { return cmp.Compare(place(a), place(b)) })
		out = append(out, line)
	}
	return out
}
