package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// SwissMercator is the oblique conformal cylindrical projection of
// Switzerland: the ellipsoid is drawn conformally on a sphere, the sphere is
// turned so that the centre lies on its equator, and drawn by Mercator's
// projection (swisstopo, Formulas and constants for the calculation of the
// Swiss conformal cylindrical projection, 2016, section 3). It is the Hotine
// oblique Mercator with azimuth 90°. Errors are those of rounding; it is
// refused beyond 80° from the centre's great circle.
type SwissMercator struct {
	From             TMParams
	aux              auxLat
	a                float64
	lon0Rad          float64
	falseE, falseN   float64
	alpha            float64 // longitudes on the sphere over those on the ellipsoid
	k                float64 // shift of the isometric latitude
	radius           float64 // of the sphere times k0, metres
	sinB0, cosB0     float64 // centre on the sphere
	scaleFactor      float64 // alpha·radius/a
	maxObliqueSinLat float64
}

// NewSwissMercator returns the projection with these parameters on an ellipsoid.
func NewSwissMercator(ell earth.Ellipsoid, p TMParams) *SwissMercator {
	aux := newAuxLat(ell)
	sinLat0, cosLat0 := math.Sincos(p.Lat0 * math.Pi / 180)
	alpha := math.Sqrt(1 + aux.e2/aux.oneLessE2*math.Pow(cosLat0, 4))
	sinB0 := sinLat0 / alpha
	w2 := 1 - aux.e2*sinLat0*sinLat0
	radius := p.K0 * ell.A * math.Sqrt(aux.oneLessE2) / w2
	return &SwissMercator{
		From: p, aux: aux, a: ell.A, lon0Rad: p.Lon0 * math.Pi / 180, falseE: p.FalseE, falseN: p.FalseN,
		alpha: alpha, k: math.Atanh(sinB0) - alpha*aux.isometric(p.Lat0*math.Pi/180),
		radius: radius, sinB0: sinB0, cosB0: math.Sqrt(1 - sinB0*sinB0),
		scaleFactor: alpha * radius / ell.A, maxObliqueSinLat: math.Sin(80 * math.Pi / 180),
	}
}

// onSphere returns sine and cosine of the latitude on the sphere.
func (w *SwissMercator) onSphere(latRad float64) (sinB, cosB float64) {
	s := w.alpha*w.aux.isometric(clamp(latRad, math.Pi/2-1e-9)) + w.k
	return math.Tanh(s), 1 / math.Cosh(s)
}

// Forward implements Projection.
func (w *SwissMercator) Forward(latRad, lonRad float64) (Point, error) {
	sinB, cosB := w.onSphere(latRad)
	sinL, cosL := math.Sincos(w.alpha * earth.WrapLon(lonRad-w.lon0Rad))
	sinTurned := w.cosB0*sinB - w.sinB0*cosB*cosL
	ahead := w.sinB0*sinB + w.cosB0*cosB*cosL
	if err := w.within(sinTurned, ahead); err != nil {
		return Point{}, err
	}
	convRad, scale := w.factors(latRad, sinB, cosB, sinL, cosL, sinTurned)
	return Point{
		E:       w.falseE + w.radius*math.Atan2(cosB*sinL, ahead),
		N:       w.falseN + w.radius*math.Atanh(sinTurned),
		ConvRad: convRad, Scale: scale,
	}, nil
}

// within refuses what lies on the far side of the earth or far from the
// centre's great circle.
func (w *SwissMercator) within(sinTurned, ahead float64) error {
	if math.Abs(sinTurned) > w.maxObliqueSinLat || ahead < 0 {
		return outsideSeries(math.Atan2(math.Sqrt(math.Max(0, 1-ahead*ahead)), ahead)*180/math.Pi, "degrees from the centre", 80)
	}
	return nil
}

// factors returns convergence and scale of the three steps together.
func (w *SwissMercator) factors(latRad, sinB, cosB, sinL, cosL, sinTurned float64) (convRad, scale float64) {
	sinLat, cosLat := math.Sincos(latRad)
	convRad = math.Atan2(w.sinB0*sinL, w.cosB0*cosB+w.sinB0*sinB*cosL)
	cosTurned := math.Sqrt((1 - sinTurned) * (1 + sinTurned))
	scale = w.scaleFactor * cosB / (math.Max(cosLat, 1e-17) * w.aux.primeVertical(sinLat) * cosTurned)
	return convRad, scale
}

// Inverse implements Projection.
func (w *SwissMercator) Inverse(e, n float64) (Spot, error) {
	x, y := (e-w.falseE)/w.radius, (n-w.falseN)/w.radius
	sinTurned, cosTurned := math.Tanh(y), 1/math.Cosh(y)
	sinX, cosX := math.Sincos(x)
	if math.Abs(x) > math.Pi/2 || math.Abs(sinTurned) > w.maxObliqueSinLat {
		return Spot{}, outsideSeries(math.Hypot(x, y)*w.radius/1000, "km from the centre", math.Pi/2*w.radius/1000)
	}
	sinB := w.cosB0*sinTurned + w.sinB0*cosTurned*cosX
	across, along := cosTurned*sinX, w.cosB0*cosTurned*cosX-w.sinB0*sinTurned
	cosB := math.Hypot(across, along)
	lat := w.aux.latOfIsometric((math.Asinh(sinB/cosB) - w.k) / w.alpha)
	l := math.Atan2(across, along)
	sinL, cosL := math.Sincos(l)
	convRad, scale := w.factors(lat, sinB, cosB, sinL, cosL, sinTurned)
	return Spot{LatRad: lat, LonRad: earth.WrapLon(w.lon0Rad + l/w.alpha), ConvRad: convRad, Scale: scale}, nil
}
