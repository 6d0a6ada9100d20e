package geodesy

import (
	"math"

	"legwright/app/units"
)

// Inverse returns the length in metres of the geodesic from a to b on an
// ellipsoid, and its true bearing at a, by Vincenty's inverse formula (Survey
// Review 23, 1975). It is meant for the lengths people walk and good to 0.1 mm
// up to 1000 km; between places almost opposite on the earth it does not
// settle and returns NaN for the length. From a place to itself the length is
// 0 and the bearing 0.
func Inverse(e Ellipsoid, a, b LatLon) (distM float64, azi units.TrueBearing) {
	f := e.F()
	sinU1, cosU1 := reducedLat(f, float64(a.Lat))
	sinU2, cosU2 := reducedLat(f, float64(b.Lat))
	l := wrapLon(float64(b.Lon - a.Lon))
	lambda := l
	for range 100 {
		v := vincentyStep(f, l, lambda, sinU1, cosU1, sinU2, cosU2)
		if v.sinSigma == 0 {
			return 0, 0
		}
		if math.Abs(v.lambda-lambda) < 1e-14 {
			return v.length(e), units.NewTrueBearing(units.Angle(v.azimuth))
		}
		lambda = v.lambda
	}
	return math.NaN(), 0
}

func reducedLat(f, latRad float64) (sin, cos float64) {
	sinLat, cosLat := math.Sincos(latRad)
	r := math.Hypot((1-f)*sinLat, cosLat)
	return (1 - f) * sinLat / r, cosLat / r
}

// vincenty is one round of the iteration on the auxiliary sphere.
type vincenty struct {
	lambda, azimuth                      float64
	sigma, sinSigma, cosSigma            float64
	cos2Alpha, cos2SigmaM, cos2SigmaMSqr float64
}

func vincentyStep(f, l, lambda, sinU1, cosU1, sinU2, cosU2 float64) vincenty {
	sinL, cosL := math.Sincos(lambda)
	y := cosU2 * sinL
	// cosU1·sinU2 − sinU1·cosU2·cosλ, written so that short lines keep their
	// digits.
	half := math.Sin(lambda / 2)
	x := (cosU1*sinU2 - sinU1*cosU2) + 2*sinU1*cosU2*half*half
	v := vincenty{azimuth: math.Atan2(y, x), sinSigma: math.Hypot(y, x)}
	v.cosSigma = sinU1*sinU2 + cosU1*cosU2*cosL
	v.sigma = math.Atan2(v.sinSigma, v.cosSigma)
	if v.sinSigma == 0 {
		return v
	}
	sinAlpha := cosU1 * cosU2 * sinL / v.sinSigma
	v.cos2Alpha = 1 - sinAlpha*sinAlpha
	if v.cos2Alpha > 0 {
		v.cos2SigmaM = v.cosSigma - 2*sinU1*sinU2/v.cos2Alpha
	}
	v.cos2SigmaMSqr = v.cos2SigmaM * v.cos2SigmaM
	c := f / 16 * v.cos2Alpha * (4 + f*(4-3*v.cos2Alpha))
	v.lambda = l + (1-c)*f*sinAlpha*(v.sigma+c*v.sinSigma*
		(v.cos2SigmaM+c*v.cosSigma*(2*v.cos2SigmaMSqr-1)))
	return v
}

func (v vincenty) length(e Ellipsoid) float64 {
	b := e.A * (1 - e.F())
	u2 := v.cos2Alpha * (e.A*e.A - b*b) / (b * b)
	big := 1 + u2/16384*(4096+u2*(-768+u2*(320-175*u2)))
	small := u2 / 1024 * (256 + u2*(-128+u2*(74-47*u2)))
	delta := small * v.sinSigma * (v.cos2SigmaM + small/4*(v.cosSigma*(2*v.cos2SigmaMSqr-1)-
		small/6*v.cos2SigmaM*(4*v.sinSigma*v.sinSigma-3)*(4*v.cos2SigmaMSqr-3)))
	return b * big * (v.sigma - delta)
}
