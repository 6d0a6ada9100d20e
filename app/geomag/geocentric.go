package geomag

import "math"

const (
	// referenceRadiusM is the radius a of the expansion, 6371.2 km (NOAA NCEI
	// and BGS, The US/UK World Magnetic Model, section 1.2).
	referenceRadiusM = 6371200.0

	// WGS 84 semi-major axis in metres and first eccentricity squared, from
	// 1/f = 298.257223563 (NGA.STND.0036, table 3.1).
	wgs84A  = 6378137.0
	wgs84F  = 1 / 298.257223563
	wgs84E2 = wgs84F * (2 - wgs84F)
)

// geocentric is a site seen from the centre of the earth: its distance and the
// sine and cosine of its geocentric latitude.
type geocentric struct{ radiusM, sin, cos float64 }

// toGeocentric turns the sine and cosine of a geodetic latitude and a height
// above WGS 84 into a geocentric site (closed form, no iteration).
func toGeocentric(sinLat, cosLat, heightM float64) geocentric {
	normal := wgs84A / math.Sqrt(1-wgs84E2*sinLat*sinLat)
	p, z := (normal+heightM)*cosLat, (normal*(1-wgs84E2)+heightM)*sinLat
	r := math.Sqrt(p*p + z*z)
	return geocentric{radiusM: r, sin: z / r, cos: p / r}
}
