package geodesy

import (
	"fmt"
	"math"
	"testing"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// factorStepDeg is how far the points of a derivative are apart, in degrees.
const factorStepDeg = 0.01

// factorPlaces are positions in a grid's area around which derivatives can be
// taken.
func factorPlaces(s *System, n int) [][2]float64 {
	places := areaPlaces(s, n)
	for i := range places {
		p := &places[i]
		p[0], p[1] = math.Round(p[0]*100)/100, math.Round(p[1]*100)/100
		p[0] = math.Max(-88, math.Min(88, p[0]))
	}
	return places
}

// crossesAround are four points along the meridian and four along the parallel
// of each position.
func crossesAround(places [][2]float64) [][2]float64 {
	var out [][2]float64
	for _, p := range places {
		for _, k := range [...]float64{-2, -1, 1, 2} {
			out = append(out, [2]float64{p[0] + k*factorStepDeg, p[1]})
		}
		for _, k := range [...]float64{-2, -1, 1, 2} {
			out = append(out, [2]float64{p[0], p[1] + k*factorStepDeg})
		}
	}
	return out
}

// slopeOf is the derivative by the radian that four points of cs2cs give.
func slopeOf(s *System, rows [][2]float64) (e, n float64) {
	d := func(k int) float64 {
		return (rows[0][k] - 8*rows[1][k] + 8*rows[2][k] - rows[3][k]) / (12 * rad(factorStepDeg))
	}
	if northFirst(s) {
		return d(1), d(0)
	}
	return d(0), d(1)
}

// checkFactors holds what a grid says of a position against numeric derivatives of
// PROJ's cs2cs, from the cross around it: convergence and meridian scale along the
// meridian (five points 0.01° apart, an error of the fourth order far below 1e-9°)
// within 1e-7° and 1e-9, the scale along the parallel and the skew along the parallel.
func checkFactors(t *testing.T, s *System, p [2]float64, cross [][2]float64) {
	t.Helper()
	sinLat, cosLat := math.Sincos(rad(p[0]))
	eM, nM := slopeOf(s, cross[:4])
	eP, nP := slopeOf(s, cross[4:])
	ell := s.ellipsoid // radii of curvature of the prime vertical and of the meridian
	prime := ell.A / math.Sqrt(1-ell.E2()*sinLat*sinLat)
	meridional := prime * (1 - ell.E2()) / (1 - ell.E2()*sinLat*sinLat)
	eM, nM, eP, nP = eM/meridional, nM/meridional, eP/(prime*cosLat), nP/(prime*cosLat)
	want, wantScale := -math.Atan2(eM, nM), math.Hypot(eM, nM)
	skew := earth.WrapLon(math.Atan2(eP, nP) - math.Pi/2 + want)
	parallel := math.Hypot(eP, nP)
	_, f, err := s.Project(DegLatLon(p[0], p[1]))
	if err != nil {
		t.Fatal(err)
	}
	what := fmt.Sprintf("%g, %g", p[0], p[1])
	near(t, what+" convergence", deg(earth.WrapLon(float64(f.Convergence)-want)), 0, 1e-7)
	near(t, what+" scale", f.Scale, wantScale, 1e-9*wantScale)
	near(t, what+" parallel scale", f.Parallel, parallel, 1e-9*parallel)
	near(t, what+" skew", deg(float64(f.Skew)-skew), 0, 2e-7)
}

// Published examples of the families, to the printed digits.
func TestPublishedFamilies(t *testing.T) {
	t.Parallel()
	clarke, makassar := earth.Clarke1866(), earth.Bessel1841()
	usFoot := 1200.0 / 3937
	krassovsky := Ellipsoid{A: 6378245, InvF: 298.3, Name: "Krassovsky 1940"}
	for _, c := range []struct {
		name         string // publisher
		p            proj.Projection
		lat, lon     float64
		e, n, metres float64
		tolerance    float64
	}{
		{
			"IOGP 373-7-2, 9801 Lambert one parallel", proj.NewLambertConic(clarke, proj.ConicParams{Lat0: 18, Lon0: -77, Lat1: 18, Lat2: 18, K0: 1, FalseE: 250000, FalseN: 150000}),
			17.932166666667, -76.943683333333, 255966.58, 142493.51, 1, 0.005,
		},
		{
			"IOGP 373-7-2, 9802 Lambert two parallels", proj.NewLambertConic(clarke, proj.ConicParams{Lat0: 27.833333333333333, Lon0: -99, Lat1: 28.383333333333333, Lat2: 30.283333333333333, K0: 1, FalseE: 2000000 * usFoot, FalseN: 0}),
			28.5, -96, 2963503.91, 254759.80, usFoot, 0.005,
		},
		{
			"IOGP 373-7-2, 9804 Mercator A", proj.NewMercator(makassar, proj.MercatorParams{Lon0: 110, LatTS: 0, K0: 0.997, FalseE: 3900000, FalseN: 900000}),
			-3, 120, 5009726.58, 569150.82, 1, 0.005,
		},
		{
			"IOGP 373-7-2, 9805 Mercator B", proj.NewMercator(krassovsky, proj.MercatorParams{Lon0: 51, LatTS: 42, K0: 1, FalseE: 0, FalseN: 0}),
			53, 53, 165704.29, 5171848.07, 1, 0.005,
		},
		{
			"IOGP 373-7-2, 1024 Pseudo-Mercator", proj.NewWebMercator(WGS84(), 0, 0, 0),
			24.381786944444, -100.333333333333, -11169055.58, 2800000.00, 1, 0.005,
		},
		{
			"IOGP 373-7-2, 9820 Lambert equal area", proj.NewLambertAzimuthal(earth.GRS80(), proj.AzimuthalParams{Lat0: 52, Lon0: 10, FalseE: 4321000, FalseN: 3210000}),
			50, 5, 3962799.45, 2999718.85, 1, 0.005,
		},
		{
			"IOGP 373-7-2, 9829 polar stereographic B", proj.NewPolarStereographic(WGS84(), proj.PolarParams{North: false, Lon0: 70, K0: proj.PolarScale(WGS84(), -71), FalseE: 6000000, FalseN: 6000000}),
			-75, 120, 7255380.79, 7053389.56, 1, 0.005,
		},
		{
			"swisstopo, Formulas and constants 2016, Rigi", proj.NewSwissMercator(earth.Bessel1841(), swissCentre(2600000, 1200000)),
			47.058043497869, 8.486419797650, 2679520.05, 1212273.44, 1, 0.005,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.p.Forward(rad(c.lat), rad(c.lon))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "easting", got.E/c.metres, c.e, c.tolerance*1.0001)
			near(t, "northing", got.N/c.metres, c.n, c.tolerance*1.0001)
			back, err := c.p.Inverse(got.E, got.N)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "latitude", deg(back.LatRad), c.lat, 1e-10)
			near(t, "longitude", deg(back.LonRad), c.lon, 1e-10)
			near(t, "scale both ways", back.Scale, got.Scale, 1e-11)
			near(t, "convergence both ways", deg(back.ConvRad), deg(got.ConvRad), 1e-10)
		})
	}
}
