package ground

import (
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
