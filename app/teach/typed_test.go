package teach_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"legwright/app/teach"
	"legwright/app/units"
)

// Guesses typed in a row are read one by one, or refused as a whole with the one that is
// wrong.
func TestBearingsInARow(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]float64{
		"040 055 70 …":          nil,
		"040 055 70":            {40, 55, 70},
		"040, 055; 70":          {40, 55, 70},
		"040,055,070":           {40, 55, 70},
		"57,5 58.5":             {57.5, 58.5},
		"360 0":                 {0, 0},
		"040 grid 055° g 70 °":  {40, 55, 70},
		"  ":                    {},
		"400":                   nil,
		"040 400 055":           nil,
		"-1":                    nil,
		"north":                 nil,
		"040 mag":               nil,
		"040 055 north-east 10": nil,
	} {
		got, err := teach.ParseBearings(text, units.GridNorth, units.WholeDegrees)
		if (err == nil) != (want != nil) || len(got) != len(want) {
			t.Errorf("%q: got %v, %v, want %v", text, got, err, want)
			continue
		}
		for i, a := range got {
			if math.Abs(a.Deg()-want[i]) > 1e-9 {
				t.Errorf("%q: guess %d is %v°, want %v°", text, i+1, a.Deg(), want[i])
			}
		}
	}
	_, err := teach.ParseBearings("040 400 055", units.GridNorth, units.WholeDegrees)
	if bad := new(teach.BadGuess); !errors.As(err, &bad) || bad.Text != "400" {
		t.Errorf("the wrong one of 040 400 055: %v", err)
	}
	if got, err := teach.ParseBearings("1600 3200", units.MagneticNorth, units.Mils6400); err != nil || math.Abs(got[1].Deg()-180) > 1e-9 {
		t.Errorf("mils: %v, %v", got, err)
	}
	if _, err := teach.ParseBearings("040 grid", units.MagneticNorth, units.WholeDegrees); err == nil || !strings.Contains(err.Error(), "magnetic") {
		t.Errorf("another north: %v", err)
	}
}

// Distances are metres unless typed with km; one that could be two is refused.
func TestDistancesInARow(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]float64{
		"850 900 m 1.2 km": {850, 900, 1200},
		"850m; 1,2 km":     {850, 1200},
		"1,200":            nil,
		"0":                nil,
		"-5":               nil,
		"far":              nil,
		"850 2000 km":      nil,
		"":                 {},
	} {
		got, err := teach.ParseNumbers(text, teach.AskDistance)
		if (err == nil) != (want != nil) || len(got) != len(want) {
			t.Errorf("%q: got %v, %v, want %v", text, got, err, want)
			continue
		}
		for i, m := range got {
			if math.Abs(m-want[i]) > 1e-9 {
				t.Errorf("%q: guess %d is %v m, want %v m", text, i+1, m, want[i])
			}
		}
	}
}
