package lattice

import (
	"math"
	"slices"
)

// A map ends at its frame, and so do its grid lines; at a grid line they go on.
// An outermost line at which the lines across end is the frame, and stays only
// if it lies where the others put a grid line, for on many maps it is one too.

const (
	// beyondFrom and beyondTo bound, in squares from the line, where it is looked
	// whether the lines across go on. Ticks of a frame are shorter.
	beyondFrom, beyondTo = 0.08, 0.6
	// goesOn is the share of what is seen inside from which they do.
	goesOn = 0.45
	// frameOff is how far, in squares, a frame may lie from a grid line to be one,
	// and frameOffPx the least in pixels.
	frameOff, frameOffPx = 0.0015, 1
)

// dropFrames drops the outermost lines that are the map's frame.
func (l *Lattice) dropFrames(c choice, down, across measured) {
	for range 2 { // a frame may be doubled
		i := l.frames(c, false, across, down.odd(), c.down.step)
		j := l.frames(c, true, down, across.odd(), c.across.step)
		if len(i)+len(j) == 0 {
			return
		}
		l.Intersections = slices.DeleteFunc(l.Intersections, func(k Intersection) bool {
			return slices.Contains(i, k.I) || slices.Contains(j, -k.J)
		})
	}
}

// frames gives the numbers of the first and last line of a family where they
// are no grid lines. other are the lines across.
func (l *Lattice) frames(c choice, rows bool, other measured, odd []bool, step float64) []int {
	ps := l.lines(c, rows)
	if len(ps) < 2 {
		return nil
	}
	var out []int
	for _, end := range []int{0, len(ps) - 1} {
		outward := 1.0
		rest := ps[:end]
		if end == 0 {
			outward, rest = -1, ps[1:]
		}
		if l.endsAt(ps[end].n, rows, other, outward, step) && !isLine(ps[end], rest, odd[ps[end].n], step) {
			out = append(out, ps[end].n)
		}
	}
	return out
}

// isLine says whether the frame lies where the rest of the lines puts a grid
// line. Two lines put it less surely, so that it must also look like them.
func isLine(frame foundLine, rest []foundLine, odd bool, step float64) bool {
	if len(rest) < 2 || len(rest) == 2 && odd {
		return false
	}
	var f lineFit
	for _, p := range nearestTo(rest, frame.n, 4) {
		f.add(float64(p.n-frame.n), p.at, 1)
	}
	want, _ := f.solve()
	return math.Abs(frame.at-want) <= max(frameOffPx, frameOff*step)
}

// endsAt says whether the lines across are not seen beyond line n.
func (l *Lattice) endsAt(n int, rows bool, other measured, outward, step float64) bool {
	var seen, all [2]float64 // beyond and inside
	for _, k := range l.Intersections {
		number, line, at := k.I, -k.J, k.Col
		if rows {
			number, line, at = -k.J, k.I, k.Row
		}
		if number != n {
			continue
		}
		for _, s := range other.lines[line] {
			far := (s.y + 0.5 - at) * outward / step
			side := 0
			if far < 0 {
				far, side = -far, 1
			}
			if far < beyondFrom || far > beyondTo {
				continue
			}
			all[side]++
			if s.contrast >= other.least {
				seen[side]++
			}
		}
	}
	return all[0] >= 6 && seen[0]/all[0] < goesOn*seen[1]/all[1]
}
