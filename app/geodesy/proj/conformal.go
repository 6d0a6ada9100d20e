package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// auxLat turns geodetic latitudes into conformal ones and back, on one
// ellipsoid. All conformal projections of this package share it.
type auxLat struct{ e2, oneLessE2, e float64 }

func newAuxLat(ell earth.Ellipsoid) auxLat {
	return auxLat{e2: ell.E2(), oneLessE2: 1 - ell.E2(), e: math.Sqrt(ell.E2())}
}

// primeVertical returns the radius of curvature across the meridian over the
// equatorial radius.
func (t auxLat) primeVertical(sinLat float64) float64 { return 1 / math.Sqrt(1-t.e2*sinLat*sinLat) }

// meridional returns the radius of curvature along the meridian over the
// equatorial radius.
func (t auxLat) meridional(sinLat float64) float64 {
	w := 1 - t.e2*sinLat*sinLat
	return t.oneLessE2 / (w * math.Sqrt(w))
}

// small returns t of IOGP 373-7-2, e to the power of minus the isometric
// latitude: 0 at the north pole, 1 at the equator, without bound at the south
// pole.
func (t auxLat) small(latRad float64) float64 {
	sinLat, cosLat := math.Sincos(latRad)
	if cosLat < 1e-16 && latRad > 0 {
		return 0
	}
	c := t.conformal(sinLat, cosLat)
	if c.tau < 0 {
		return c.sec - c.tau
	}
	return 1 / (c.sec + c.tau)
}

// latOf returns the geodetic latitude of t.
func (t auxLat) latOf(small float64) float64 {
	if small == 0 {
		return math.Pi / 2
	}
	return math.Atan(t.geodeticTau((1/small - small) / 2))
}

// isometric returns the isometric latitude.
func (t auxLat) isometric(latRad float64) float64 {
	return math.Asinh(t.conformal(math.Sincos(latRad)).tau)
}

// latOfIsometric returns the geodetic latitude of an isometric one.
func (t auxLat) latOfIsometric(psi float64) float64 { return math.Atan(t.geodeticTau(math.Sinh(psi))) }

// conformalLat is the conformal latitude: its tangent τ' and secant.
type conformalLat struct{ tau, sec float64 }

// conformal returns the conformal latitude of a geodetic one, Karney (2011)
// equations (7) to (9).
func (t auxLat) conformal(sinLat, cosLat float64) conformalLat {
	cosLat = math.Max(cosLat, 1e-17) // the pole itself
	tau, sec := sinLat/cosLat, 1/cosLat
	sigma := t.sinhEAtanhE(sinLat)
	tauC := tau*math.Sqrt(1+sigma*sigma) - sigma*sec
	return conformalLat{tau: tauC, sec: math.Sqrt(1 + tauC*tauC)}
}

// sinhEAtanhE returns sinh(e·atanh(e·s)) by its power series; e² is below
// 0.007 for every ellipsoid of the earth, so that the terms left out are below
// 1e-17.
func (t auxLat) sinhEAtanhE(s float64) float64 {
	q := t.e2 * s * s
	x := t.e2 * s * (1 + q*(1.0/3+q*(1.0/5+q*(1.0/7+q*(1.0/9+q*(1.0/11+q/13))))))
	x2 := x * x
	return x * (1 + x2*(1.0/6+x2*(1.0/120+x2/5040)))
}

// geodeticTau returns tan φ for a conformal tangent by Newton's method, Karney
// (2011) equations (19) to (21). It doubles its digits each time; three rounds
// reach rounding.
func (t auxLat) geodeticTau(tauC float64) float64 {
	tau := tauC / t.oneLessE2
	if math.Abs(tauC) > 1e8 {
		return tau
	}
	for range 3 {
		sec := math.Sqrt(1 + tau*tau)
		sigma := t.sinhEAtanhE(tau / sec)
		got := tau*math.Sqrt(1+sigma*sigma) - sigma*sec
		step := (tauC - got) / math.Sqrt(1+got*got) *
			(1 + t.oneLessE2*tau*tau) / (t.oneLessE2 * sec)
		tau += step
		if math.Abs(step) < 1e-15*sec {
			break
		}
	}
	return tau
}
