package proj

import (
	"math"

	"legwright/app/geodesy/earth"
)

// LambertConic is the Lambert conformal conic projection with one or two
// standard parallels (IOGP 373-7-2, methods 9801 and 9802; Snyder, Map
// Projections: A Working Manual, USGS 1987, section 15). Its errors are those
// of rounding, some nanometres. It is refused within 10° of the pole that lies
// away from the standard parallels, where lengths grow without bound.
type LambertConic struct {
	From           ConicParams
	aux            auxLat
	lon0Rad        float64
	falseE, falseN float64
	a              float64
	n              float64 // cone constant; negative for southern cones
	aF             float64 // a·F·k0, metres
	r0             float64 // radius of the latitude of the false origin, metres
}

// ConicParams are the defining parameters of a Lambert conic, degrees and metres.
// With one parallel lat1 and lat2 are the same, and k0 is the scale there.
type ConicParams struct {
	Lat0, Lon0, Lat1, Lat2, K0, FalseE, FalseN float64
}

// conicLimitRad is how near to the far pole the conic is used.
const conicLimitRad = 80 * math.Pi / 180

// NewLambertConic returns the projection with these parameters on an ellipsoid.
func NewLambertConic(ell earth.Ellipsoid, p ConicParams) *LambertConic {
	aux := newAuxLat(ell)
	lat1, lat2 := p.Lat1*math.Pi/180, p.Lat2*math.Pi/180
	m := func(lat float64) float64 { return math.Cos(lat) * aux.primeVertical(math.Sin(lat)) }
	c := &LambertConic{
		From: p, aux: aux, lon0Rad: p.Lon0 * math.Pi / 180, falseE: p.FalseE, falseN: p.FalseN,
		a: ell.A, n: math.Sin(lat1),
	}
	if math.Abs(lat1-lat2) > 1e-10 {
		c.n = (math.Log(m(lat1)) - math.Log(m(lat2))) / (math.Log(aux.small(lat1)) - math.Log(aux.small(lat2)))
	}
	c.aF = ell.A * p.K0 * m(lat1) / (c.n * math.Pow(aux.small(lat1), c.n))
	c.r0 = c.radius(p.Lat0 * math.Pi / 180)
	return c
}

// radius returns the radius of a parallel in metres; it has the sign of n.
func (c *LambertConic) radius(latRad float64) float64 {
	t := c.aux.small(latRad)
	if c.n < 0 && latRad <= -math.Pi/2+1e-16 {
		return 0
	}
	return c.aF * math.Pow(t, c.n)
}

// Forward implements Projection.
func (c *LambertConic) Forward(latRad, lonRad float64) (Point, error) {
	if err := c.within(latRad); err != nil {
		return Point{}, err
	}
	theta := c.n * earth.WrapLon(lonRad-c.lon0Rad)
	r := c.radius(latRad)
	sin, cos := math.Sincos(theta)
	return Point{
		E: c.falseE + r*sin, N: c.falseN + c.r0 - r*cos,
		ConvRad: theta, Scale: c.scaleAt(latRad, r),
	}, nil
}

func (c *LambertConic) within(latRad float64) error {
	if away := -latRad * sign(c.n); away > conicLimitRad {
		return outsideSeries(away*180/math.Pi, "degrees of latitude on the far side of the equator", conicLimitRad*180/math.Pi)
	}
	return nil
}

// scaleAt returns r·n/(a·m).
func (c *LambertConic) scaleAt(latRad, r float64) float64 {
	sinLat, cosLat := math.Sincos(latRad)
	return r * c.n / (c.a * math.Max(cosLat, 1e-17) * c.aux.primeVertical(sinLat))
}

// Inverse implements Projection.
func (c *LambertConic) Inverse(e, n float64) (Spot, error) {
	s := sign(c.n)
	dE, dN := s*(e-c.falseE), s*(c.r0-(n-c.falseN))
	r := s * math.Hypot(dE, dN)
	theta := math.Atan2(dE, dN)
	if math.Abs(theta) > math.Pi*math.Abs(c.n)+1e-12 {
		return Spot{}, outsideSeries(math.Abs(theta/c.n)*180/math.Pi, "degrees of longitude from the central meridian", 180)
	}
	lat := c.aux.latOf(math.Pow(r/c.aF, 1/c.n))
	if r == 0 {
		lat = s * math.Pi / 2
	}
	if err := c.within(lat); err != nil {
		return Spot{}, err
	}
	return Spot{
		LatRad: lat, LonRad: earth.WrapLon(c.lon0Rad + theta/c.n),
		ConvRad: theta, Scale: c.scaleAt(lat, r),
	}, nil
}

func sign(x float64) float64 { return math.Copysign(1, x) }
