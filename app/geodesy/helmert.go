package geodesy

import "math"

// helmert is a seven-parameter geocentric transformation from the grid's own
// datum to WGS 84, in the position vector convention (IOGP 373-7-2, method
// 9606): translations in metres, rotations in radians, scale as 1 + ppm.
type helmert struct {
	name       string
	sigmaM     float64
	tx, ty, tz float64
	rx, ry, rz float64
	scale      float64
	reversed   bool // the parameters were published from WGS 84 to the grid's datum
}

const arcsecond = math.Pi / (180 * 3600)

// osHelmert returns the transformation of the Ordnance Survey's guide, section
// 6.6, published from WGS 84 to OSGB36 and good to about 3.5 m (95%); per axis
// that is 3.5/2.45 m.
func osHelmert() *helmert {
	return &helmert{
		name: "seven-parameter shift (Ordnance Survey guide)", sigmaM: 1.5,
		tx: -446.448, ty: 125.157, tz: -542.060,
		rx: -0.1502 * arcsecond, ry: -0.2470 * arcsecond, rz: -0.8421 * arcsecond,
		scale: 1 + 20.4894e-6, reversed: true,
	}
}

// irelandHelmert returns the transformation from the 1975 Mapping Adjustment
// to ETRS89 published by the surveys of Ireland and Northern Ireland (EPSG
// 1953 and 1954, position vector), stated there as good to 1 m.
func irelandHelmert() *helmert {
	return &helmert{
		name: "seven-parameter shift (Ordnance Survey Ireland)", sigmaM: 0.7,
		tx: 482.5, ty: -130.6, tz: 564.6,
		rx: -1.042 * arcsecond, ry: -0.214 * arcsecond, rz: -0.631 * arcsecond,
		scale: 1 + 8.15e-6,
	}
}

// translation returns a shift by three lengths alone.
func translation(name string, sigmaM, tx, ty, tz float64) *helmert {
	return &helmert{name: name, sigmaM: sigmaM, tx: tx, ty: ty, tz: tz, scale: 1}
}

// belgianHelmert returns EPSG 15929 (IGN Belgium), published in the coordinate
// frame convention and as good to 1 m; the signs of the rotations are turned.
func belgianHelmert() *helmert {
	return &helmert{
		name: "seven-parameter shift (IGN Belgium)", sigmaM: 0.5,
		tx: -106.8686, ty: 52.2978, tz: -103.7239,
		rx: 0.3366 * arcsecond, ry: -0.457 * arcsecond, rz: 1.8422 * arcsecond,
		scale: 1 - 1.2747e-6,
	}
}

// germanHelmert returns EPSG 1777, for all of the western states, published
// as good to 3 m.
func germanHelmert() *helmert {
	return &helmert{
		name: "seven-parameter shift (BKG, western Germany)", sigmaM: 1.5,
		tx: 598.1, ty: 73.7, tz: 418.2,
		rx: 0.202 * arcsecond, ry: 0.045 * arcsecond, rz: -2.455 * arcsecond,
		scale: 1 + 6.7e-6,
	}
}

// swissShift returns the three lengths that swisstopo fixes between CH1903+
// and ETRS89 (EPSG 1676). LV03 has strains of up to 1.6 m beside it (EPSG
// 1766, good to 1.5 m).
func swissShift(sigmaM float64) *helmert {
	return translation("three-parameter shift (swisstopo)", sigmaM, 674.374, 15.056, 405.346)
}

func (h *helmert) shift() Shift { return Shift{Name: h.name, SigmaM: h.sigmaM} }

// apply goes in the published direction.
func (h *helmert) apply(p xyz) xyz {
	return xyz{
		x: h.tx + h.scale*(p.x-h.rz*p.y+h.ry*p.z),
		y: h.ty + h.scale*(h.rz*p.x+p.y-h.rx*p.z),
		z: h.tz + h.scale*(-h.ry*p.x+h.rx*p.y+p.z),
	}
}

// undo goes against the published direction, exactly: the transpose stands in
// for the inverse matrix and is corrected until it closes, which it does to a
// nanometre in three rounds for rotations of seconds.
func (h *helmert) undo(p xyz) xyz {
	q := p
	for range 4 {
		r := h.apply(q)
		q = xyz{q.x + p.x - r.x, q.y + p.y - r.y, q.z + p.z - r.z}
	}
	return q
}

func (h *helmert) ownToWGS(p xyz) xyz {
	if h.reversed {
		return h.undo(p)
	}
	return h.apply(p)
}

func (h *helmert) wgsToOwn(p xyz) xyz {
	if h.reversed {
		return h.apply(p)
	}
	return h.undo(p)
}

func (h *helmert) fromWGS84(p plane, ll LatLon) (Grid, Factors, Shift, error) {
	own, _ := p.ellipsoid.geographic(h.wgsToOwn(WGS84().geocentric(ll, 0)))
	g, f, err := p.project(own)
	return g, f, h.shift(), err
}

// toWGS84 looks for the place whose WGS 84 height is zero, so that it undoes
// fromWGS84.
func (h *helmert) toWGS84(p plane, g Grid) (LatLon, Shift, error) {
	own, _, err := p.unproject(g)
	if err != nil {
		return LatLon{}, Shift{}, err
	}
	wgs, height := LatLon{}, 0.0
	for range 3 {
		var up float64
		wgs, up = WGS84().geographic(h.ownToWGS(p.ellipsoid.geocentric(own, height)))
		height -= up
	}
	return wgs, h.shift(), nil
}
