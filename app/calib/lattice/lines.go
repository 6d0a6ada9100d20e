package lattice

import (
	"cmp"
	"slices"
)

// Lines are the crossings along each line of the lattice in their order, those
// that run upwards first. A line with a single crossing is left out.
func (l *Lattice) Lines() [][]Crossing {
	up, across := map[int][]Crossing{}, map[int][]Crossing{}
	for _, c := range l.Crossings {
		up[c.I] = append(up[c.I], c)
		across[c.J] = append(across[c.J], c)
	}
	out := ordered(up, func(c Crossing) int { return c.J })
	return append(out, ordered(across, func(c Crossing) int { return c.I })...)
}

// ordered lists the lines by their number, and each by its crossings' place.
func ordered(lines map[int][]Crossing, place func(Crossing) int) [][]Crossing {
	numbers := make([]int, 0, len(lines))
	for n := range lines {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	var out [][]Crossing
	for _, n := range numbers {
		line := lines[n]
		if len(line) < 2 {
			continue
		}
		slices.SortFunc(line, func(a, b Crossing) int { return cmp.Compare(place(a), place(b)) })
		out = append(out, line)
	}
	return out
}
