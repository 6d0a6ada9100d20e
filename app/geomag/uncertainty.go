package geomag

import (
	"math"

	"legwright/app/units"
)

// errorModel is the published standard deviation of a model's declination:
// √(floor² + (overH/H)²) degrees with H in nT.
type errorModel struct{ floorDeg, overH float64 }

// wmm2025Error: NOAA NCEI and CIRES, error model of WMM2025 as published with
// the model's own program (file uncertainty.py). wmm2020Error is the one of the
// WMM2020 report, not checked against it.
var (
	wmm2025Error = errorModel{floorDeg: 0.26, overH: 5417}
	wmm2020Error = errorModel{floorDeg: 0.26, overH: 5625}
)

// declination returns σ of the declination, never above half a circle.
func (m errorModel) declination(horizontalNT float64) units.Angle {
	r := m.overH / horizontalNT
	return units.Degrees(math.Min(180, math.Sqrt(m.floorDeg*m.floorDeg+r*r)))
}

// Zone says whether a compass can be trusted where the horizontal field is
// weak.
type Zone int

// The zones of the World Magnetic Model by horizontal intensity H. In the
// blackout zone (H < 2000 nT) a compass must not be used; in the caution zone
// (2000 ≤ H < 6000 nT) its errors may be large (NOAA NCEI, annual report on
// the state of the geomagnetic field).
const (
	Normal Zone = iota
	Caution
	Blackout
)

const (
	blackoutBelowNT = 2000
	cautionBelowNT  = 6000
)

// ZoneOf returns the zone of a horizontal intensity in nT. A value that is not
// a number counts as blackout.
func ZoneOf(horizontalNT float64) Zone {
	switch {
	case horizontalNT >= cautionBelowNT:
		return Normal
	case horizontalNT >= blackoutBelowNT:
		return Caution
	}
	return Blackout
}

// String names the zone for people.
func (z Zone) String() string {
	switch z {
	case Normal:
		return "normal"
	case Caution:
		return "caution zone"
	}
	return "blackout zone"
}
