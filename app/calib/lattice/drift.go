package lattice

import (
	"maps"
	"math"
	"slices"
)

// Lines that a program draws on whole pixels lie up to half a pixel beside
// their positions. Where squares are nearly a whole number of pixels wide they all
// do so alike, or drift slowly from line to line, and neither the fit nor the
// lines' differences show it: the picture does not say where in their half
// pixels the lines should be. What it leaves open is known, though. Each line
// i at X(i) says that its position a + b·i lies within X(i) ± ½, and all positions
// (a, b) that no line forbids are as likely. Their spread about the fitted line
// is the uncertainty, and where squares are no whole number of pixels it becomes
// as small as the differences say.

const (
	// wholeWithinPx is how far the middles of lines may lie from the same
	// fraction of a pixel to be taken for drawn on whole pixels, and those of
	// intersections from their line (common practice, no source).
	wholeWithinPx = 0.15
	// wholeShare is the share of lines, and of a line's intersections, that must.
	wholeShare = 0.7
)

// driftSigmaPx is the standard deviation in pixels that lines erring
// independently would need, to make a fit as uncertain as lines on whole pixels
// leave it; 0 where the lines are not on whole pixels.
func (l *Lattice) driftSigmaPx() float64 {
	down, across := map[int][]float64{}, map[int][]float64{}
	for _, c := range l.Intersections {
		down[c.I] = append(down[c.I], c.Col)
		across[c.J] = append(across[c.J], c.Row)
	}
	spread := 0.0
	for _, f := range []map[int][]float64{down, across} {
		spread = max(spread, leftOpen(wholePixels(f)))
	}
	return math.Sqrt(spread * float64(len(down)+len(across)) / 2)
}

// ruling is a line of a family: its number and where it lies, in pixels.
type ruling struct{ i, x float64 }

// wholePixels are the lines of a family that run along the pixels, at the same
// fraction of one, or none where too many do not.
func wholePixels(family map[int][]float64) []ruling {
	var all []ruling
	for _, i := range slices.Sorted(maps.Keys(family)) {
		x := median(family[i])
		on := 0
		for _, v := range family[i] {
			if math.Abs(v-x) <= wholeWithinPx {
				on++
			}
		}
		if float64(on) >= wholeShare*float64(len(family[i])) {
			all = append(all, ruling{float64(i), x})
		}
	}
	var best []ruling
	for _, by := range all {
		var alike []ruling
		for _, r := range all {
			whole := math.Round(r.x - by.x)
			if math.Abs(r.x-by.x-whole) <= wholeWithinPx {
				alike = append(alike, ruling{r.i, by.x + whole})
			}
		}
		if len(alike) > len(best) {
			best = alike
		}
	}
	if len(best) < 2 || float64(len(best)) < wholeShare*float64(len(family)) {
		return nil
	}
	return best
}

// leftOpen is the variance, in square pixels, of the positions that lines on whole
// pixels leave open, about the straight line fitted to them: at the middle, or
// at an end where that is more than a fit's uncertainty grows towards it.
func leftOpen(lines []ruling) float64 {
	if len(lines) < 2 {
		return 0
	}
	var fit lineFit
	for _, r := range lines {
		fit.add(r.i, r.x, 1)
	}
	a, b := fit.solve()
	first, last := lines[0].i, lines[len(lines)-1].i
	middle := (first + last) / 2
	var area float64
	var at [3]float64
	const steps = 200
	for k := range steps {
		slope := b + ((float64(k)+0.5)/steps*2-1)/(last-first)
		lo, hi := math.Inf(-1), math.Inf(1) // of the positions at the middle
		for _, r := range lines {
			p := r.x - slope*(r.i-middle)
			lo, hi = max(lo, p-0.5), min(hi, p+0.5)
		}
		if hi <= lo {
			continue
		}
		area += hi - lo
		for n, i := range [...]float64{middle, first, last} {
			off := slope*(i-middle) - a - b*i
			at[n] += (cube(hi+off) - cube(lo+off)) / 3
		}
	}
	if area == 0 {
		return 0
	}
	return max(at[0], at[1]/endGrowth, at[2]/endGrowth) / area
}

// endGrowth is by how much the variance of a similarity through a lattice of
// many lines is greater at the end of a middle line than in the middle: 1 + 3/2.
const endGrowth = 2.5

func cube(v float64) float64 { return v * v * v }
