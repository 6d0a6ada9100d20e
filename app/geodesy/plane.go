package geodesy

import "math"

// webMercator draws geodetic latitudes with the Mercator formulas of a sphere
// of the equatorial radius (IOGP 373-7-2, method 1024). It is not conformal:
// lengths along the meridian and along the parallel grow by factors that
// differ by up to 0.7%, which turns directions by up to 0.2°.
type webMercator struct {
	aux     auxLat
	a       float64
	lon0Rad float64
	falseE  float64
	falseN  float64
}

func newWebMercator(ell Ellipsoid, lon0Deg, falseE, falseN float64) *webMercator {
	return &webMercator{aux: newAuxLat(ell), a: ell.A, lon0Rad: lon0Deg * math.Pi / 180, falseE: falseE, falseN: falseN}
}

func (w *webMercator) forward(latRad, lonRad float64) (point, error) {
	if err := withinMercator(latRad); err != nil {
		return point{}, err
	}
	h, st := w.scales(latRad)
	return point{
		e:     w.falseE + w.a*wrapLon(lonRad-w.lon0Rad),
		n:     w.falseN + w.a*math.Asinh(math.Tan(latRad)),
		scale: h, stretch: st,
	}, nil
}

// scales returns the scale along the meridian, and the parallel's.
func (w *webMercator) scales(latRad float64) (float64, stretch) {
	sinLat, cosLat := math.Sincos(latRad)
	return 1 / (cosLat * w.aux.meridional(sinLat)), stretch{parallel: 1 / (cosLat * w.aux.primeVertical(sinLat))}
}

func (w *webMercator) inverse(e, n float64) (spot, error) {
	delta := (e - w.falseE) / w.a
	if err := withinTurn(delta); err != nil {
		return spot{}, err
	}
	lat := math.Atan(math.Sinh(clamp((n-w.falseN)/w.a, 50)))
	if err := withinMercator(lat); err != nil {
		return spot{}, err
	}
	h, st := w.scales(lat)
	return spot{latRad: lat, lonRad: wrapLon(w.lon0Rad + delta), scale: h, stretch: st}, nil
}

// equirectangular draws latitude and longitude as a square grid of degrees
// (IOGP 373-7-2, method 1029, on the sphere of the equatorial radius). Away from
// the equator it is far from conformal: at 60° a kilometre east is drawn twice as
// long as one north.
type equirectangular struct {
	aux        auxLat
	a, lon0Rad float64
}

func newEquirectangular(ell Ellipsoid, lon0Deg float64) *equirectangular {
	return &equirectangular{aux: newAuxLat(ell), a: ell.A, lon0Rad: lon0Deg * math.Pi / 180}
}

func (q *equirectangular) forward(latRad, lonRad float64) (point, error) {
	h, st := q.scales(latRad)
	return point{e: q.a * wrapLon(lonRad-q.lon0Rad), n: q.a * latRad, scale: h, stretch: st}, nil
}

func (q *equirectangular) scales(latRad float64) (float64, stretch) {
	sinLat, cosLat := math.Sincos(latRad)
	return 1 / q.aux.meridional(sinLat), stretch{parallel: 1 / (math.Max(cosLat, 1e-17) * q.aux.primeVertical(sinLat))}
}

func (q *equirectangular) inverse(e, n float64) (spot, error) {
	delta, lat := e/q.a, n/q.a
	if err := withinTurn(delta); err != nil {
		return spot{}, err
	}
	if math.Abs(lat) > math.Pi/2+1e-12 {
		return spot{}, outsideSeries(math.Abs(lat)*180/math.Pi, "degrees of latitude", 90)
	}
	h, st := q.scales(lat)
	return spot{latRad: clamp(lat, math.Pi/2), lonRad: wrapLon(q.lon0Rad + delta), scale: h, stretch: st}, nil
}
