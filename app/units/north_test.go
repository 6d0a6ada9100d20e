package units

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestParseBearingNorth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		circle Circle
		deg    float64
		north  North
	}{
		{"060 grid", WholeDegrees, 60, GridNorth},
		{"60°g", WholeDegrees, 60, GridNorth},
		{"60g", WholeDegrees, 60, GridNorth},
		{" 060 Mag. ", WholeDegrees, 60, MagneticNorth},
		{"060 magnetic", WholeDegrees, 60, MagneticNorth},
		{"57.5mag", HalfDegrees, 57.5, MagneticNorth},
		{"57,5 deg true", WholeDegrees, 57.5, TrueNorth},
		{"060° T", WholeDegrees, 60, TrueNorth},
		{"grid 060", WholeDegrees, 60, GridNorth},
		{"M060", WholeDegrees, 60, MagneticNorth},
		{"60 grid north", WholeDegrees, 60, GridNorth},
		{"1600 g", Mils6400, 90, GridNorth},
		{"1600 mil m", WholeDegrees, 90, MagneticNorth},
		{"100 gon true", WholeDegrees, 90, TrueNorth},
		{"100", Gon400, 90, NoNorth},
		{"100 gon", WholeDegrees, 90, NoNorth},
		{"1600 mil", WholeDegrees, 90, NoNorth},
		{"060", WholeDegrees, 60, NoNorth},
		{"60 north", WholeDegrees, 60, NoNorth}, // which north is still to be asked
		{"0 grid", WholeDegrees, 0, GridNorth},
		{"360 grid", WholeDegrees, 0, GridNorth},
		{"359 mag", WholeDegrees, 359, MagneticNorth},
	} {
		a, north, err := ParseBearingNorth(c.text, c.circle)
		if err != nil || math.Abs(a.Deg()-c.deg) > 1e-9 || north != c.north {
			t.Errorf("%q = %v° %q, %v, want %v° %q", c.text, a.Deg(), north, err, c.deg, c.north)
		}
	}
}

func TestParseBearingNorthRefuses(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"", "grid", "north", "mag north", "400 grid", "-1 grid", "−1 grid", "361", "sixty grid",
		"grid 060 mag", "60 grid mag", "60 magic", "60 ° ° g", "60 é g", "NaN grid", "1e2 grid",
	} {
		a, north, err := ParseBearingNorth(text, WholeDegrees)
		var bad *BadText
		if !errors.As(err, &bad) || bad.Text != text || a != 0 || north != NoNorth {
			t.Errorf("%q = %v° %q, %v, want a refusal that quotes it", text, a.Deg(), north, err)
		}
		if err != nil && !strings.Contains(err.Error(), "060 grid, 060 mag or 060 true") {
			t.Errorf("%q: %v, want examples of what to type", text, err)
		}
	}
	_, _, err := ParseBearingNorth("6500 grid", Mils6400)
	if err == nil || !strings.Contains(err.Error(), "0 to 6400") || !strings.Contains(err.Error(), "1070 grid") {
		t.Errorf("6500 mil = %v, want the mils that are understood", err)
	}
}

// A bearing that is written is read back with its north, in every circle.
func TestBearingNorthRoundTrip(t *testing.T) {
	t.Parallel()
	for _, circle := range Circles() {
		for _, north := range append(Norths(), NoNorth) {
			for _, deg := range []float64{0, 9, 90, 180, 270, 351} {
				text := north.Figure(circle, Degrees(deg))
				a, got, err := ParseBearingNorth(text, WholeDegrees)
				if off := (a - Degrees(deg)).Signed(); err != nil || got != north || math.Abs(off.Rad()) > circle.Step().Rad() {
					t.Errorf("%q = %v° %q, %v, want %v° %q", text, a.Deg(), got, err, deg, north)
				}
			}
		}
	}
}

func TestNorthsHaveTheirOwnLetters(t *testing.T) {
	t.Parallel()
	seen := map[string]North{}
	for _, n := range Norths() {
		for _, text := range []string{n.String(), n.Letter()} {
			if other, twice := seen[text]; twice || text == "" || northWord(text) != n {
				t.Errorf("%q of north %d is empty, not read back or that of north %d", text, n, other)
			}
			seen[text] = n
		}
	}
	if NoNorth.String()+NoNorth.Letter() != "" {
		t.Error("a north that was not said has a word")
	}
}

func FuzzParseBearingNorth(f *testing.F) {
	for _, text := range []string{"060 grid", "60°g", "1010 mil magnetic", "T 63 gon", "é", "60 é m"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, _, err := ParseBearingNorth(text, WholeDegrees)
		if err == nil && (a < 0 || a.Deg() >= 360 || !a.IsFinite()) {
			t.Errorf("%q = %v°, want 0 to 360", text, a.Deg())
		}
	})
}

// Each north has its whole word, its short one and its letter; no north has none.
func TestNorthWords(t *testing.T) {
	t.Parallel()
	for n, want := range map[North][3]string{
		NoNorth: {"", "", ""}, GridNorth: {"grid", "grid", "G"},
		MagneticNorth: {"magnetic", "mag", "M"}, TrueNorth: {"true", "true", "T"},
	} {
		if got := [3]string{n.Long(), n.String(), n.Letter()}; got != want {
			t.Errorf("%d: got %q, want %q", n, got, want)
		}
	}
}
