package proj

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy/earth"
)

// ErrOutsideSeries is wrapped by the error of a position so far from the middle of a
// projection that its formulas are no longer accurate.
var ErrOutsideSeries = errors.New("too far from the middle of the grid for its formulas")

// Point is what a projection yields: the grid coordinates in metres, the
// convergence in radians and the point scale along the meridian.
type Point struct {
	E, N, ConvRad, Scale float64
	stretch
}

// Spot is what an inverse projection yields, in radians.
type Spot struct {
	LatRad, LonRad, ConvRad, Scale float64
	stretch
}

// stretch is what a projection that is not conformal does besides: the scale
// along the parallel, and by how much its image runs clockwise of the square
// to the meridian's. The zero value says that the projection is conformal.
type stretch struct{ parallel, skewRad float64 }

// Projection maps an ellipsoid to a plane. Implementations are immutable,
// allocate nothing on success and may be shared between goroutines. Arguments
// are finite and in range; the System checks them.
type Projection interface {
	Forward(latRad, lonRad float64) (Point, error)
	Inverse(e, n float64) (Spot, error)
}

// outsideSeries is that error for a measure that is too large, such as "km from the
// equator", with the limit of the formulas.
func outsideSeries(value float64, measure string, limit float64) error {
	unit, _, _ := strings.Cut(measure, " ")
	return fmt.Errorf("%.6g %s is %w, which hold up to %.6g %s", value, measure, ErrOutsideSeries, math.Round(limit), unit)
}

// slopes are the derivatives of the grid coordinates, metres on the ground
// along the meridian and along the parallel.
type slopes struct{ eMeridian, nMeridian, eParallel, nParallel float64 }

// distortion turns slopes into convergence, scale and stretch.
func (s slopes) distortion() (convRad, scale float64, st stretch) {
	convRad = -math.Atan2(s.eMeridian, s.nMeridian)
	scale = math.Hypot(s.eMeridian, s.nMeridian)
	eastward := math.Atan2(s.eParallel, s.nParallel) // bearing of the parallel's image
	st.skewRad = earth.WrapLon(eastward - math.Pi/2 + convRad)
	st.parallel = math.Hypot(s.eParallel, s.nParallel)
	return convRad, scale, st
}

// Plane is an ellipsoid with its projection to a grid.
type Plane struct {
	Ellipsoid earth.Ellipsoid
	Proj      Projection
}

// Project turns a position on the ellipsoid into grid coordinates with convergence and
// point scale. It allocates nothing when it succeeds. Errors wrap ErrNotFinite,
// ErrBadLatLon or ErrOutsideSeries.
func (p Plane) Project(ll earth.LatLon) (earth.Grid, Factors, error) {
	if err := ll.Check(); err != nil {
		return earth.Grid{}, Factors{}, err
	}
	at, err := p.Proj.Forward(float64(ll.Lat), float64(ll.Lon))
	if err != nil {
		return earth.Grid{}, Factors{}, err
	}
	return earth.Grid{E: at.E, N: at.N}, factors(at.ConvRad, at.Scale, at.stretch), nil
}

// Unproject turns grid coordinates into the position on the ellipsoid. Errors wrap
// ErrNotFinite or ErrOutsideSeries.
func (p Plane) Unproject(g earth.Grid) (earth.LatLon, Factors, error) {
	if !g.IsFinite() {
		return earth.LatLon{}, Factors{}, earth.ErrNotFinite
	}
	at, err := p.Proj.Inverse(g.E, g.N)
	if err != nil {
		return earth.LatLon{}, Factors{}, err
	}
	return earth.RadLatLon(at.LatRad, at.LonRad), factors(at.ConvRad, at.Scale, at.stretch), nil
}
