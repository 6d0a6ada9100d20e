package geodesy

import (
	"errors"
	"math"

	"legwright/app/geodesy/crs"
	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/proj"
)

// definedAs returns the definition of the grid, or false if its projection is of no
// family that can be defined.
func (s *System) definedAs() (*Definition, bool) {
	if s.epsg == 0 {
		def, err := crs.ReadProj(string(s.code))
		return def, err == nil && def.Check() == nil
	}
	def := &Definition{Title: s.name, EPSG: s.epsg, K0: 1, Ellipsoid: s.ellipsoid, Unit: s.Unit()}
	for _, d := range datum.All() {
		if d.Geographic == s.own {
			def.Known = &d
		}
	}
	return def, takeParameters(def, s)
}

// takeParameters gives a definition the parameters of a grid of the catalogue.
func takeParameters(def *Definition, s *System) bool {
	switch p := s.proj.(type) {
	case *proj.TransverseMercator:
		def.Family = FamilyTM
		def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = p.From.Lat0, p.From.Lon0, p.From.K0, p.From.FalseE, p.From.FalseN
	case *proj.SwissMercator:
		def.Family = FamilySwiss
		def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = p.From.Lat0, p.From.Lon0, p.From.K0, p.From.FalseE, p.From.FalseN
	case *proj.LambertConic:
		def.Family, def.Lat1, def.Lat2 = FamilyConic, p.From.Lat1, p.From.Lat2
		def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = p.From.Lat0, p.From.Lon0, p.From.K0, p.From.FalseE, p.From.FalseN
	case *proj.LambertAzimuthal:
		def.Family = FamilyEqual
		def.Lat0, def.Lon0, def.FalseE, def.FalseN = p.From.Lat0, p.From.Lon0, p.From.FalseE, p.From.FalseN
	case *proj.PolarStereographic:
		def.Family, def.Lat0 = FamilyPolar, 90*p.Side()
		def.LatTS, def.Lon0, def.K0, def.FalseE, def.FalseN = def.Lat0, p.From.Lon0, p.From.K0, p.From.FalseE, p.From.FalseN
	case *proj.WebMercator:
		def.Family, def.Lon0, def.FalseE, def.FalseN = FamilyWeb, p.Lon0Rad*180/math.Pi, p.FalseE, p.FalseN
	case *proj.Equirectangular:
		def.Family = FamilyLatLon
		return s.degrees()
	default:
		return false
	}
	return true
}

// ErrNoWKT is returned for a grid that well-known text of version 1 cannot
// define so that it is read as the same grid again.
var ErrNoWKT = errors.New("this grid cannot be written as well-known text of version 1")

// WKT1 is the definition of the grid as well-known text of version 1 (OGC
// 01-009), as .prj files have it. Define reads it as the same grid; if it would not, the
// error is ErrNoWKT.
func (s *System) WKT1() (string, error) {
	def, ok := s.definedAs()
	if !ok {
		return "", ErrNoWKT
	}
	text, ok := def.WKT1()
	if !ok {
		return "", ErrNoWKT
	}
	if back, err := Define(text); err != nil || !back.Code().Alike(s.Code()) {
		return "", ErrNoWKT
	}
	return text, nil
}

// DatumName names the datum of the grid, such as "OSGB36", or is "" where it has no name here.
func (s *System) DatumName() string {
	def, _ := s.definedAs()
	if def == nil || def.Known == nil {
		return ""
	}
	return def.Known.LatLon
}
