package units_test

import (
	"math"
	"testing"

	"legwright/app/units"
)

// A grid-magnetic angle is read with its side; one that could be either is refused.
func TestParseGMA(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		circle units.Circle
		deg    float64
	}{
		{"12 east", units.WholeDegrees, 12},
		{" 17° West ", units.WholeDegrees, -17},
		{"12E", units.WholeDegrees, 12},
		{"1,5 w", units.HalfDegrees, -1.5},
		{"0", units.WholeDegrees, 0},
		{"0 west", units.WholeDegrees, 0},
		{"180 east", units.WholeDegrees, 180},
		{"200 mils east", units.WholeDegrees, 11.25},
		{"200 east", units.Mils6400, 11.25},
		{"10 west", units.Gon400, -9},
	} {
		got, err := units.ParseGMA(c.text, c.circle)
		if err != nil || math.Abs(got.Angle().Deg()-c.deg) > 1e-9 {
			t.Errorf("%q: got %v°, %v, want %v°", c.text, got.Angle().Deg(), err, c.deg)
		}
	}
	for _, text := range []string{"", "12", "east", "12 north", "-12 east", "181 east", "12 east west", "many west"} {
		if got, err := units.ParseGMA(text, units.WholeDegrees); err == nil {
			t.Errorf("%q was read as %v°", text, got.Angle().Deg())
		}
	}
}
