package geodesy

import (
	"fmt"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// System is one walking grid of the catalogue: an ellipsoid, a projection, the
// shift between its datum and WGS 84, its area of use and the way its
// references are written. Systems are immutable and handed out by pointer; the
// same number of the catalogue always gives the same pointer.
type System struct {
	epsg      int // 0 for a grid by definition
	code      Code
	own       int // EPSG code of the grid's own latitude and longitude, 0 where it has none
	name      string
	country   string
	words     []string // further search words, lower case
	ellipsoid Ellipsoid
	proj      proj.Projection
	datum     datum.Datum
	area      earth.Area
	areaWords string
	refs      refStyle
	zone      int // UTM zone whose letters its references have, 0 where it is not one
	north     bool
	unit      Unit   // of the printed figures; the zero Unit is the metre
	rank      rank   // of guesses
	bends     string // what to say of a grid that bends bearings, or nothing
}

// UnknownSystem is the error of a code that the catalogue does not hold.
type UnknownSystem struct{ EPSG int }

func (e *UnknownSystem) Error() string {
	return fmt.Sprintf("grid EPSG:%d is not in the catalogue: search by country, name or code, or give its definition as a PROJ string or well-known text", e.EPSG)
}

// EPSG returns the grid's code in the EPSG dataset, or 0 for a grid that came
// by a definition; Code names both.
func (s *System) EPSG() int { return s.epsg }

// Name returns the grid's name for people, such as "British National Grid".
func (s *System) Name() string { return s.name }

// Country returns the country or region of the grid.
func (s *System) Country() string { return s.country }

// Ellipsoid returns the ellipsoid of the grid's own datum.
func (s *System) Ellipsoid() Ellipsoid { return s.ellipsoid }

// Contains reports whether a position on the grid's own datum lies in the area
// the grid is meant for. Outside it the grid may still be computed.
func (s *System) Contains(ll LatLon) bool {
	return ll.Check() == nil && s.area.Contains(ll)
}

// AreaWords describes the area that the grid is meant for.
func (s *System) AreaWords() string { return s.areaWords }

// Unit returns the unit of the printed figures.
func (s *System) Unit() Unit {
	if s.unit.Metres == 0 {
		return Unit{Name: "metre", Metres: 1}
	}
	return s.unit
}

// FromUnits turns printed figures, easting and northing in the grid's Unit,
// into grid coordinates in metres.
func (s *System) FromUnits(e, n float64) Grid {
	u := s.Unit().Metres
	return Grid{E: e * u, N: n * u}
}

// InUnits turns grid coordinates into printed figures.
func (s *System) InUnits(g Grid) (e, n float64) {
	u := s.Unit().Metres
	return g.E / u, g.N / u
}

// Bends says in a sentence why a bearing measured on this grid must not be
// walked without a correction, or "" for a grid that keeps angles. Readings are
// corrected.
func (s *System) Bends() string { return s.bends }

// ShiftHere returns the datum shift that is used at a WGS 84 position, with its
// stated accuracy. Errors are those of Project.
func (s *System) ShiftHere(ll LatLon) (Shift, error) {
	_, _, shift, err := s.FromWGS84(ll)
	return shift, err
}

// TypicalShift returns the datum shift that is used in the middle of the grid's
// area; ok is false where that cannot be computed.
func (s *System) TypicalShift() (shift Shift, ok bool) {
	b := s.area[0]
	east := b.East
	if east < b.West {
		east += 360
	}
	shift, err := s.ShiftHere(DegLatLon((b.South+b.North)/2, earth.WrapDeg((b.West+east)/2)))
	return shift, err == nil
}

// String returns the name with its code.
func (s *System) String() string {
	if s.epsg == 0 {
		return s.name + " (own definition)"
	}
	return fmt.Sprintf("%s (EPSG:%d)", s.name, s.epsg)
}

// Project turns a position on the grid's own datum into grid coordinates with
// convergence and point scale. It allocates nothing when it succeeds. Errors
// wrap ErrNotFinite, ErrBadLatLon or ErrOutsideSeries.
func (s *System) Project(ll LatLon) (Grid, Factors, error) {
	return s.plane().Project(ll)
}

// plane is the ellipsoid of the grid's own datum with the grid's projection.
func (s *System) plane() proj.Plane { return proj.Plane{Ellipsoid: s.ellipsoid, Proj: s.proj} }

// Unproject turns grid coordinates into the position on the grid's own datum.
// Errors wrap ErrNotFinite or ErrOutsideSeries.
func (s *System) Unproject(g Grid) (LatLon, Factors, error) {
	return s.plane().Unproject(g)
}

// FactorsAt returns convergence and point scale at grid coordinates.
func (s *System) FactorsAt(g Grid) (Factors, error) {
	_, f, err := s.Unproject(g)
	return f, err
}

// FromWGS84 turns a WGS 84 position into grid coordinates, and returns the datum
// shift that was used. Errors are those of Project.
func (s *System) FromWGS84(ll LatLon) (Grid, Factors, Shift, error) {
	if err := ll.Check(); err != nil {
		return Grid{}, Factors{}, Shift{}, err
	}
	return s.datum.FromWGS84(s.plane(), ll)
}

// ToWGS84 turns grid coordinates into the WGS 84 position, and returns the datum
// shift that was used. Errors are those of Unproject.
func (s *System) ToWGS84(g Grid) (LatLon, Shift, error) {
	if !g.IsFinite() {
		return LatLon{}, Shift{}, ErrNotFinite
	}
	return s.datum.ToWGS84(s.plane(), g)
}
