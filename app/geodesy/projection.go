package geodesy

import (
	"errors"
	"fmt"
)

// ErrOutsideSeries is wrapped by the error of a place so far from the middle
// of a projection that its formulas no longer hold.
var ErrOutsideSeries = errors.New("too far from the middle of the grid for its formulas")

// point is what a projection yields: the grid coordinates in metres, the
// convergence in radians and the point scale.
type point struct{ e, n, convRad, scale float64 }

// spot is what an inverse projection yields, in radians.
type spot struct{ latRad, lonRad, convRad, scale float64 }

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
