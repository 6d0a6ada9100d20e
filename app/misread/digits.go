package misread

import (
	"fmt"
	"math"
	"strconv"

	"legwright/app/units"
)

// tens is the step from one figure that a housing prints to the next that can be taken
// for it: 10°, 10 gon, or 100 mil, since mil housings print hundreds (common practice,
// no source).
func tens(c units.Circle) units.Angle {
	count := 10.0
	if c == units.Mils6400 {
		count = 100
	}
	return ofCircle(count, c)
}

// ofCircle is so many units of the circle as an angle.
func ofCircle(v float64, c units.Circle) units.Angle {
	return units.Angle(v / c.PerTurn() * 2 * math.Pi)
}

// written is what somebody who swaps digits makes of a figure: mils to the single mil,
// for the zero at their end may have moved.
func written(said units.Angle, c units.Circle) string {
	if c != units.Mils6400 {
		return c.Figure(said)
	}
	mils := int(math.Round(said.Turn().Rad() / (2 * math.Pi) * 6400))
	return fmt.Sprintf("%04d", mils%6400)
}

// swapped returns the bearings that come of swapping any two digits of a figure before
// its point. Figures past the full turn are left out, since no circle has them, and so
// is the figure itself.
func swapped(figure string, c units.Circle) []units.Angle {
	whole := 0
	for whole < len(figure) && isDigit(figure[whole]) {
		whole++
	}
	end := whole
	for end < len(figure) && (isDigit(figure[end]) || figure[end] == '.') {
		end++
	}
	var out []units.Angle
	for i := range whole {
		for j := i + 1; j < whole; j++ {
			digits := []byte(figure[:end])
			if digits[i] == digits[j] {
				continue
			}
			digits[i], digits[j] = digits[j], digits[i]
			if v, err := strconv.ParseFloat(string(digits), 64); err == nil && v < c.PerTurn() {
				out = append(out, ofCircle(v, c))
			}
		}
	}
	return out
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
