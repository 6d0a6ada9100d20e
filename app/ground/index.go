package ground

import (
	"github.com/paulmach/orb"

	"legwright/app/geodesy"
)

// Index finds the shapes near a leg.
type Index struct{ shapes []Shape }

// NewIndex prepares an index of shapes, which are numbered as they stand.
func NewIndex(shapes []Shape) Index { return Index{shapes} }

// Neighbour is a shape of an index and where a leg comes nearest to it.
type Neighbour struct {
	Shape int
	Near
}

// Near returns the shapes that come within distM metres of the straight leg from a to b, in
// their order.
func (x Index) Near(a, b geodesy.Grid, distM float64) (out []Neighbour) {
	box := orb.MultiPoint{orbPoint(a), orbPoint(b)}.Bound().Pad(distM)
	for i, s := range x.shapes {
		if s.Empty() || !s.bound.Intersects(box) {
			continue
		}
		if n := s.Nearest(a, b); n.DistM <= distM {
			out = append(out, Neighbour{i, n})
		}
	}
	return out
}
