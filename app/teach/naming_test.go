package teach_test

import (
	"strings"
	"testing"

	"legwright/app/teach"
	"legwright/app/units"
)

// sixteenPoints is the table of the sixteen points, each 22.5° wide with its direction
// in the middle, clockwise from north (common practice, no source). from is the first
// tenth of a degree that belongs to it: 11.25° before its middle, rounded up.
func sixteenPoints() []struct {
	from int
	name string
} {
	return []struct {
		from int
		name string
	}{
		{0, "N"},
		{113, "NNE"},
		{338, "NE"},
		{563, "ENE"},
		{788, "E"},
		{1013, "ESE"},
		{1238, "SE"},
		{1463, "SSE"},
		{1688, "S"},
		{1913, "SSW"},
		{2138, "SW"},
		{2363, "WSW"},
		{2588, "W"},
		{2813, "WNW"},
		{3038, "NW"},
		{3263, "NNW"},
		{3488, "N"},
	}
}

// TestNameOfEveryTenth compares quarter, nearer direction, turn from it and point of
// every tenth of a degree with tables in whole tenths. Half a degree from a cardinal
// direction or from half-way counts as that direction.
func TestNameOfEveryTenth(t *testing.T) {
	t.Parallel()
	cardinals := []string{"north", "east", "south", "west", "north"}
	for tenth := range 3600 {
		got := teach.NameOf(units.Degrees(float64(tenth) / 10))
		point := ""
		for _, p := range sixteenPoints() {
			if tenth >= p.from {
				point = p.name
			}
		}
		before, after, past := cardinals[tenth/900], cardinals[tenth/900+1], tenth%900
		want := teach.Naming{Quarter: "between " + before + " and " + after, Near: before, Off: units.Degrees(float64(past) / 10)}
		if past > 450 {
			want.Near, want.Off = after, units.Degrees(float64(past-900)/10)
		}
		switch {
		case past <= 5 || past >= 895:
			want.Quarter, want.Words = "", want.Near
		case past >= 445 && past <= 455:
			want.Near, want.Off = "", units.Degrees(float64(past)/10)
			want.Words = "half-way " + want.Quarter + ": " + point
		default:
			want.Words = want.Quarter + ", nearer " + want.Near + ": " + point
		}
		off := (got.Off - want.Off).Deg()
		if got.Quarter != want.Quarter || got.Near != want.Near || got.Point != point || got.Words != want.Words || off > 1e-9 || off < -1e-9 {
			t.Fatalf("%.1f°: got %+v, want %+v, %s", float64(tenth)/10, got, want, point)
		}
	}
}

// TestNameOfExamples holds the words themselves and what lies outside one turn.
func TestNameOfExamples(t *testing.T) {
	t.Parallel()
	for deg, want := range map[float64]string{
		337: "between west and north, nearer north: NNW",
		45:  "half-way between north and east: NE",
		360: "north", -90: "west", 450: "east", 179.6: "south", 359.9: "north",
		100: "between east and south, nearer east: E",
	} {
		if got := teach.NameOf(units.Degrees(deg)).Words; got != want {
			t.Errorf("%g°: got %q, want %q", deg, got, want)
		}
	}
}

func TestDifference(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		guess, truth float64
		circle       units.Circle
		want         string
	}{
		{69, 57, units.WholeDegrees, "12° too far east"},
		{45, 57, units.WholeDegrees, "12° too far north"},
		{10, 350, units.WholeDegrees, "20° too far east"},
		{350, 10, units.WholeDegrees, "20° too far west"},
		{100, 57, units.WholeDegrees, "43° too far east"},
		{120, 85, units.WholeDegrees, "35° too far south"},
		{100, 90, units.WholeDegrees, "10° too far south"},
		{80, 90, units.WholeDegrees, "10° too far north"},
		{237, 57, units.WholeDegrees, "180° out: the opposite direction"},
		{57, 237, units.WholeDegrees, "180° out: the opposite direction"},
		{217, 57, units.WholeDegrees, "160° out: nearly the opposite direction"},
		{57.3, 56.6, units.WholeDegrees, "the same figure"},
		{57.4, 56.4, units.WholeDegrees, "1° too far east"}, // 057 and 056 as printed
		{58, 57, units.HalfDegrees, "1° too far east"},
		{90, 45, units.Mils6400, "800 mil too far east"},
	} {
		if got := teach.Difference(units.Degrees(c.guess), units.Degrees(c.truth), c.circle); got != c.want {
			t.Errorf("guess %g, truth %g: got %q, want %q", c.guess, c.truth, got, c.want)
		}
	}
}

// TestDifferenceLeadsThere walks every guess at every fifth degree: the direction named
// is nearer to the guess than to the truth, wherever the guess is less than a right angle
// out.
func TestDifferenceLeadsThere(t *testing.T) {
	t.Parallel()
	at := map[string]float64{"north": 0, "east": 90, "south": 180, "west": 270}
	for truth := 0; truth < 360; truth += 5 {
		for off := -89; off < 90; off++ {
			if off == 0 {
				continue
			}
			guess := float64(truth + off)
			words := teach.Difference(units.Degrees(guess), units.Degrees(float64(truth)), units.WholeDegrees)
			_, name, _ := strings.Cut(words, "too far ")
			away := func(deg float64) float64 {
				d := units.Degrees(deg - at[name]).Signed().Deg()
				return max(d, -d)
			}
			if _, known := at[name]; !known || away(guess) >= away(float64(truth)) {
				t.Fatalf("guess %g, truth %d: %q leads away", guess, truth, words)
			}
		}
	}
}

func TestDistanceDifference(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		guess, truth float64
		want         string
	}{
		{1000, 1250, "250 m too short (a fifth)"},
		{1500, 1250, "250 m too long (a fifth)"},
		{2500, 1250, "1250 m too long (twice the true figure)"},
		{0, 500, "500 m too short (nearly all)"},
		{1250, 500, "750 m too long (2½ times the true figure)"},
		{5000, 500, "4500 m too long (10 times the true figure)"},
		{500, 500.4, "the same figure"},
		{505, 500, "5 m too long (very little)"},
		{300, 0, "300 m too long"},
	} {
		if got := teach.AskDistance.Difference(c.guess, c.truth); got != c.want {
			t.Errorf("guess %g, truth %g: got %q, want %q", c.guess, c.truth, got, c.want)
		}
	}
}
