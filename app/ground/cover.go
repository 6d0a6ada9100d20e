package ground

import (
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Cover is all that lies within given distances of some shapes. The zero Cover is empty.
type Cover struct {
	parts  []geom.Geometry
	bounds []orb.Bound
}

// Add adds all within distM metres of a shape, and the shape itself.
func (c *Cover) Add(s Shape, distM float64) {
	part := s.geom
	if distM > 0 {
		wider, err := geom.Buffer(part, distM, geom.BufferQuadSegments(quarter))
		if err != nil {
			return // less is covered, never more
		}
		part = wider
	}
	c.parts, c.bounds = append(c.parts, part), append(c.bounds, s.bound.Pad(max(distM, 0)))
}

// Holds reports whether all of an area lies in the cover, also across several of its parts. Where
// nobody can work it out, it does not.
func (c *Cover) Holds(s Shape) bool {
	rest := s.geom
	for i, part := range c.parts {
		if !c.bounds[i].Intersects(s.bound) {
			continue
		}
		left, err := geom.Difference(rest, part)
		if err != nil {
			return false
		}
		if rest = left; rest.IsEmpty() {
			return true
		}
	}
	return false
}
