package scan

import "testing"

// TestPositionFigure: only a length that can be a standard deviation is believed.
func TestPositionFigure(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"1.25": 1.25, " 3\n": 3, "1e5": 1e5,
		"": 0, "0": 0, "-1": 0, "NaN": 0, "Inf": 0, "1e6": 0, "3 m": 0,
	} {
		if got := positionM(text); got != want {
			t.Errorf("%q: got %g, want %g", text, got, want)
		}
	}
}
