package pace_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"legwright/app/pace"
)

// Hundreds of metres, then double paces; a rest that rounds to a hundred is one.
func TestInHundreds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		m, per float64
		want   string
	}{
		{430, 64, "4 × 100 m + 19"},
		{400, 64, "4 × 100 m"},
		{30, 64, "19"},
		{99.9, 64, "1 × 100 m"},
		{399.9, 64, "4 × 100 m"},
		{100, 70, "1 × 100 m"},
		{150, 70, "1 × 100 m + 35"},
		{0, 64, "0"},
	} {
		if got := pace.InHundreds(c.m, c.per); got != c.want {
			t.Errorf("%v m at %v: %q, want %q", c.m, c.per, got, c.want)
		}
	}
	// What is written is the length, to a pace.
	for m := 0.0; m < 2000; m += 7.3 {
		for _, per := range []float64{50.5, 64, 71} {
			text := pace.InHundreds(m, per)
			if got := written(t, text, per); math.Abs(got-m) > 100/per {
				t.Errorf("%v m are written %q, which is %v", m, text, got)
			}
		}
	}
}

// written is the length that a text of InHundreds stands for.
func written(t *testing.T, text string, per float64) float64 {
	t.Helper()
	hundreds, rest, ok := strings.Cut(text, " × 100 m")
	if !ok {
		hundreds, rest = "0", text
	}
	h, err := strconv.Atoi(hundreds)
	n, err2 := strconv.Atoi(strings.TrimPrefix(rest, " + "))
	if err != nil || rest != "" && err2 != nil {
		t.Fatalf("%q", text)
	}
	return 100 * (float64(h) + float64(n)/per)
}

// Uphill and downhill have counts of their own, and a way has the mean of its stretches.
func TestCounts(t *testing.T) {
	t.Parallel()
	c := pace.Counts{Flat: 64, Up: 80, Down: 70}
	for _, v := range []struct {
		way  []pace.Stretch
		want float64
	}{
		{nil, 64},
		{pace.Even(1000, 0, 0), 64},
		{pace.Even(1000, 60, 0), 64},
		{pace.Even(1000, 100, 0), 80},
		{pace.Even(1000, 0, 100), 70},
		{pace.Even(1000, 100, 100), 75},
		{pace.Even(1000, 150, 50), 77.5},
	} {
		near(t, "paces to 100 m", c.Of(v.way), v.want, 1e-9)
	}
}
