package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// LambertAzimuthal is the Lambert azimuthal equal-area projection of the
// ellipsoid (IOGP 373-7-2, method 9820; Snyder, Map Projections: A Working
// Manual, USGS 1987, section 24). Areas are true, directions are not: at
// 1 500 km from the centre they are off by up to 0.8°, as the stretch states.
// Errors are those of rounding, but for the last metres around a pole, where
// they grow to 0.1 mm. It is refused beyond 120° from the centre.
type LambertAzimuthal struct {
	From           AzimuthalParams
	aux            auxLat
	a              float64
	lon0Rad        float64
	falseE, falseN float64
	qPole          float64
	rq             float64 // radius of the sphere of equal area, metres
	d              float64
	sinB0, cosB0   float64 // authalic latitude of the centre
}

// AzimuthalParams are degrees and metres.
type AzimuthalParams struct{ Lat0, Lon0, FalseE, FalseN float64 }

// NewLambertAzimuthal returns the projection with these parameters on an ellipsoid.
func NewLambertAzimuthal(ell earth.Ellipsoid, p AzimuthalParams) *LambertAzimuthal {
	l := &LambertAzimuthal{
		From: p, aux: newAuxLat(ell), a: ell.A, lon0Rad: p.Lon0 * math.Pi / 180, falseE: p.FalseE, falseN: p.FalseN, d: 1,
	}
	l.qPole = l.q(1)
	l.rq = ell.A * math.Sqrt(l.qPole/2)
	sinLat0, cosLat0 := math.Sincos(p.Lat0 * math.Pi / 180)
	l.sinB0, l.cosB0 = sign(p.Lat0), 0
	if math.Abs(p.Lat0) < 90 {
		l.sinB0 = l.q(sinLat0) / l.qPole
		l.cosB0 = math.Sqrt(1 - l.sinB0*l.sinB0)
		l.d = ell.A * cosLat0 * l.aux.primeVertical(sinLat0) / (l.rq * l.cosB0)
	}
	return l
}

// q is the authalic function of the sine of a latitude (Snyder, 3-12).
func (l *LambertAzimuthal) q(sinLat float64) float64 {
	e := l.aux.e
	return l.aux.oneLessE2 * (sinLat/(1-l.aux.e2*sinLat*sinLat) + math.Atanh(e*sinLat)/e)
}

// latOfAuthalic finds the latitude of an authalic one by Newton's method on q,
// from the first term of the series; it doubles its digits each time.
func (l *LambertAzimuthal) latOfAuthalic(sinB, cosB float64) float64 {
	lat := math.Atan2(sinB, cosB)
	lat += l.aux.e2 / 3 * 2 * sinB * cosB
	want := l.qPole * sinB
	for range 6 {
		sinLat, cosLat := math.Sincos(lat)
		if cosLat < 1e-9 {
			break
		}
		step := (want - l.q(sinLat)) / l.slopeOfQ(sinLat, cosLat)
		lat = clamp(lat+step, math.Pi/2)
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return lat
}

// slopeOfQ is dq/dφ.
func (l *LambertAzimuthal) slopeOfQ(sinLat, cosLat float64) float64 {
	w := 1 - l.aux.e2*sinLat*sinLat
	return 2 * l.aux.oneLessE2 * cosLat / (w * w)
}

// azimuthalMaxCos is the cosine of how far from the centre it is used.
const azimuthalMaxCos = -0.5

// Forward implements Projection.
func (l *LambertAzimuthal) Forward(latRad, lonRad float64) (Point, error) {
	sinLat, cosLat := math.Sincos(latRad)
	sinB := clamp(l.q(sinLat)/l.qPole, 1)
	cosB := math.Sqrt((1 - sinB) * (1 + sinB))
	sinD, cosD := math.Sincos(earth.WrapLon(lonRad - l.lon0Rad))
	g := 1 + l.sinB0*sinB + l.cosB0*cosB*cosD
	if g-1 < azimuthalMaxCos {
		return Point{}, outsideSeries(math.Acos(g-1)*180/math.Pi, "degrees from the centre", 120)
	}
	b := l.rq * math.Sqrt(2/g)
	p := Point{
		E: l.falseE + b*l.d*cosB*sinD,
		N: l.falseN + b/l.d*(l.cosB0*sinB-l.sinB0*cosB*cosD),
	}
	p.ConvRad, p.Scale, p.stretch = l.slopes(sinLat, cosLat, sinB, cosB, sinD, cosD).distortion()
	return p, nil
}

// slopes differentiates the forward formulas.
func (l *LambertAzimuthal) slopes(sinLat, cosLat, sinB, cosB, sinD, cosD float64) slopes {
	cosB, cosLat = math.Max(cosB, 1e-12), math.Max(cosLat, 1e-12)
	g := 1 + l.sinB0*sinB + l.cosB0*cosB*cosD
	b := l.rq * math.Sqrt(2/g)
	x, y := cosB*sinD, l.cosB0*sinB-l.sinB0*cosB*cosD
	// along β, then along λ: b' = −b·g'/2g
	bB := -b / (2 * g) * (l.sinB0*cosB - l.cosB0*sinB*cosD)
	bL := b / (2 * g) * l.cosB0 * cosB * sinD
	eB, nB := l.d*(bB*x-b*sinB*sinD), (bB*y+b*(l.cosB0*cosB+l.sinB0*sinB*cosD))/l.d
	eL, nL := l.d*(bL*x+b*cosB*cosD), (bL*y+b*l.sinB0*cosB*sinD)/l.d
	perLat := l.slopeOfQ(sinLat, cosLat) / (l.qPole * cosB) / (l.a * l.aux.meridional(sinLat))
	perLon := 1 / (l.a * cosLat * l.aux.primeVertical(sinLat))
	return slopes{eB * perLat, nB * perLat, eL * perLon, nL * perLon}
}

// Inverse implements Projection.
func (l *LambertAzimuthal) Inverse(e, n float64) (Spot, error) {
	x, y := (e-l.falseE)/l.d, (n-l.falseN)*l.d
	rho := math.Hypot(x, y)
	half := rho / (2 * l.rq)
	if half > math.Sin(math.Pi/3)+1e-12 {
		return Spot{}, outsideSeries(rho/1000, "km from the centre", 2*l.rq*math.Sin(math.Pi/3)/1000)
	}
	sinC, cosC := 2*half*math.Sqrt(1-half*half), 1-2*half*half
	ux, uy := 0.0, 0.0
	if rho > 0 {
		ux, uy = x/rho, y/rho
	}
	sinB := clamp(cosC*l.sinB0+uy*sinC*l.cosB0, 1)
	across, along := ux*sinC, cosC*l.cosB0-uy*sinC*l.sinB0
	cosB := math.Hypot(across, along)
	delta := math.Atan2(across, along)
	lat := l.latOfAuthalic(sinB, cosB)
	s := Spot{LatRad: lat, LonRad: earth.WrapLon(l.lon0Rad + delta)}
	sinLat, cosLat := math.Sincos(lat)
	sinD, cosD := math.Sincos(delta)
	s.ConvRad, s.Scale, s.stretch = l.slopes(sinLat, cosLat, sinB, cosB, sinD, cosD).distortion()
	return s, nil
}
