package geodesy

import "math"

// polarStereographic is the polar stereographic projection of variants A and B
// (IOGP 373-7-2, methods 9810 and 9829) with its centre at a pole, as used by
// UPS. It holds on the whole hemisphere of its pole.
type polarStereographic struct {
	from           polarParams
	north          bool
	lon0Rad        float64
	k0             float64
	falseE, falseN float64
	a              float64
	rhoFactor      float64 // ρ ÷ t in metres, before k0
	aux            auxLat
}

// polarParams are degrees and metres; k0 is the scale at the pole.
type polarParams struct {
	north                    bool
	lon0, k0, falseE, falseN float64
}

// upsParams are the figures of UPS (NGA.SIG.0012, section 8).
func upsParams(north bool) polarParams {
	return polarParams{north: north, k0: 0.994, falseE: 2e6, falseN: 2e6}
}

func newPolarStereographic(ell Ellipsoid, p polarParams) *polarStereographic {
	return &polarStereographic{
		from: p, north: p.north, lon0Rad: p.lon0 * math.Pi / 180, k0: p.k0, falseE: p.falseE, falseN: p.falseN,
		a: ell.A, rhoFactor: polarFactor(ell), aux: newAuxLat(ell),
	}
}

// polarFactor is ρ ÷ t at the scale 1.
func polarFactor(ell Ellipsoid) float64 {
	e := math.Sqrt(ell.E2())
	return 2 * ell.A / math.Sqrt(math.Pow(1+e, 1+e)*math.Pow(1-e, 1-e))
}

// polarScale returns the scale at the pole that makes the parallel of true
// scale, in degrees towards the pole, have the scale 1 (variant B).
func polarScale(ell Ellipsoid, latTSDeg float64) float64 {
	lat := math.Abs(latTSDeg) * math.Pi / 180
	if lat >= math.Pi/2-1e-12 {
		return 1
	}
	aux := newAuxLat(ell)
	return ell.A * math.Cos(lat) * aux.primeVertical(math.Sin(lat)) / (polarFactor(ell) * aux.small(lat))
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
	rho := 0.0
	if lat < math.Pi/2 {
		rho = p.k0 * p.rhoFactor * p.aux.small(lat)
	}
	sinD, cosD := math.Sincos(delta)
	return point{
		e:       p.falseE + rho*sinD,
		n:       p.falseN - side*rho*cosD,
		convRad: side * delta,
		scale:   p.scaleAt(rho, lat),
	}, nil
}

// scaleAt returns the point scale ρ/(ν·cos φ), and k0 at the pole.
func (p *polarStereographic) scaleAt(rho, lat float64) float64 {
	sinLat, cosLat := math.Sincos(lat)
	if cosLat < 1e-12 {
		return p.k0
	}
	return rho / (p.a * cosLat * p.aux.primeVertical(sinLat))
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
	lat := p.aux.latOf(t)
	return spot{
		latRad: side * lat, lonRad: wrapLon(p.lon0Rad + delta),
		convRad: side * delta, scale: p.scaleAt(rho, lat),
	}, nil
}
