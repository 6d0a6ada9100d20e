package lattice

import (
	"maps"
	"math"
	"slices"
)

// mostLineSigmaPx bounds what lines are taken to lie beside their positions: a
// program that draws lines on whole pixels misplaces them by 0.29 px (a half
// pixel either way), a draughtsman by a little more. Greater steps from line to
// line are folds, which are the paper's and no noise.
const mostLineSigmaPx = 0.7

// leastLineSigmaPx is the standard deviation below which no line's position is
// believed (common practice, no source). What lines on whole pixels have in
// common beside it is for driftSigmaPx.
const leastLineSigmaPx = 0.15

// wholePixelSigmaPx is the standard deviation of what is rounded to whole pixels,
// 1/√12.
const wholePixelSigmaPx = 0.29

// lineSigmaPx is how far a printed line as a whole lies beside its position, as a
// standard deviation in pixels: what all intersections of the line have in common.
// Lines are drawn on whole pixels by many programs, which looks like a bend of
// the paper and is none. It differs from a bend in the second differences of the
// lines' mean residuals from a perspective: those of noise have six times its
// variance, those of a bend are small. Where there are too few lines to tell, it
// is that of lines on whole pixels.
func (l *Lattice) lineSigmaPx() float64 {
	h, ok := l.homography(true)
	if !ok {
		return wholePixelSigmaPx
	}
	down, across := l.residuals(h)
	var sum, n float64
	for _, family := range []map[int]mean{down, across} {
		for _, i := range slices.Sorted(maps.Keys(family)) { // in order, so that sums repeat to the last digit
			m := family[i]
			before, after := family[i-1], family[i+1]
			if before.n > 0 && after.n > 0 {
				d := before.value() - 2*m.value() + after.value()
				sum, n = sum+d*d/6, n+1
			}
		}
	}
	if n < 3 {
		return wholePixelSigmaPx
	}
	return math.Min(math.Max(math.Sqrt(sum/n), leastLineSigmaPx), mostLineSigmaPx)
}

// sharing is how many intersections stand on a line, in the mean.
func (l *Lattice) sharing() float64 {
	down, across := map[int]bool{}, map[int]bool{}
	for _, c := range l.Intersections {
		down[c.I], across[c.J] = true, true
	}
	return 2 * float64(len(l.Intersections)) / float64(max(1, len(down)+len(across)))
}

// mean gathers the mean of some numbers.
type mean struct{ sum, n float64 }

func (m mean) with(v float64) mean { return mean{m.sum + v, m.n + 1} }

func (m mean) value() float64 { return m.sum / m.n }
