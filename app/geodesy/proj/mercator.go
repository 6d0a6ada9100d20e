package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// maxMercatorRad is how far from the equator the cylindrical projections are
// used.
const maxMercatorRad = 89 * math.Pi / 180

func withinMercator(latRad float64) error {
	if math.Abs(latRad) > maxMercatorRad {
		return outsideSeries(math.Abs(latRad)*180/math.Pi, "degrees from the equator", maxMercatorRad*180/math.Pi)
	}
	return nil
}

// Mercator is the Mercator projection of the ellipsoid (IOGP 373-7-2, methods
// 9804 and 9805), to rounding.
type Mercator struct {
	aux            auxLat
	lon0Rad        float64
	falseE, falseN float64
	k0, ak0        float64
}

// MercatorParams are degrees and metres; latTS is the latitude of true scale,
// with which k0 is 1.
type MercatorParams struct{ Lon0, LatTS, K0, FalseE, FalseN float64 }

// NewMercator returns the projection with these parameters on an ellipsoid.
func NewMercator(ell earth.Ellipsoid, p MercatorParams) *Mercator {
	aux := newAuxLat(ell)
	sinTS, cosTS := math.Sincos(p.LatTS * math.Pi / 180)
	k0 := p.K0 * cosTS * aux.primeVertical(sinTS)
	return &Mercator{
		aux: aux, lon0Rad: p.Lon0 * math.Pi / 180, falseE: p.FalseE, falseN: p.FalseN,
		k0: k0, ak0: ell.A * k0,
	}
}

// Forward implements Projection.
func (m *Mercator) Forward(latRad, lonRad float64) (Point, error) {
	if err := withinMercator(latRad); err != nil {
		return Point{}, err
	}
	return Point{
		E:     m.falseE + m.ak0*earth.WrapLon(lonRad-m.lon0Rad),
		N:     m.falseN + m.ak0*m.aux.isometric(latRad),
		Scale: m.scaleAt(latRad),
	}, nil
}

func (m *Mercator) scaleAt(latRad float64) float64 {
	sinLat, cosLat := math.Sincos(latRad)
	return m.k0 / (cosLat * m.aux.primeVertical(sinLat))
}

// Inverse implements Projection.
func (m *Mercator) Inverse(e, n float64) (Spot, error) {
	delta := (e - m.falseE) / m.ak0
	if err := withinTurn(delta); err != nil {
		return Spot{}, err
	}
	lat := m.aux.latOfIsometric(clamp((n-m.falseN)/m.ak0, 50))
	if err := withinMercator(lat); err != nil {
		return Spot{}, err
	}
	return Spot{LatRad: lat, LonRad: earth.WrapLon(m.lon0Rad + delta), Scale: m.scaleAt(lat)}, nil
}

// withinTurn refuses longitudes more than half a turn from the middle.
func withinTurn(deltaRad float64) error {
	if math.Abs(deltaRad) > math.Pi+1e-9 {
		return outsideSeries(math.Abs(deltaRad)*180/math.Pi, "degrees of longitude from the middle", 180)
	}
	return nil
}

func clamp(x, limit float64) float64 { return math.Max(-limit, math.Min(limit, x)) }
