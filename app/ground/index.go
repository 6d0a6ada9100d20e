package ground

import (
	"iter"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"legwright/app/geodesy"
)

// Index finds the shapes near a leg.
type Index struct{ shapes []Shape }

// NewIndex prepares an index of shapes, which are numbered as they stand.
func NewIndex(shapes []Shape) Index { return Index{shapes} }

// Neighbour is a shape of an index, where a leg comes nearest to it and which parts of the
// leg meet it.
type Neighbour struct {
	Shape int
	Near
	Spans []Span
}

// Near returns the shapes that come within distM metres of the straight leg from a to b, in
// their order.
func (x Index) Near(a, b geodesy.Grid, distM float64) (out []Neighbour) {
	for i, s := range x.around(a, b, distM) {
		spans := s.Meets(a, b)
		if n := s.nearest(a, b, spans); n.DistM <= distM {
			out = append(out, Neighbour{i, n, spans})
		}
	}
	return out
}

// Beside is a shape of an index and how near a leg and its start come to it, see LegM.
type Beside struct {
	Shape         int
	DistM, StartM float64
}

// Beside is Near without saying where.
func (x Index) Beside(a, b geodesy.Grid, distM float64) (out []Beside) {
	for i, s := range x.around(a, b, distM) {
		if m, startM := s.LegM(a, b); m <= distM {
			out = append(out, Beside{i, m, startM})
		}
	}
	return out
}

// around yields the shapes whose boxes come within distM of that of a leg, and the circles round
// their boxes within distM of the leg.
func (x Index) around(a, b geodesy.Grid, distM float64) iter.Seq2[int, Shape] {
	from, to := orbPoint(a), orbPoint(b)
	box := orb.MultiPoint{from, to}.Bound().Pad(distM)
	near := func(bound orb.Bound) bool {
		radius := planar.Distance(bound.Min, bound.Max) / 2
		return bound.Intersects(box) && planar.DistanceFromSegment(from, to, bound.Center()) <= radius+distM+roundingM
	}
	return func(yield func(int, Shape) bool) {
		for i, s := range x.shapes {
			if !s.Empty() && near(s.bound) && !yield(i, s) {
				return
			}
		}
	}
}

// roundingM is more than rounding makes of a distance, metres.
const roundingM = 1e-3
