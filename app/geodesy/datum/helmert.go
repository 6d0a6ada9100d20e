package datum

import (
	"math"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// Helmert is a seven-parameter geocentric transformation from the grid's own
// datum to WGS 84, in the position vector convention (IOGP 373-7-2, method
// 9606): translations in metres, rotations in radians, scale as 1 + ppm.
type Helmert struct {
	name       string
	sigmaM     float64
	tx, ty, tz float64
	rx, ry, rz float64
	scale      float64
	reversed   bool // the parameters were published from WGS 84 to the grid's datum
}

const Arcsecond = math.Pi / (180 * 3600)

// OSHelmert returns the transformation of the Ordnance Survey's guide, section
// 6.6, published from WGS 84 to OSGB36 and good to about 3.5 m (95%); per axis
// that is 3.5/2.45 m.
func OSHelmert() *Helmert {
	return &Helmert{
		name: "seven-parameter shift (Ordnance Survey guide)", sigmaM: 1.5,
		tx: -446.448, ty: 125.157, tz: -542.060,
		rx: -0.1502 * Arcsecond, ry: -0.2470 * Arcsecond, rz: -0.8421 * Arcsecond,
		scale: 1 + 20.4894e-6, reversed: true,
	}
}

// IrelandHelmert returns the transformation from the 1975 Mapping Adjustment
// to ETRS89 published by the surveys of Ireland and Northern Ireland (EPSG
// 1953 and 1954, position vector), stated there as good to 1 m.
func IrelandHelmert() *Helmert {
	return &Helmert{
		name: "seven-parameter shift (Ordnance Survey Ireland)", sigmaM: 0.7,
		tx: 482.5, ty: -130.6, tz: 564.6,
		rx: -1.042 * Arcsecond, ry: -0.214 * Arcsecond, rz: -0.631 * Arcsecond,
		scale: 1 + 8.15e-6,
	}
}

// Translation returns a shift by three lengths alone.
func Translation(name string, sigmaM, tx, ty, tz float64) *Helmert {
	return &Helmert{name: name, sigmaM: sigmaM, tx: tx, ty: ty, tz: tz, scale: 1}
}

// BelgianHelmert returns EPSG 15929 (IGN Belgium), published in the coordinate
// frame convention and as good to 1 m; the signs of the rotations are turned.
func BelgianHelmert() *Helmert {
	return &Helmert{
		name: "seven-parameter shift (IGN Belgium)", sigmaM: 0.5,
		tx: -106.8686, ty: 52.2978, tz: -103.7239,
		rx: 0.3366 * Arcsecond, ry: -0.457 * Arcsecond, rz: 1.8422 * Arcsecond,
		scale: 1 - 1.2747e-6,
	}
}

// GermanHelmert returns EPSG 1777, for all of the western states, published
// as good to 3 m.
func GermanHelmert() *Helmert {
	return &Helmert{
		name: "seven-parameter shift (BKG, western Germany)", sigmaM: 1.5,
		tx: 598.1, ty: 73.7, tz: 418.2,
		rx: 0.202 * Arcsecond, ry: 0.045 * Arcsecond, rz: -2.455 * Arcsecond,
		scale: 1 + 6.7e-6,
	}
}

// SwissShift returns the three lengths that swisstopo fixes between CH1903+
// and ETRS89 (EPSG 1676). LV03 has strains of up to 1.6 m beside it (EPSG
// 1766, good to 1.5 m).
func SwissShift(sigmaM float64) *Helmert {
	return Translation("three-parameter shift (swisstopo)", sigmaM, 674.374, 15.056, 405.346)
}

func (h *Helmert) shift() Shift { return Shift{Name: h.name, SigmaM: h.sigmaM} }

// apply transforms in the published direction.
func (h *Helmert) apply(p earth.XYZ) earth.XYZ {
	return earth.XYZ{
		X: h.tx + h.scale*(p.X-h.rz*p.Y+h.ry*p.Z),
		Y: h.ty + h.scale*(h.rz*p.X+p.Y-h.rx*p.Z),
		Z: h.tz + h.scale*(-h.ry*p.X+h.rx*p.Y+p.Z),
	}
}

// undo transforms against the published direction, exactly: it corrects an estimate until
// apply gives p, to a nanometre after three rounds for rotations of seconds of arc.
func (h *Helmert) undo(p earth.XYZ) earth.XYZ {
	q := p
	for range 4 {
		r := h.apply(q)
		q = earth.XYZ{X: q.X + p.X - r.X, Y: q.Y + p.Y - r.Y, Z: q.Z + p.Z - r.Z}
	}
	return q
}

func (h *Helmert) ownToWGS(p earth.XYZ) earth.XYZ {
	if h.reversed {
		return h.undo(p)
	}
	return h.apply(p)
}

func (h *Helmert) wgsToOwn(p earth.XYZ) earth.XYZ {
	if h.reversed {
		return h.apply(p)
	}
	return h.undo(p)
}

// FromWGS84 implements Datum.
func (h *Helmert) FromWGS84(p proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error) {
	own, _ := p.Ellipsoid.Geographic(h.wgsToOwn(earth.WGS84().Geocentric(ll, 0)))
	g, f, err := p.Project(own)
	return g, f, h.shift(), err
}

// ToWGS84 looks for the position whose WGS 84 height is zero, so that it undoes
// fromWGS84.
func (h *Helmert) ToWGS84(p proj.Plane, g earth.Grid) (earth.LatLon, Shift, error) {
	own, _, err := p.Unproject(g)
	if err != nil {
		return earth.LatLon{}, Shift{}, err
	}
	wgs, height := earth.LatLon{}, 0.0
	for range 3 {
		var up float64
		wgs, up = earth.WGS84().Geographic(h.ownToWGS(p.Ellipsoid.Geocentric(own, height)))
		height -= up
	}
	return wgs, h.shift(), nil
}
