package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// PolarStereographic is the polar stereographic projection of variants A and B
// (IOGP 373-7-2, methods 9810 and 9829) with its centre at a pole, as used by
// UPS. It is good on the whole hemisphere of its pole.
type PolarStereographic struct {
	From           PolarParams
	north          bool
	lon0Rad        float64
	k0             float64
	falseE, falseN float64
	a              float64
	rhoFactor      float64 // ρ ÷ t in metres, before k0
	aux            auxLat
}

// PolarParams are degrees and metres; k0 is the scale at the pole.
type PolarParams struct {
	North                    bool
	Lon0, K0, FalseE, FalseN float64
}

// UPSParams are the parameters of UPS (NGA.SIG.0012, section 8).
func UPSParams(north bool) PolarParams {
	return PolarParams{North: north, K0: 0.994, FalseE: 2e6, FalseN: 2e6}
}

// NewPolarStereographic returns the projection with these parameters on an ellipsoid.
func NewPolarStereographic(ell earth.Ellipsoid, p PolarParams) *PolarStereographic {
	return &PolarStereographic{
		From: p, north: p.North, lon0Rad: p.Lon0 * math.Pi / 180, k0: p.K0, falseE: p.FalseE, falseN: p.FalseN,
		a: ell.A, rhoFactor: polarFactor(ell), aux: newAuxLat(ell),
	}
}

// polarFactor is ρ ÷ t at the scale 1.
func polarFactor(ell earth.Ellipsoid) float64 {
	e := math.Sqrt(ell.E2())
	return 2 * ell.A / math.Sqrt(math.Pow(1+e, 1+e)*math.Pow(1-e, 1-e))
}

// PolarScale returns the scale at the pole that makes the parallel of true
// scale, in degrees towards the pole, have the scale 1 (variant B).
func PolarScale(ell earth.Ellipsoid, latTSDeg float64) float64 {
	lat := math.Abs(latTSDeg) * math.Pi / 180
	if lat >= math.Pi/2-1e-12 {
		return 1
	}
	aux := newAuxLat(ell)
	return ell.A * math.Cos(lat) * aux.primeVertical(math.Sin(lat)) / (polarFactor(ell) * aux.small(lat))
}

// Side is 1 for the north pole and −1 for the south pole.
func (p *PolarStereographic) Side() float64 {
	if p.north {
		return 1
	}
	return -1
}

// Forward projects. Latitudes on the far side of the equator are refused.
func (p *PolarStereographic) Forward(latRad, lonRad float64) (Point, error) {
	side := p.Side()
	lat := side * latRad
	if lat < 0 {
		return Point{}, outsideSeries(90-lat*180/math.Pi, "degrees from the pole", 90)
	}
	delta := earth.WrapLon(lonRad - p.lon0Rad)
	rho := 0.0
	if lat < math.Pi/2 {
		rho = p.k0 * p.rhoFactor * p.aux.small(lat)
	}
	sinD, cosD := math.Sincos(delta)
	return Point{
		E:       p.falseE + rho*sinD,
		N:       p.falseN - side*rho*cosD,
		ConvRad: side * delta,
		Scale:   p.scaleAt(rho, lat),
	}, nil
}

// scaleAt returns the point scale ρ/(ν·cos φ), and k0 at the pole.
func (p *PolarStereographic) scaleAt(rho, lat float64) float64 {
	sinLat, cosLat := math.Sincos(lat)
	if cosLat < 1e-12 {
		return p.k0
	}
	return rho / (p.a * cosLat * p.aux.primeVertical(sinLat))
}

// Inverse unprojects. At the pole itself the longitude is the central one.
func (p *PolarStereographic) Inverse(e, n float64) (Spot, error) {
	side := p.Side()
	dE, dN := e-p.falseE, n-p.falseN
	rho := math.Hypot(dE, dN)
	t := rho / (p.k0 * p.rhoFactor)
	if t > 1+1e-12 {
		return Spot{}, outsideSeries(rho/1000, "km from the pole", p.k0*p.rhoFactor/1000)
	}
	if rho == 0 {
		return Spot{LatRad: side * math.Pi / 2, LonRad: p.lon0Rad, Scale: p.k0}, nil
	}
	delta := math.Atan2(dE, -side*dN)
	lat := p.aux.latOf(t)
	return Spot{
		LatRad: side * lat, LonRad: earth.WrapLon(p.lon0Rad + delta),
		ConvRad: side * delta, Scale: p.scaleAt(rho, lat),
	}, nil
}
