package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// tmOrder is the order of the Krüger series in the third flattening.
const tmOrder = 6

// tmMaxDeltaRad is how far from the central meridian the series is used.
// Against exact rows the error is 7 nm within 35°, 0.8 µm within 55°, 6 µm
// within 65° and 0.8 mm at this bound; beyond it grows without limit.
const tmMaxDeltaRad = 70 * math.Pi / 180

// TransverseMercator is the ellipsoidal Transverse Mercator by Krüger's series
// of order 6, as given by Karney, "Transverse Mercator with an accuracy of a
// few nanometers", Journal of Geodesy 85 (2011), arXiv:1002.1417, equations
// (7)–(12) forward, (19)–(27) convergence and scale, (35) and (36) the
// coefficients. Its constants are worked out once for each grid.
type TransverseMercator struct {
	From           TMParams
	lon0Rad        float64
	falseE, falseN float64
	northing0      float64 // k0·A·ξ of the latitude of origin, metres
	k0             float64
	k0A            float64 // k0 times the rectifying radius A, metres
	k0AOverA       float64 // the same over the equatorial radius
	auxLat
	alpha, beta [tmOrder + 1]float64 // 1-based
}

// TMParams are the defining parameters of a Transverse Mercator grid, degrees and
// metres.
type TMParams struct {
	Lat0, Lon0, K0, FalseE, FalseN float64
}

// NewTransverseMercator returns the projection with these parameters on an ellipsoid.
func NewTransverseMercator(ell earth.Ellipsoid, p TMParams) *TransverseMercator {
	n := ell.N()
	n2 := n * n
	radius := ell.A / (1 + n) * (1 + n2*(1.0/4+n2*(1.0/64+n2/256)))
	t := &TransverseMercator{
		From: p, lon0Rad: p.Lon0 * math.Pi / 180, falseE: p.FalseE, falseN: p.FalseN,
		k0: p.K0, k0A: p.K0 * radius, k0AOverA: p.K0 * radius / ell.A,
		auxLat: newAuxLat(ell), alpha: kruegerAlpha(n), beta: kruegerBeta(n),
	}
	if p.Lat0 != 0 {
		origin, err := t.Forward(p.Lat0*math.Pi/180, t.lon0Rad)
		if err != nil {
			panic("geodesy: latitude of origin: " + err.Error())
		}
		t.northing0 = origin.N - t.falseN
	}
	return t
}

// kruegerAlpha returns the coefficients of Karney (2011) equation (35), cut at
// order 6.
func kruegerAlpha(n float64) [tmOrder + 1]float64 {
	return [tmOrder + 1]float64{
		1: n * (1.0/2 + n*(-2.0/3+n*(5.0/16+n*(41.0/180+n*(-127.0/288+n*7891.0/37800))))),
		2: n * n * (13.0/48 + n*(-3.0/5+n*(557.0/1440+n*(281.0/630-n*1983433.0/1935360)))),
		3: n * n * n * (61.0/240 + n*(-103.0/140+n*(15061.0/26880+n*167603.0/181440))),
		4: n * n * n * n * (49561.0/161280 + n*(-179.0/168+n*6601661.0/7257600)),
		5: n * n * n * n * n * (34729.0/80640 - n*3418889.0/1995840),
		6: n * n * n * n * n * n * 212378941.0 / 319334400,
	}
}

// kruegerBeta returns the coefficients of Karney (2011) equation (36), cut at
// order 6.
func kruegerBeta(n float64) [tmOrder + 1]float64 {
	return [tmOrder + 1]float64{
		1: n * (1.0/2 + n*(-2.0/3+n*(37.0/96+n*(-1.0/360+n*(-81.0/512+n*96199.0/604800))))),
		2: n * n * (1.0/48 + n*(1.0/15+n*(-437.0/1440+n*(46.0/105-n*1118711.0/3870720)))),
		3: n * n * n * (17.0/480 + n*(-37.0/840+n*(-209.0/4480+n*5569.0/90720))),
		4: n * n * n * n * (4397.0/161280 + n*(-11.0/504-n*830251.0/7257600)),
		5: n * n * n * n * n * (4583.0/161280 - n*108847.0/3991680),
		6: n * n * n * n * n * n * 20648693.0 / 638668800,
	}
}

// Forward projects. The result is good to 1 µm within 55° of the central
// meridian and to 1 mm within tmMaxDeltaRad, beyond which it is refused.
func (t *TransverseMercator) Forward(latRad, lonRad float64) (Point, error) {
	delta := earth.WrapLon(lonRad - t.lon0Rad)
	if math.Abs(delta) > tmMaxDeltaRad+1e-12 {
		return Point{}, outsideSeries(math.Abs(delta)*180/math.Pi, "degrees of longitude from the central meridian",
			tmMaxDeltaRad*180/math.Pi)
	}
	sinLat, cosLat := math.Sincos(latRad)
	sinD, cosD := math.Sincos(delta)
	c := t.conformal(sinLat, cosLat)

	h2 := c.tau*c.tau + cosD*cosD
	h := math.Sqrt(h2)
	xi := math.Atan2(c.tau, cosD)
	eta := math.Asinh(sinD / h)
	// sin and cos of 2ξ', sinh and cosh of 2η' without calling them again:
	// tan ξ' = τ'/cos λ and sinh η' = sin λ/h.
	sinXi, cosXi, sinhEta := c.tau/h, cosD/h, sinD/h
	coshEta := math.Sqrt(1 + sinhEta*sinhEta)
	s := kruegerSum(&t.alpha, +1, 2*sinXi*cosXi, (cosXi-sinXi)*(cosXi+sinXi),
		2*sinhEta*coshEta, 1+2*sinhEta*sinhEta)

	return Point{
		E: t.falseE + t.k0A*(eta+s.eta),
		N: t.falseN + t.k0A*(xi+s.xi) - t.northing0,
		// γ = atan(τ'·tan λ/√(1+τ'²)) less the turn of the series itself
		ConvRad: math.Atan2(sinD*c.tau, cosD*c.sec) - math.Atan2(s.q, s.p),
		Scale:   t.k0AOverA * math.Sqrt(1-t.e2*sinLat*sinLat) / cosLat / h * math.Hypot(s.p, s.q),
	}, nil
}

