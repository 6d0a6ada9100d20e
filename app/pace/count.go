package pace

import (
	"fmt"
	"math"
)

// Counts are a person's own double paces to 100 m.
type Counts struct{ Flat, Up, Down float64 }

// slopingDeg is the slope from which the counts for uphill and downhill hold (common
// practice, no source).
const slopingDeg = 5

// Of returns the double paces to 100 m on a way, the mean over its stretches; that of the
// flat for a way without length.
func (c Counts) Of(way []Stretch) float64 {
	paces, length := 0.0, 0.0
	for _, s := range way {
		per := c.Flat
		switch slope := s.slopeDeg(); {
		case slope >= slopingDeg:
			per = c.Up
		case slope <= -slopingDeg:
			per = c.Down
		}
		paces, length = paces+s.LengthM*per, length+s.LengthM
	}
	if length <= 0 {
		return c.Flat
	}
	return paces / length
}

// InHundreds writes a length as it is counted off: whole hundreds of metres, then double
// paces: "4 × 100 m + 19". per100 is the double paces to 100 m.
func InHundreds(lengthM, per100 float64) string {
	hundreds := math.Floor(lengthM / 100)
	rest := math.Round((lengthM - 100*hundreds) / 100 * per100)
	if rest >= math.Round(per100) {
		hundreds, rest = hundreds+1, 0
	}
	switch {
	case hundreds == 0:
		return fmt.Sprintf("%.0f", rest)
	case rest == 0:
		return fmt.Sprintf("%.0f × 100 m", hundreds)
	}
	return fmt.Sprintf("%.0f × 100 m + %.0f", hundreds, rest)
}
