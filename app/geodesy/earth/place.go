package earth

import (
	"errors"
	"fmt"
	"math"

	"legwright/app/units"
)

// ErrNotFinite is the error of a coordinate that is NaN or infinite.
var ErrNotFinite = errors.New("a coordinate is not a finite number")

// ErrBadLatLon is the error of a latitude outside −90°…90° or a longitude
// outside −360°…360°.
var ErrBadLatLon = errors.New("latitude must be from −90° to 90° and longitude from −360° to 360°")

// Grid is a position on a named grid: easting and northing in metres.
type Grid struct{ E, N float64 }

// LatLon is a position on a named datum: latitude north positive, longitude
// east positive.
type LatLon struct{ Lat, Lon units.Angle }

// DegLatLon returns the position of a latitude and a longitude in degrees.
func DegLatLon(latDeg, lonDeg float64) LatLon {
	return LatLon{Lat: units.Degrees(latDeg), Lon: units.Degrees(lonDeg)}
}

// IsFinite reports whether both coordinates are finite.
func (g Grid) IsFinite() bool { return Finite(g.E) && Finite(g.N) }

// Check returns an error wrapping ErrNotFinite or ErrBadLatLon where the
// position is not one on the earth.
func (ll LatLon) Check() error {
	lat, lon := float64(ll.Lat), float64(ll.Lon)
	if !Finite(lat) || !Finite(lon) {
		return ErrNotFinite
	}
	// A little over the pole is rounding of 90° to radians, not a mistake.
	if math.Abs(lat) > math.Pi/2+1e-15 || math.Abs(lon) > 2*math.Pi+1e-15 {
		return fmt.Errorf("latitude %.6g°, longitude %.6g°: %w", ll.Lat.Deg(), ll.Lon.Deg(), ErrBadLatLon)
	}
	return nil
}

// Finite reports whether a number is neither NaN nor infinite.
func Finite(x float64) bool { return x-x == 0 }

// WrapLon brings a longitude difference into (−π, π].
func WrapLon(rad float64) float64 {
	if rad > -math.Pi && rad <= math.Pi {
		return rad
	}
	return float64(units.Angle(rad).Signed())
}

// RadLatLon returns the position of a latitude and a longitude in radians.
func RadLatLon(latRad, lonRad float64) LatLon {
	return LatLon{Lat: units.Angle(latRad), Lon: units.Angle(lonRad)}
}
