package units

import "math"

// GridBearing is a direction measured clockwise from grid north, in radians
// in [0, 2π).
type GridBearing Angle

// TrueBearing is a direction measured clockwise from true north, in radians
// in [0, 2π).
type TrueBearing Angle

// MagneticBearing is a direction measured clockwise from magnetic north, in
// radians in [0, 2π).
type MagneticBearing Angle

// Convergence is grid north measured clockwise from true north, in radians.
type Convergence Angle

// Declination is magnetic north measured clockwise from true north, in
// radians, east positive. British walkers also call it variation.
type Declination Angle

// GMA is the grid-magnetic angle: magnetic north measured clockwise from grid
// north, in radians, east positive.
type GMA Angle

// NewGridBearing returns a brought into [0, 2π) as a grid bearing.
func NewGridBearing(a Angle) GridBearing { return GridBearing(a.Turn()) }

// NewTrueBearing returns a brought into [0, 2π) as a true bearing.
func NewTrueBearing(a Angle) TrueBearing { return TrueBearing(a.Turn()) }

// NewMagneticBearing returns a brought into [0, 2π) as a magnetic bearing.
func NewMagneticBearing(a Angle) MagneticBearing { return MagneticBearing(a.Turn()) }

// GridMagneticAngle returns GMA = D − γ in (−π, π].
func GridMagneticAngle(d Declination, c Convergence) GMA {
	return GMA((Angle(d) - Angle(c)).Signed())
}

// GridBearingOf returns the grid bearing of the step east, north in metres.
// It reports false where the step is zero or not finite: there is no bearing
// from a point to itself.
func GridBearingOf(eastM, northM float64) (GridBearing, bool) {
	if !isFinite(eastM) || !isFinite(northM) || (eastM == 0 && northM == 0) {
		return 0, false
	}
	return NewGridBearing(Angle(math.Atan2(eastM, northM))), true
}

// True returns the true bearing, grid + γ.
func (b GridBearing) True(c Convergence) TrueBearing {
	return NewTrueBearing(Angle(b) + Angle(c))
}

// Magnetic returns the magnetic bearing, grid − GMA.
func (b GridBearing) Magnetic(g GMA) MagneticBearing {
	return NewMagneticBearing(Angle(b) - Angle(g))
}

// Grid returns the grid bearing, true − γ.
func (b TrueBearing) Grid(c Convergence) GridBearing {
	return NewGridBearing(Angle(b) - Angle(c))
}

// Magnetic returns the magnetic bearing, true − D.
func (b TrueBearing) Magnetic(d Declination) MagneticBearing {
	return NewMagneticBearing(Angle(b) - Angle(d))
}

// Grid returns the grid bearing, magnetic + GMA.
func (b MagneticBearing) Grid(g GMA) GridBearing {
	return NewGridBearing(Angle(b) + Angle(g))
}

// Back returns the bearing turned by half a circle.
func (b GridBearing) Back() GridBearing { return NewGridBearing(Angle(b) + math.Pi) }

// Angle returns the bearing as a plain angle in [0, 2π).
func (b GridBearing) Angle() Angle { return Angle(b) }

// Angle returns the bearing as a plain angle in [0, 2π).
func (b TrueBearing) Angle() Angle { return Angle(b) }

// Angle returns the bearing as a plain angle in [0, 2π).
func (b MagneticBearing) Angle() Angle { return Angle(b) }

// Angle returns the convergence as a plain signed angle.
func (c Convergence) Angle() Angle { return Angle(c) }

// Angle returns the declination as a plain signed angle.
func (d Declination) Angle() Angle { return Angle(d) }

// Angle returns the grid-magnetic angle as a plain signed angle.
func (g GMA) Angle() Angle { return Angle(g) }
