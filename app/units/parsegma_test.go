package units_test

import (
	"math"
	"strings"
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
		got, err := units.ParseGMA(c.text, c.circle, math.Pi)
		if err != nil || math.Abs(got.Angle().Deg()-c.deg) > 1e-9 {
			t.Errorf("%q: got %v°, %v, want %v°", c.text, got.Angle().Deg(), err, c.deg)
		}
	}
	for _, text := range []string{"", "12", "east", "12 north", "-12 east", "181 east", "12 east west", "many west"} {
		if got, err := units.ParseGMA(text, units.WholeDegrees, math.Pi); err == nil {
			t.Errorf("%q was read as %v°", text, got.Angle().Deg())
		}
	}
}

// An angle beyond the bound is called too large, in the circle's unit; the bound itself is
// taken.
func TestGMATooLarge(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		circle units.Circle
		says   string
	}{
		{"200 east", units.WholeDegrees, "\"200 east\" is too large: type an angle between 90° west and 90° east"},
		{"91 w", units.WholeDegrees, "too large"},
		{"1700 east", units.Mils6400, "1600 mil west and 1600 mil east"},
	} {
		if _, err := units.ParseGMA(c.text, c.circle, math.Pi/2); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v, want %q", c.text, err, c.says)
		}
	}
	for _, text := range []string{"90 east", "90 west"} {
		if _, err := units.ParseGMA(text, units.WholeDegrees, math.Pi/2); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}
