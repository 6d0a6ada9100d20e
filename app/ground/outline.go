package ground

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"

	"legwright/app/geodesy"
)

// Tangled reports whether an outline of at least three points crosses or touches itself,
// or has no area: nobody could say what lies inside.
func Tangled(outline []geodesy.Grid) bool {
	if len(outline) < 3 {
		return false
	}
	ring := closed(orbPoints(outline))
	return planar.Area(ring) == 0 || geom.NewPolygon([]geom.LineString{lineString(orb.LineString(ring))}).Validate() != nil
}

// quarter is how many chords draw a quarter of a circle.
const quarter = 12

// Around returns the outlines, each back to its first point, of all that lies within distM
// metres of the shape, with those of the holes in it. Chords lie outside their circles: the
// outlines are up to 0.3 % farther off, never nearer. Nil where nobody can work them out.
func (s Shape) Around(distM float64) (out [][]geodesy.Grid) {
	if s.Empty() || !(distM > 0) {
		return nil
	}
	all, err := geom.Buffer(s.geom, distM/math.Cos(math.Pi/(4*quarter)), geom.BufferQuadSegments(quarter))
	if err != nil {
		return nil
	}
	for _, part := range all.Dump() {
		polygon, _ := part.AsPolygon()
		for _, ring := range polygon.DumpRings() {
			list := ring.Coordinates()
			outline := make([]geodesy.Grid, list.Length())
			for i := range outline {
				at := list.GetXY(i)
				outline[i] = geodesy.Grid{E: at.X, N: at.Y}
			}
			out = append(out, outline)
		}
	}
	return out
}
