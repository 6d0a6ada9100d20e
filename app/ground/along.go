package ground

import (
	"math"
	"slices"

	"github.com/paulmach/orb/planar"
	"github.com/paulmach/orb/simplify"

	"legwright/app/geodesy"
)

// On is a position on a line.
type On struct {
	AlongM float64      // from the start of the line
	OffM   float64      // from the position that was asked for
	At     geodesy.Grid // on the line
}

// Foot returns the position on the line, or on an area's border, that is nearest to one.
// OffM is infinite for an empty shape.
func (s Shape) Foot(at geodesy.Grid) On {
	p, best, before := orbPoint(at), On{OffM: math.Inf(1)}, 0.0
	for i := 1; i < len(s.line); i++ {
		a, b := s.line[i-1], s.line[i]
		if off := planar.DistanceFromSegment(a, b, p); off < best.OffM {
			f := foot(a, b, p)
			best = On{AlongM: before + planar.Distance(a, f), OffM: off, At: gridOf(f)}
		}
		before += planar.Distance(a, b)
	}
	return best
}

// Between returns the line from one distance along it to another, both in metres from its
// start and kept within it; backwards where from lies beyond to.
func (s Shape) Between(fromM, toM float64) []geodesy.Grid {
	if fromM > toM {
		out := s.Between(toM, fromM)
		slices.Reverse(out)
		return out
	}
	var out []geodesy.Grid
	before := 0.0
	for i := 1; i < len(s.line); i++ {
		a, b := s.line[i-1], s.line[i]
		length := planar.Distance(a, b)
		lo, hi := max(fromM-before, 0), min(toM-before, length)
		if lo <= hi {
			out = append(out, nearAt(0, lo, a, b).At, nearAt(0, hi, a, b).At)
		}
		before += length
	}
	return slices.Compact(out)
}

// Thinned returns a line with as few of its points as keep it within slackM metres of
// where it was (Douglas and Peucker 1973, by orb). The ends stay.
func Thinned(line []geodesy.Grid, slackM float64) []geodesy.Grid {
	thin := simplify.DouglasPeucker(slackM).LineString(orbPoints(line)) // a copy: it is written into
	out := make([]geodesy.Grid, len(thin))
	for i, p := range thin {
		out[i] = gridOf(p)
	}
	return out
}

// ThinnedOutline is Thinned for an outline whose first point does not come again at its end.
// That point stays, and so do the slits that lead to holes, see Rings.
func ThinnedOutline(outline []geodesy.Grid, slackM float64) (out []geodesy.Grid) {
	rings, n, from := Rings(orbPoints(outline)), len(outline), 0
	around := append(slices.Clip(outline), outline[0])
	for i := 1; i <= n; i++ {
		if i < n && (rings == nil || rings[i] == rings[i-1] && rings[i] == rings[(i+1)%n]) {
			continue
		}
		part := Thinned(around[from:i+1], slackM)
		out, from = append(out, part[:len(part)-1]...), i
	}
	return out
}

// Parts are how long the straight parts of the line are, in order, in metres.
func (s Shape) Parts() []float64 {
	out := make([]float64, max(len(s.line)-1, 0))
	for i := range out {
		out[i] = planar.Distance(s.line[i], s.line[i+1])
	}
	return out
}
