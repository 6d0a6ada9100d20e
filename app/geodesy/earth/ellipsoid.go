package earth

import "math"

// Ellipsoid is an ellipsoid of revolution: equatorial radius A in metres and
// inverse flattening InvF.
type Ellipsoid struct {
	A, InvF float64
	Name    string
}

// The ellipsoids of the catalogue, with defining parameters as in the EPSG
// dataset. OSGB36's Airy 1830 is given there by its two radii.
const (
	airyA = 6377563.396
	airyB = 6356256.909
)

// WGS84 returns the ellipsoid of WGS 84 (NIMA TR8350.2).
func WGS84() Ellipsoid { return Ellipsoid{6378137, 298.257223563, "WGS 84"} }

// GRS80 returns the ellipsoid of ETRS89 and NZGD2000 (Moritz 1980).
func GRS80() Ellipsoid { return Ellipsoid{6378137, 298.257222101, "GRS 1980"} }

// Airy1830 returns the ellipsoid of OSGB36 (Ordnance Survey, A guide to
// coordinate systems in Great Britain, Annexe A).
func Airy1830() Ellipsoid { return Ellipsoid{airyA, airyA / (airyA - airyB), "Airy 1830"} }

// AiryModified returns the ellipsoid of Ireland 1965 and 1975 (EPSG 7002).
func AiryModified() Ellipsoid {
	return Ellipsoid{6377340.189, 299.3249646, "Airy Modified 1849"}
}

// Bessel1841 returns the ellipsoid of DHDN and CH1903 (EPSG 7004).
func Bessel1841() Ellipsoid { return Ellipsoid{6377397.155, 299.1528128, "Bessel 1841"} }

// International1924 returns the ellipsoid of BD72 and ED50 (EPSG 7022).
func International1924() Ellipsoid { return Ellipsoid{6378388, 297, "International 1924"} }

// Clarke1866 returns the ellipsoid of NAD27 (EPSG 7008), given there by its
// two radii.
func Clarke1866() Ellipsoid {
	const a, b = 6378206.4, 6356583.8
	return Ellipsoid{a, a / (a - b), "Clarke 1866"}
}

// F returns the flattening.
func (e Ellipsoid) F() float64 { return 1 / e.InvF }

// E2 returns the first eccentricity squared.
func (e Ellipsoid) E2() float64 { f := e.F(); return f * (2 - f) }

// N returns the third flattening.
func (e Ellipsoid) N() float64 { f := e.F(); return f / (2 - f) }

// XYZ is a geocentric position in metres.
type XYZ struct{ X, Y, Z float64 }

// Geocentric returns the geocentric position of a latitude and a longitude at ellipsoid
// height hM, metres (IOGP 373-7-2, method 9602).
func (e Ellipsoid) Geocentric(ll LatLon, hM float64) XYZ {
	sinLat, cosLat := math.Sincos(float64(ll.Lat))
	sinLon, cosLon := math.Sincos(float64(ll.Lon))
	e2 := e.E2()
	nu := e.A / math.Sqrt(1-e2*sinLat*sinLat)
	return XYZ{
		X: (nu + hM) * cosLat * cosLon,
		Y: (nu + hM) * cosLat * sinLon,
		Z: ((1-e2)*nu + hM) * sinLat,
	}
}

// Geographic returns the latitude, longitude and ellipsoid height of a geocentric
// position. Bowring's formula (Survey Review 23, 1976) is repeated; near the ground two
// rounds are good to 1e-14 rad.
func (e Ellipsoid) Geographic(p XYZ) (LatLon, float64) {
	e2 := e.E2()
	b := e.A * (1 - e.F())
	ep2 := e2 / (1 - e2)
	r := math.Hypot(p.X, p.Y)
	beta := math.Atan2(p.Z*e.A, r*b)
	lat := 0.0
	for range 3 {
		sinB, cosB := math.Sincos(beta)
		lat = math.Atan2(p.Z+ep2*b*sinB*sinB*sinB, r-e2*e.A*cosB*cosB*cosB)
		beta = math.Atan2((1-e.F())*math.Sin(lat), math.Cos(lat))
	}
	sinLat, cosLat := math.Sincos(lat)
	h := r*cosLat + p.Z*sinLat - e.A*math.Sqrt(1-e2*sinLat*sinLat)
	return RadLatLon(lat, math.Atan2(p.Y, p.X)), h
}
