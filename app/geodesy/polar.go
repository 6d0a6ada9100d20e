package geodesy

import "math"

// polarStereographic is the polar stereographic projection of variant A (IOGP
// 373-7-2, method 9810) with its centre at a pole, as used by UPS. It holds on
// the whole hemisphere of its pole.
type polarStereographic struct {
	north          bool
	lon0Rad        float64
	k0             float64
	falseE, falseN float64
	a, e2          float64
	rhoFactor      float64 // ρ ÷ t in metres, before k0
	tm             *transverseMercator
}

func newUPS(ell Ellipsoid, north bool) *polarStereographic {
	e := math.Sqrt(ell.E2())
	return &polarStereographic{
		north: north, k0: 0.994, falseE: 2e6, falseN: 2e6, a: ell.A, e2: ell.E2(),
		rhoFactor: 2 * ell.A / math.Sqrt(math.Pow(1+e, 1+e)*math.Pow(1-e, 1-e)),
		// The conformal latitude and its inverse are the Transverse Mercator's.
		tm: newTransverseMercator(ell, tmParams{k0: 1}),
	}
}

func (p *polarStereographic) side() float64 {
	if p.north {
		return 1
	}
	return -1
}

// forward projects. Latitudes on the far side of the equator are refused.
func (p *polarStereographic) forward(latRad, lonRad float64) (point, error) {
	side := p.side()
	lat := side * latRad
	if lat < 0 {
		return point{}, outsideSeries(90-lat*180/math.Pi, "degrees from the pole", 90)
	}
	delta := wrapLon(lonRad - p.lon0Rad)
	sinLat, cosLat := math.Sincos(lat)
	c := p.tm.conformal(sinLat, cosLat)
	t := 1 / (c.tau + c.sec)
	if lat >= math.Pi/2 {
		t = 0
	}
	rho := p.k0 * p.rhoFactor * t
	sinD, cosD := math.Sincos(delta)
	return point{
		e:       p.falseE + rho*sinD,
		n:       p.falseN - side*rho*cosD,
		convRad: side * delta,
		scale:   p.scaleAt(rho, sinLat, cosLat),
	}, nil
}

// scaleAt returns the point scale ρ/(ν·cos φ), and k0 at the pole.
func (p *polarStereographic) scaleAt(rho, sinLat, cosLat float64) float64 {
	if cosLat < 1e-12 {
		return p.k0
	}
	return rho / (p.a * cosLat) * math.Sqrt(1-p.e2*sinLat*sinLat)
}

// inverse unprojects. At the pole itself the longitude is the central one.
func (p *polarStereographic) inverse(e, n float64) (spot, error) {
	side := p.side()
	dE, dN := e-p.falseE, n-p.falseN
	rho := math.Hypot(dE, dN)
	t := rho / (p.k0 * p.rhoFactor)
	if t > 1+1e-12 {
		return spot{}, outsideSeries(rho/1000, "km from the pole", p.k0*p.rhoFactor/1000)
	}
	if rho == 0 {
		return spot{latRad: side * math.Pi / 2, lonRad: p.lon0Rad, scale: p.k0}, nil
	}
	delta := math.Atan2(dE, -side*dN)
	tau := p.tm.geodeticTau((1/t - t) / 2)
	lat := math.Atan(tau)
	sinLat, cosLat := math.Sincos(lat)
	return spot{
		latRad: side * lat, lonRad: wrapLon(p.lon0Rad + delta),
		convRad: side * delta, scale: p.scaleAt(rho, sinLat, cosLat),
	}, nil
}
