package geomag

import "math"

// Vector is the field in the directions of a geodetic site, in nT.
type Vector struct{ NorthNT, EastNT, DownNT float64 }

// Evaluator is one model at one date. It is immutable, except for Reset.
type Evaluator struct {
	model *Model
	year  float64
	table [terms]term
}

// At returns the model at a decimal year. The error is a *OutsideModel.
func (m *Model) At(year float64) (*Evaluator, error) {
	e := new(Evaluator)
	if err := e.Reset(m, year); err != nil {
		return nil, err
	}
	return e, nil
}

// Reset makes e the evaluator of a model and a decimal year without allocating. Only its
// sole user may call it: an Evaluator is immutable otherwise. The error is a
// *OutsideModel; e is then unchanged.
func (e *Evaluator) Reset(m *Model, year float64) error {
	if !m.holds(year) {
		return &OutsideModel{Year: year, From: m.from, To: m.to}
	}
	if e.model != m {
		e.model, e.table = m, m.main
	}
	e.year = year
	dt := year - m.epoch
	for i := range e.table {
		t, a, b := &e.table[i], &m.main[i], &m.yearly[i]
		t.g, t.h = a.g+dt*b.g, a.h+dt*b.h
		t.cg, t.ch = a.cg+dt*b.cg, a.ch+dt*b.ch
	}
	return nil
}

// Year returns the decimal year of the evaluator.
func (e *Evaluator) Year() float64 { return e.year }

// Model returns the model behind the evaluator.
func (e *Evaluator) Model() *Model { return e.model }

// Vector returns the field at a geodetic latitude and longitude on WGS 84 in
// radians and a height above the ellipsoid in metres. It checks nothing: NaN in
// gives NaN out, and the latitude must lie in ±π/2. Error bound: within 1e-8 nT
// of GeographicLib 2.1 with the same coefficients; the official test values of
// WMM2025 differ from both by up to 0.0008 nT in the north component alone.
//
// Source: spherical harmonic expansion of NOAA NCEI and BGS, The US/UK World
// Magnetic Model, section 1.2. The Legendre functions are Gauss-normalised and
// carry the powers of a/r; those of order m ≥ 1 are divided by the sine of the
// colatitude, so that nothing is singular at a pole, where north is the
// direction of the meridian given.
func (e *Evaluator) Vector(latRad, lonRad, heightM float64) Vector {
	sinLat, cosLat := math.Sincos(latRad)
	sinLon, cosLon := math.Sincos(lonRad)
	site := toGeocentric(sinLat, cosLat, heightM)
	radial, south, east := e.sum(site, sinLon, cosLon)
	north, down := -south, -radial
	// Turn from geocentric to geodetic directions by ψ = geocentric − geodetic.
	sinPsi := site.sin*cosLat - site.cos*sinLat
	cosPsi := site.cos*cosLat + site.sin*sinLat
	return Vector{
		NorthNT: north*cosPsi - down*sinPsi,
		EastNT:  east,
		DownNT:  north*sinPsi + down*cosPsi,
	}
}

// sum returns the geocentric components upwards, southwards and eastwards in
// nT. Column by column (order m) it needs three sums of each of g and h: with
// the functions, with n times them, and with the functions one degree below.
func (e *Evaluator) sum(s geocentric, sinLon, cosLon float64) (radial, south, east float64) {
	rho := referenceRadiusM / s.radiusM
	x, rho2 := s.sin*rho, rho*rho // cosθ · a/r
	radial, south = e.zonal(x, rho, s.cos)

	head := rho2 * rho     // column head divided by sinθ
	cosM, sinM := 1.0, 0.0 // of m·λ
	i := degree
	for m := 1; m <= degree; m++ {
		cosM, sinM = cosM*cosLon-sinM*sinLon, sinM*cosLon+cosM*sinLon
		q, below := head, 0.0
		var g0, h0, g1, h1, g2, h2 float64
		column := e.table[i : i+degree-m+1]
		for j := range column {
			t := &column[j]
			nq := t.n * q
			g0 += t.g * q
			h0 += t.h * q
			g1 += t.g * nq
			h1 += t.h * nq
			g2 += t.cg * q
			h2 += t.ch * q
			q, below = x*q-t.k*rho2*below, q
		}
		i += degree - m + 1
		radial += s.cos * ((g0+g1)*cosM + (h0+h1)*sinM)
		south -= (s.sin*g1-rho*g2)*cosM + (s.sin*h1-rho*h2)*sinM
		east += float64(m) * (g0*sinM - h0*cosM)
		head *= rho * s.cos
	}
	return radial, south, east
}

// zonal returns the parts of order 0 in the upward and southward components.
func (e *Evaluator) zonal(x, rho, sinTheta float64) (radial, south float64) {
	rho2 := rho * rho
	p, pBelow := x*rho2, rho2 // P(1,0), P(0,0)
	d, dBelow := rho2*rho, 0.0
	for _, t := range e.table[:degree] {
		radial += (t.n + 1) * t.g * p
		south += t.g * d
		d, dBelow = rho*p+x*d-t.k*rho2*dBelow, d
		p, pBelow = x*p-t.k*rho2*pBelow, p
	}
	return radial, south * sinTheta
}
