package ground

import (
	"iter"

	"github.com/paulmach/orb"

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

// around yields the shapes whose boxes come within distM of that of a leg.
func (x Index) around(a, b geodesy.Grid, distM float64) iter.Seq2[int, Shape] {
	box := orb.MultiPoint{orbPoint(a), orbPoint(b)}.Bound().Pad(distM)
	return func(yield func(int, Shape) bool) {
		for i, s := range x.shapes {
			if !s.Empty() && s.bound.Intersects(box) && !yield(i, s) {
				return
			}
		}
	}
}
