package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// WebMercator draws geodetic latitudes with the Mercator formulas of a sphere
// of the equatorial radius (IOGP 373-7-2, method 1024). It is not conformal:
// lengths along the meridian and along the parallel grow by factors that
// differ by up to 0.7%, which turns directions by up to 0.2°.
type WebMercator struct {
	aux     auxLat
	a       float64
	Lon0Rad float64
	FalseE  float64
	FalseN  float64
}

// NewWebMercator returns the projection with a central meridian in degrees and a false
// origin in metres.
func NewWebMercator(ell earth.Ellipsoid, lon0Deg, falseE, falseN float64) *WebMercator {
	return &WebMercator{aux: newAuxLat(ell), a: ell.A, Lon0Rad: lon0Deg * math.Pi / 180, FalseE: falseE, FalseN: falseN}
}

// Forward implements Projection.
func (w *WebMercator) Forward(latRad, lonRad float64) (Point, error) {
	if err := withinMercator(latRad); err != nil {
		return Point{}, err
	}
	h, st := w.scales(latRad)
	return Point{
		E:     w.FalseE + w.a*earth.WrapLon(lonRad-w.Lon0Rad),
		N:     w.FalseN + w.a*math.Asinh(math.Tan(latRad)),
		Scale: h, stretch: st,
	}, nil
}

// scales returns the scale along the meridian, and the parallel's.
func (w *WebMercator) scales(latRad float64) (float64, stretch) {
	sinLat, cosLat := math.Sincos(latRad)
	return 1 / (cosLat * w.aux.meridional(sinLat)), stretch{parallel: 1 / (cosLat * w.aux.primeVertical(sinLat))}
}

// Inverse implements Projection.
func (w *WebMercator) Inverse(e, n float64) (Spot, error) {
	delta := (e - w.FalseE) / w.a
	if err := withinTurn(delta); err != nil {
		return Spot{}, err
	}
	lat := math.Atan(math.Sinh(clamp((n-w.FalseN)/w.a, 50)))
	if err := withinMercator(lat); err != nil {
		return Spot{}, err
	}
	h, st := w.scales(lat)
	return Spot{LatRad: lat, LonRad: earth.WrapLon(w.Lon0Rad + delta), Scale: h, stretch: st}, nil
}

// Equirectangular draws latitude and longitude as a square grid of degrees
// (IOGP 373-7-2, method 1029, on the sphere of the equatorial radius). Away from
// the equator it is far from conformal: at 60° a kilometre east is drawn twice as
// long as one north.
type Equirectangular struct {
	aux        auxLat
	a, lon0Rad float64
}

// NewEquirectangular returns the projection with a central meridian in degrees.
func NewEquirectangular(ell earth.Ellipsoid, lon0Deg float64) *Equirectangular {
	return &Equirectangular{aux: newAuxLat(ell), a: ell.A, lon0Rad: lon0Deg * math.Pi / 180}
}

// Forward implements Projection.
func (q *Equirectangular) Forward(latRad, lonRad float64) (Point, error) {
	h, st := q.scales(latRad)
	return Point{E: q.a * earth.WrapLon(lonRad-q.lon0Rad), N: q.a * latRad, Scale: h, stretch: st}, nil
}

func (q *Equirectangular) scales(latRad float64) (float64, stretch) {
	sinLat, cosLat := math.Sincos(latRad)
	return 1 / q.aux.meridional(sinLat), stretch{parallel: 1 / (math.Max(cosLat, 1e-17) * q.aux.primeVertical(sinLat))}
}

// Inverse implements Projection.
func (q *Equirectangular) Inverse(e, n float64) (Spot, error) {
	delta, lat := e/q.a, n/q.a
	if err := withinTurn(delta); err != nil {
		return Spot{}, err
	}
	if math.Abs(lat) > math.Pi/2+1e-12 {
		return Spot{}, outsideSeries(math.Abs(lat)*180/math.Pi, "degrees of latitude", 90)
	}
	h, st := q.scales(lat)
	return Spot{LatRad: clamp(lat, math.Pi/2), LonRad: earth.WrapLon(q.lon0Rad + delta), Scale: h, stretch: st}, nil
}
