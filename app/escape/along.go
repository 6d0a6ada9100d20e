package escape

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// AlongWords say which line a leg follows, and to which side it leaves along that: "along Glen road,
// at first south-east"; "" for a compass leg.
func (l Leg) AlongWords() string {
	if l.Along == "" {
		return ""
	}
	words := "along " + l.AlongTitle
	if side := l.Outset(); side != "" {
		words += ", at first " + side
	}
	return words
}

// Outset names the side to which a leg leaves along its line, by its first 100 units of the grid:
// whoever reaches a path in cloud must know which way to turn. "" for a compass leg and for a way
// without length.
func (l Leg) Outset() string {
	if l.Along == "" {
		return ""
	}
	const over = 100
	left, to := float64(over), l.Way[0]
	for a, b := range l.segments {
		de, dn := b.E-a.E, b.N-a.N
		length := math.Hypot(de, dn)
		f := min(1, left/max(length, 1e-9))
		if to, left = (geodesy.Grid{E: a.E + f*de, N: a.N + f*dn}), left-length; left <= 0 {
			break
		}
	}
	if to == l.Way[0] {
		return ""
	}
	return units.EightPoint(units.Angle(math.Atan2(to.E-l.Way[0].E, to.N-l.Way[0].N)))
}
