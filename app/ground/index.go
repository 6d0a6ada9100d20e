package ground

import (
	"github.com/paulmach/orb"

	"legwright/app/geodesy"
)

// Index finds the shapes near a leg.
type Index struct{ shapes []Shape }

// NewIndex prepares an index of shapes, which are numbered as they stand.
func NewIndex(shapes []Shape) Index { return Index{shapes} }

// Near returns the numbers of the shapes that come within distM metres of the straight
// leg from a to b.
func (x Index) Near(a, b geodesy.Grid, distM float64) (out []int) {
	box := orb.MultiPoint{orbPoint(a), orbPoint(b)}.Bound().Pad(distM)
	for i, s := range x.shapes {
		if !s.Empty() && s.bound.Intersects(box) && s.Nearest(a, b).DistM <= distM {
			out = append(out, i)
		}
	}
	return out
}
