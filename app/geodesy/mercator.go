package geodesy

import "math"

// maxMercatorRad is how far from the equator the cylindrical projections are
// used.
const maxMercatorRad = 89 * math.Pi / 180

func withinMercator(latRad float64) error {
	if math.Abs(latRad) > maxMercatorRad {
		return outsideSeries(math.Abs(latRad)*180/math.Pi, "degrees from the equator", maxMercatorRad*180/math.Pi)
	}
	return nil
}

// mercator is the Mercator projection of the ellipsoid (IOGP 373-7-2, methods
// 9804 and 9805), to rounding.
type mercator struct {
	aux            auxLat
	lon0Rad        float64
	falseE, falseN float64
	k0, ak0        float64
}

// mercatorParams are degrees and metres; latTS is the latitude of true scale,
// with which k0 is 1.
type mercatorParams struct{ lon0, latTS, k0, falseE, falseN float64 }

func newMercator(ell Ellipsoid, p mercatorParams) *mercator {
	aux := newAuxLat(ell)
	sinTS, cosTS := math.Sincos(p.latTS * math.Pi / 180)
	k0 := p.k0 * cosTS * aux.primeVertical(sinTS)
	return &mercator{
		aux: aux, lon0Rad: p.lon0 * math.Pi / 180, falseE: p.falseE, falseN: p.falseN,
		k0: k0, ak0: ell.A * k0,
	}
}

func (m *mercator) forward(latRad, lonRad float64) (point, error) {
	if err := withinMercator(latRad); err != nil {
		return point{}, err
	}
	return point{
		e:     m.falseE + m.ak0*wrapLon(lonRad-m.lon0Rad),
		n:     m.falseN + m.ak0*m.aux.isometric(latRad),
		scale: m.scaleAt(latRad),
	}, nil
}

func (m *mercator) scaleAt(latRad float64) float64 {
	sinLat, cosLat := math.Sincos(latRad)
	return m.k0 / (cosLat * m.aux.primeVertical(sinLat))
}

func (m *mercator) inverse(e, n float64) (spot, error) {
	delta := (e - m.falseE) / m.ak0
	if err := withinTurn(delta); err != nil {
		return spot{}, err
	}
	lat := m.aux.latOfIsometric(clamp((n-m.falseN)/m.ak0, 50))
	if err := withinMercator(lat); err != nil {
		return spot{}, err
	}
	return spot{latRad: lat, lonRad: wrapLon(m.lon0Rad + delta), scale: m.scaleAt(lat)}, nil
}

// withinTurn refuses longitudes more than half a turn from the middle.
func withinTurn(deltaRad float64) error {
	if math.Abs(deltaRad) > math.Pi+1e-9 {
		return outsideSeries(math.Abs(deltaRad)*180/math.Pi, "degrees of longitude from the middle", 180)
	}
	return nil
}

func clamp(x, limit float64) float64 { return math.Max(-limit, math.Min(limit, x)) }