// seriesSum is a Krüger sum and its derivative p + i·q.
type seriesSum struct{ xi, eta, p, q float64 }

// kruegerSum evaluates Σ c_j·sin(2jζ) and 1 + Σ 2j·c_j·cos(2jζ) for complex
// ζ = ξ + iη by Clenshaw's rule; sign −1 takes the coefficients negative. The
// arguments are sin 2ξ, cos 2ξ, sinh 2η and cosh 2η.
func kruegerSum(c *[tmOrder + 1]float64, sign, s, co, sh, ch float64) seriesSum {
	// z = 2·cos 2ζ
	zr, zi := 2*co*ch, -2*s*sh
	var ar, ai, br, bi float64 // Clenshaw terms of the sum
	var cr, ci, dr, di float64 // and of its derivative
	for j := tmOrder; j >= 1; j-- {
		k := c[j] * sign
		ar, ai, br, bi = zr*ar-zi*ai-br+k, zr*ai+zi*ar-bi, ar, ai
		k *= 2 * float64(j)
		cr, ci, dr, di = zr*cr-zi*ci-dr+k, zr*ci+zi*cr-di, cr, ci
	}
	// sum: sin 2ζ times a; derivative: 1 − d + ½·z·c
	sr, si := s*ch, co*sh
	return seriesSum{
		xi:  sr*ar - si*ai,
		eta: sr*ai + si*ar,
		p:   1 - dr + 0.5*(zr*cr-zi*ci),
		q:   -di + 0.5*(zr*ci+zi*cr),
	}
}

// Inverse unprojects with the same accuracy and domain as forward.
func (t *TransverseMercator) Inverse(e, n float64) (Spot, error) {
	xi := (n - t.falseN + t.northing0) / t.k0A
	eta := (e - t.falseE) / t.k0A
	if err := t.within(xi, eta); err != nil {
		return Spot{}, err
	}
	s2, c2 := math.Sincos(2 * xi)
	sh, ch := math.Sinh(2*eta), math.Cosh(2*eta)
	s := kruegerSum(&t.beta, -1, s2, c2, sh, ch)
	xiC, etaC := xi+s.xi, eta+s.eta

	sinXi, cosXi := math.Sincos(xiC)
	sinhEta := math.Sinh(etaC)
	cosXi = math.Max(cosXi, 0)
	r := math.Hypot(sinhEta, cosXi)
	if r == 0 {
		return Spot{LatRad: math.Copysign(math.Pi/2, sinXi), LonRad: t.lon0Rad, Scale: t.k0}, nil
	}
	tauC := sinXi / r
	delta := math.Atan2(sinhEta, cosXi)
	if math.Abs(delta) > tmMaxDeltaRad+1e-9 {
		return Spot{}, outsideSeries(math.Abs(delta)*180/math.Pi, "degrees of longitude from the central meridian",
			tmMaxDeltaRad*180/math.Pi)
	}
	tau := t.geodeticTau(tauC)
	sec2 := 1 + tau*tau
	sin2 := tau * tau / sec2
	return Spot{
		LatRad:  math.Atan(tau),
		LonRad:  earth.WrapLon(t.lon0Rad + delta),
		ConvRad: math.Atan(math.Tan(xiC)*math.Tanh(etaC)) + math.Atan2(s.q, s.p),
		Scale:   t.k0AOverA * math.Sqrt((1-t.e2*sin2)*sec2) * r / math.Hypot(s.p, s.q),
	}, nil
}

// within refuses coordinates too far out for the inverse.
func (t *TransverseMercator) within(xi, eta float64) error {
	switch {
	case math.Abs(eta) > tmMaxEta:
		return outsideSeries(math.Abs(eta)*t.k0A/1000, "km from the central meridian", tmMaxEta*t.k0A/1000)
	case math.Abs(xi) > math.Pi/2+1e-9:
		return outsideSeries(math.Abs(xi)*t.k0A/1000, "km from the equator", math.Pi/2*t.k0A/1000)
	}
	return nil
}

// tmMaxEta bounds η where the inverse is tried at all; it covers
// tmMaxDeltaRad at the equator.
const tmMaxEta = 1.8

// UTMParams are the parameters of a zone (NGA.SIG.0012, section 7).
func UTMParams(zone int, north bool) TMParams {
	p := TMParams{Lon0: float64(6*zone - 183), K0: 0.9996, FalseE: 500000}
	if !north {
		p.FalseN = 10000000
	}
	return p
}
