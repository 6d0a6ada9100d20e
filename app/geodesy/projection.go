package geodesy

import (
	"errors"
	"fmt"
	"math"
)

// ErrOutsideSeries is wrapped by the error of a place so far from the middle
// of a projection that its formulas no longer hold.
var ErrOutsideSeries = errors.New("too far from the middle of the grid for its formulas")

// point is what a projection yields: the grid coordinates in metres, the
// convergence in radians and the point scale along the meridian.
type point struct {
	e, n, convRad, scale float64
	stretch
}

// spot is what an inverse projection yields, in radians.
type spot struct {
	latRad, lonRad, convRad, scale float64
	stretch
}

// stretch is what a projection that is not conformal does beside: the scale
// along the parallel, and by how much its image runs clockwise of the square
// to the meridian's. The zero value says that the projection is conformal.
type stretch struct{ parallel, skewRad float64 }

// projection maps an ellipsoid to a plane. Implementations are immutable,
// allocate nothing on success and may be shared between goroutines. Arguments
// are finite and in range; the System checks them.
type projection interface {
	forward(latRad, lonRad float64) (point, error)
	inverse(e, n float64) (spot, error)
}

// outsideSeries says by a measure of a place, such as "km from the equator",
// what is too large and where the formulas end.
func outsideSeries(value float64, measure string, limit float64) error {
	return fmt.Errorf("%.6g %s is %w, which hold to %.6g", value, measure, ErrOutsideSeries, limit)
}

// slopes are the derivatives of the grid coordinates, metres on the ground
// along the meridian and along the parallel.
type slopes struct{ eMeridian, nMeridian, eParallel, nParallel float64 }

// distortion turns slopes into convergence, scale and stretch.
func (s slopes) distortion() (convRad, scale float64, st stretch) {
	convRad = -math.Atan2(s.eMeridian, s.nMeridian)
	scale = math.Hypot(s.eMeridian, s.nMeridian)
	eastward := math.Atan2(s.eParallel, s.nParallel) // bearing of the parallel's image
	st.skewRad = wrapLon(eastward - math.Pi/2 + convRad)
	st.parallel = math.Hypot(s.eParallel, s.nParallel)
	return convRad, scale, st
}

// plane is an ellipsoid with the projection that draws it.
type plane struct {
	ellipsoid Ellipsoid
	proj      projection
}

// project turns a place on the ellipsoid into grid coordinates with convergence and
// point scale. It allocates nothing when it succeeds. Errors wrap ErrNotFinite,
// ErrBadLatLon or ErrOutsideSeries.
func (p plane) project(ll LatLon) (Grid, Factors, error) {
	if err := ll.Check(); err != nil {
		return Grid{}, Factors{}, err
	}
	at, err := p.proj.forward(float64(ll.Lat), float64(ll.Lon))
	if err != nil {
		return Grid{}, Factors{}, err
	}
	return Grid{E: at.e, N: at.n}, factors(at.convRad, at.scale, at.stretch), nil
}

// unproject turns grid coordinates into the place on the ellipsoid. Errors wrap
// ErrNotFinite or ErrOutsideSeries.
func (p plane) unproject(g Grid) (LatLon, Factors, error) {
	if !g.IsFinite() {
		return LatLon{}, Factors{}, ErrNotFinite
	}
	at, err := p.proj.inverse(g.E, g.N)
	if err != nil {
		return LatLon{}, Factors{}, err
	}
	return latLonRad(at.latRad, at.lonRad), factors(at.convRad, at.scale, at.stretch), nil
}
