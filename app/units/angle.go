package units

import "math"

// Angle is an angle in radians. It may have any finite value; the methods
// Turn and Signed bring it into a range.
type Angle float64

const (
	radPerDeg = math.Pi / 180
	fullTurn  = 2 * math.Pi
)

// Degrees returns the angle of d degrees.
func Degrees(d float64) Angle { return Angle(d * radPerDeg) }

// Rad returns the angle in radians as a plain number.
func (a Angle) Rad() float64 { return float64(a) }

// Deg returns the angle in degrees.
func (a Angle) Deg() float64 { return float64(a) / radPerDeg }

// Turn returns the angle brought into [0, 2π).
func (a Angle) Turn() Angle {
	r := math.Mod(float64(a), fullTurn)
	if r < 0 {
		r += fullTurn
	}
	if r >= fullTurn { // a tiny negative angle rounds up to the full turn
		r = 0
	}
	return Angle(r + 0) // + 0 turns a negative zero into zero
}

// Signed returns the angle brought into (−π, π].
func (a Angle) Signed() Angle {
	r := float64(a.Turn())
	if r > math.Pi {
		r -= fullTurn
	}
	return Angle(r)
}

// IsFinite reports whether the angle is neither NaN nor infinite.
func (a Angle) IsFinite() bool { return isFinite(float64(a)) }

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
