package geodesy

import (
	"legwright/app/geodesy/crs"
	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// The types that other packages use; they live in the rooms of this package.
type (
	Grid          = earth.Grid
	LatLon        = earth.LatLon
	Ellipsoid     = earth.Ellipsoid
	Factors       = proj.Factors
	Shift         = datum.Shift
	Unit          = crs.Unit
	Definition    = crs.Definition
	NamedDatum    = crs.NamedDatum
	Family        = crs.Family
	BadDefinition = crs.BadDefinition
)

// The families of projections that a Definition can be of; see crs.
const (
	FamilyTM       = crs.FamilyTM
	FamilyConic    = crs.FamilyConic
	FamilyEqual    = crs.FamilyEqual
	FamilySwiss    = crs.FamilySwiss
	FamilyMercator = crs.FamilyMercator
	FamilyWeb      = crs.FamilyWeb
	FamilyPolar    = crs.FamilyPolar
	FamilyLatLon   = crs.FamilyLatLon
)

// ReadableGrids says which definitions are read.
const ReadableGrids = crs.ReadableGrids

// The errors of coordinates; see earth and proj.
var (
	ErrNotFinite     = earth.ErrNotFinite
	ErrBadLatLon     = earth.ErrBadLatLon
	ErrOutsideSeries = proj.ErrOutsideSeries
)

// DegLatLon returns the position of a latitude and a longitude in degrees.
func DegLatLon(latDeg, lonDeg float64) LatLon { return earth.DegLatLon(latDeg, lonDeg) }

// WGS84 returns the ellipsoid of WGS 84.
func WGS84() Ellipsoid { return earth.WGS84() }

// EllipsoidByCode returns the ellipsoid of an EPSG code; ok is false for an unknown
// code.
func EllipsoidByCode(code int) (e Ellipsoid, ok bool) { return earth.EllipsoidByCode(code) }

// UnitDegrees returns an angle that a file gives in radians as degrees; see crs.
func UnitDegrees(radians float64) float64 { return crs.UnitDegrees(radians) }
