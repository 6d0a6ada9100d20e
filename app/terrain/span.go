package terrain

import "math"

// Span is the heights in metres at the lower and the upper edge of a drawn profile.
type Span struct{ LowM, HighM float64 }

// leastSpanM is the least difference of height that fills a drawing: below it, ground
// that is nearly level looks so [common practice, no source].
const leastSpanM = 50

// SpanOf returns one span for several profiles drawn one after the other, from the
// lowest to the highest point of all. ok is false where none has a height.
func SpanOf(list ...Profile) (s Span, ok bool) {
	s = Span{math.Inf(1), math.Inf(-1)}
	for _, p := range list {
		if low, high, has := p.Extremes(); has {
			s, ok = Span{min(s.LowM, p.Points[low].HeightM), max(s.HighM, p.Points[high].HeightM)}, true
		}
	}
	if !ok {
		return Span{}, false
	}
	s.HighM = max(s.HighM, s.LowM+leastSpanM)
	return s, true
}
