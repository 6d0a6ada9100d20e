package terrain

import (
	"math"

	"legwright/app/geodesy"
)

// Area is the ground that terrain is wanted for. The zero Area is all ground.
type Area struct{ outline []geodesy.LatLon } // WGS 84

// AroundM is how far beyond a sheet its terrain is read: what stands there hides and is
// seen.
const AroundM = 5000

// AreaOf returns a rectangle on a grid, widened by marginM on each side. Errors are those of
// geodesy.System.ToWGS84.
func AreaOf(s *geodesy.System, corner, opposite geodesy.Grid, marginM float64) (Area, error) {
	west, east := min(corner.E, opposite.E)-marginM, max(corner.E, opposite.E)+marginM
	south, north := min(corner.N, opposite.N)-marginM, max(corner.N, opposite.N)+marginM
	var a Area
	const parts = 8 // of each side: meridians and parallels are not straight on other grids
	for i := range parts {
		share := float64(i) / parts
		for _, g := range [...]geodesy.Grid{
			{E: west + share*(east-west), N: south},
			{E: east, N: south + share*(north-south)},
			{E: east - share*(east-west), N: north},
			{E: west, N: north - share*(north-south)},
		} {
			ll, _, err := s.ToWGS84(g)
			if err != nil {
				return Area{}, err
			}
			a.outline = append(a.outline, ll)
		}
	}
	return a, nil
}

// Everywhere reports whether the area is all ground.
func (a Area) Everywhere() bool { return len(a.outline) == 0 }

// Box is a rectangle on a grid.
type Box struct{ SouthWest, NorthEast geodesy.Grid }

// On returns the smallest rectangle of a grid that holds the area's outline. ok is false
// for all ground, and where a corner of the area is off the grid.
func (a Area) On(s *geodesy.System) (b Box, ok bool) {
	inf := math.Inf(1)
	b = Box{geodesy.Grid{E: inf, N: inf}, geodesy.Grid{E: -inf, N: -inf}}
	for _, ll := range a.outline {
		g, _, _, err := s.FromWGS84(ll)
		if err != nil {
			return Box{}, false
		}
		b.SouthWest = geodesy.Grid{E: min(b.SouthWest.E, g.E), N: min(b.SouthWest.N, g.N)}
		b.NorthEast = geodesy.Grid{E: max(b.NorthEast.E, g.E), N: max(b.NorthEast.N, g.N)}
	}
	return b, !a.Everywhere()
}
