package geodesy

import "math"

// recipe is the definition of a grid, as a text would give it; false where its
// projection is of no family that can be defined.
func (s *System) recipe() (*recipe, bool) {
	if s.epsg == 0 {
		r, err := readProj(string(s.definition))
		return r, err == nil && r.check() == nil
	}
	r := &recipe{title: s.name, epsg: s.epsg, k0: 1, ellipsoid: s.ellipsoid, unit: s.Unit()}
	for _, d := range knownDatums() {
		if d.geographic == s.own {
			r.known = &d
		}
	}
	return r, r.takeFigures(s)
}

// takeFigures takes the figures that a grid of the catalogue is drawn with.
func (r *recipe) takeFigures(s *System) bool {
	switch p := s.proj.(type) {
	case *transverseMercator:
		r.family = familyTM
		r.lat0, r.lon0, r.k0, r.falseE, r.falseN = p.from.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *swissMercator:
		r.family = familySwiss
		r.lat0, r.lon0, r.k0, r.falseE, r.falseN = p.from.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *lambertConic:
		r.family, r.lat1, r.lat2 = familyConic, p.from.lat1, p.from.lat2
		r.lat0, r.lon0, r.k0, r.falseE, r.falseN = p.from.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *lambertAzimuthal:
		r.family = familyEqual
		r.lat0, r.lon0, r.falseE, r.falseN = p.from.lat0, p.from.lon0, p.from.falseE, p.from.falseN
	case *polarStereographic:
		r.family, r.lat0 = familyPolar, 90*p.side()
		r.latTS, r.lon0, r.k0, r.falseE, r.falseN = r.lat0, p.from.lon0, p.from.k0, p.from.falseE, p.from.falseN
	case *webMercator:
		r.family, r.lon0, r.falseE, r.falseN = familyWeb, p.lon0Rad*180/math.Pi, p.falseE, p.falseN
	case *equirectangular:
		r.family = familyLatLon
		return s.degrees()
	default:
		return false
	}
	return true
}
