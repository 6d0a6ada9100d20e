package geodesy

import (
	"errors"
	"math"
)

// definedAs returns the definition of the grid, or false if its projection is of no
// family that can be defined.
func (s *System) definedAs() (*Definition, bool) {
	if s.epsg == 0 {
		def, err := readProj(string(s.code))
		return def, err == nil && def.check() == nil
	}
	def := &Definition{Title: s.name, epsg: s.epsg, K0: 1, Ellipsoid: s.ellipsoid, Unit: s.Unit()}
	for _, d := range knownDatums() {
		if d.geographic == s.own {
			def.known = &d
		}
	}
	return def, takeFigures(def, s)
}

// takeFigures gives a definition the parameters of a grid of the catalogue.
func takeFigures(def *Definition, s *System) bool {
	switch p := s.proj.(type) {
	case *transverseMercator:
		def.Family = FamilyTM
		def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = p.from.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *swissMercator:
		def.Family = FamilySwiss
		def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = p.from.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *lambertConic:
		def.Family, def.Lat1, def.Lat2 = FamilyConic, p.from.lat1, p.from.lat2
		def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = p.from.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *lambertAzimuthal:
		def.Family = FamilyEqual
		def.Lat0, def.Lon0, def.FalseE, def.FalseN = p.from.lat0, p.from.lon0, p.from.falseE, p.from.falseN
	case *polarStereographic:
		def.Family, def.Lat0 = FamilyPolar, 90*p.side()
		def.LatTS, def.Lon0, def.K0, def.FalseE, def.FalseN = def.Lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *webMercator:
		def.Family, def.Lon0, def.FalseE, def.FalseN = FamilyWeb, p.lon0Rad*180/math.Pi, p.falseE, p.falseN
	case *equirectangular:
		def.Family = FamilyLatLon
		return s.degrees()
	default:
		return false
	}
	return true
}

// ErrNoWKT is returned for a grid that well-known text of version 1 cannot
// spell out so that it would be read as the same grid again.
var ErrNoWKT = errors.New("this grid cannot be written as well-known text of version 1")

// WKT1 is the definition of the grid as well-known text of version 1 (OGC
// 01-009), as files of the ending .prj hold it. Define reads it as the same grid;
// where it would not, the error is ErrNoWKT.
func (s *System) WKT1() (string, error) {
	def, ok := s.definedAs()
	if !ok {
		return "", ErrNoWKT
	}
	text, ok := def.wkt1()
	if !ok {
		return "", ErrNoWKT
	}
	if back, err := Define(text); err != nil || !back.Code().Alike(s.Code()) {
		return "", ErrNoWKT
	}
	return text, nil
}
