package geodesy

import (
	"errors"
	"math"
	"testing"

	"legwright/app/geodesy/earth"

	"pgregory.net/rapid"
)

func TestFormatRef(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		epsg    int
		g       Grid
		figures int
		spaced  string
		compact string
	}{
		// Letters of the National Grid: OS guide, section 7.
		{"Caister, OS guide Annexe C", 27700, Grid{E: 651409.903, N: 313177.270}, 10, "TG 51409 13177", "TG5140913177"},
		{"truncated, not rounded", 27700, Grid{E: 651999.9, N: 313999.9}, 4, "TG 51 13", "TG5113"},
		{"2 figures", 27700, Grid{E: 651409.903, N: 313177.270}, 2, "TG 5 1", "TG51"},
		{"6 figures", 27700, Grid{E: 651409.903, N: 313177.270}, 6, "TG 514 131", "TG514131"},
		{"8 figures", 27700, Grid{E: 651409.903, N: 313177.270}, 8, "TG 5140 1317", "TG51401317"},
		{"the false origin", 27700, Grid{E: 0, N: 0}, 10, "SV 00000 00000", "SV0000000000"},
		{"the far corner", 27700, Grid{E: 699999, N: 1299999}, 10, "JM 99999 99999", "JM9999999999"},
		{"a square's border belongs to the east", 27700, Grid{E: 300000, N: 800000}, 6, "NJ 000 000", "NJ000000"},
		{"just short of it", 27700, Grid{E: 299999.999, N: 799999.999}, 10, "NN 99999 99999", "NN9999999999"},
		{"snapped to 1 mm over the border", 27700, Grid{E: 299999.9996, N: 799999.9996}, 10, "NJ 00000 00000", "NJ0000000000"},
		{"snapped up in the square", 27700, Grid{E: 251409.9999, N: 713177}, 10, "NN 51410 13177", "NN5141013177"},
		{"Ireland", 29903, Grid{E: 315904, N: 234671}, 6, "O 159 346", "O159346"},
		{"Ireland, false origin", 29903, Grid{E: 0, N: 0}, 4, "V 00 00", "V0000"},
		{"Ireland, far corner", 29903, Grid{E: 499999, N: 499999}, 4, "E 99 99", "E9999"},
		{"ITM has no letters", 2157, Grid{E: 709885.081, N: 736167.699}, 10, "709885 736167", "709885,736167"},
		{"ITM to 100 m", 2157, Grid{E: 709885.081, N: 736167.699}, 6, "709800 736100", "709800,736100"},
		{"New Zealand", 2193, Grid{E: 1234567.8, N: 5123456.7}, 10, "1234567 5123456", "1234567,5123456"},
		{"zone with one figure", 32605, Grid{E: 321251, N: 2372072}, 4, "05Q LD 21 72", "05QLD2172"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := mustLookup(c.epsg)
			if got, err := s.FormatRef(c.g, c.figures); err != nil || got != c.spaced {
				t.Errorf("got %q, %v, want %q", got, err, c.spaced)
			}
			if got, err := s.FormatRefCompact(c.g, c.figures); err != nil || got != c.compact {
				t.Errorf("compact: got %q, %v, want %q", got, err, c.compact)
			}
		})
	}
}

func TestFormatRefRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		epsg    int
		g       Grid
		figures int
		want    error
	}{
		{"3 figures", 27700, Grid{E: 1, N: 1}, 3, ErrFigures},
		{"no digits", 27700, Grid{E: 1, N: 1}, 0, ErrFigures},
		{"12 figures", 27700, Grid{E: 1, N: 1}, 12, ErrFigures},
		{"west of the letters", 27700, Grid{E: -1, N: 1}, 6, ErrOutsideLetters},
		{"east of the letters", 27700, Grid{E: 700000, N: 1}, 6, ErrOutsideLetters},
		{"north of the letters", 27700, Grid{E: 1, N: 1300000}, 6, ErrOutsideLetters},
		{"NaN", 27700, Grid{E: math.NaN(), N: 1}, 6, ErrNotFinite},
		{"west of Ireland", 29903, Grid{E: -1, N: 1}, 6, ErrOutsideLetters},
		{"UTM too far west", 32630, Grid{E: 99999, N: 5e6}, 6, ErrOutsideLetters},
		{"UTM too far east", 32630, Grid{E: 900000, N: 5e6}, 6, ErrOutsideLetters},
		{"UTM beyond 84°", 32630, Grid{E: 500000, N: 9.4e6}, 6, ErrOutsideLetters},
		{"zone 32 ends at 72° N", 32632, Grid{E: 500000, N: 8100000}, 6, ErrOutsideLetters},
		{"UPS too far from the pole", 5041, Grid{E: 2000000, N: 3000000}, 6, ErrOutsideLetters},
		{"UPS below 84°", 5041, Grid{E: 1300001, N: 1300001}, 6, ErrOutsideLetters},
		{"not on the earth", 32630, Grid{E: 500000, N: 1e12}, 6, ErrOutsideLetters},
	} {
		if got, err := mustLookup(c.epsg).FormatRef(c.g, c.figures); !errors.Is(err, c.want) {
			t.Errorf("%s: got %q, %v, want %v", c.name, got, err, c.want)
		}
	}
}

func TestRefCentre(t *testing.T) {
	t.Parallel()
	r, err := ParseRef("NN 123 456", RefContext{})
	if err != nil {
		t.Fatal(err)
	}
	g, sigma := r.Centre()
	if (g != Grid{E: 212350, N: 745650}) {
		t.Errorf("centre: got %v", g)
	}
	near(t, "side/√12", sigma, 28.8675134594813, 1e-10)
	r, err = ParseRef("212345.50 745678.25", RefContext{System: mustLookup(27700)})
	if err != nil {
		t.Fatal(err)
	}
	if g, sigma := r.Centre(); (g != Grid{E: 212345.5, N: 745678.25}) || sigma != 0 {
		t.Errorf("plain: got %v, %g", g, sigma)
	}
}

// The letters of the square EN are no labels of easting and northing.
func TestSquareEN(t *testing.T) {
	t.Parallel()
	s := mustLookup(32701)
	for _, text := range []string{"01M EN 55282 81496", "01MEN5528281496", "1M EN 55282 81496", "EN 55282 81496"} {
		r, err := ParseRef(text, RefContext{System: s, Near: &Grid{E: 555_000, N: 9_281_000}})
		if err != nil || r.System != s || (r.Grid != Grid{E: 555_282, N: 9_281_496}) {
			t.Errorf("%q: %v on %v, %v", text, r.Grid, r.System, err)
		}
	}
	r, err := ParseRef("E 555282 N 9281496", RefContext{System: s})
	if err != nil || (r.Grid != Grid{E: 555_282, N: 9_281_496}) {
		t.Errorf("labelled: %v, %v", r.Grid, err)
	}
}

// What FormatRef writes, ParseRef reads, and the position lies in the square.
func TestFormatParseRoundTrip(t *testing.T) {
	t.Parallel()
	epsgs := []int{27700, 29903, 2157, 2193, 32601, 32630, 32632, 32660, 32701, 32755, 5041, 5042}
	rapid.Check(t, func(t *rapid.T) {
		s := mustLookup(rapid.SampledFrom(epsgs).Draw(t, "epsg"))
		figures := 2 * rapid.IntRange(1, 5).Draw(t, "half figures")
		b := rapid.SampledFrom(s.area).Draw(t, "box")
		ll := DegLatLon(rapid.Float64Range(b.South, b.North).Draw(t, "lat"), rapid.Float64Range(b.West, b.East).Draw(t, "lon"))
		g, _, err := s.Project(ll)
		if err != nil {
			t.Fatal(err)
		}
		for _, format := range []func(Grid, int) (string, error){s.FormatRef, s.FormatRefCompact} {
			text, err := format(g, figures)
			if errors.Is(err, ErrOutsideLetters) {
				t.Skip("the sea outside the letters")
			}
			if err != nil {
				t.Fatal(err)
			}
			r, err := ParseRef(text, RefContext{System: s})
			if err != nil {
				t.Fatalf("%v wrote %q: %v", g, text, err)
			}
			side := math.Pow10(5 - figures/2)
			if de, dn := snapMM(g.E)-r.Grid.E, snapMM(g.N)-r.Grid.N; de < 0 || dn < 0 || de >= side || dn >= side || r.System != s {
				t.Fatalf("%v wrote %q, read as %v on %v", g, text, r.Grid, r.System)
			}
			// Written again the band may be the next one, where a square lies
			// across the border, but the position is the same. Across the borders
			// to UPS there is no next one.
			again, err := format(r.Grid, figures)
			if errors.Is(err, ErrOutsideLetters) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if r2, err := ParseRef(again, RefContext{System: s}); err != nil || r2 != r {
				t.Fatalf("%q read and written again is %q, %+v, %v", text, again, r2, err)
			}
		}
	})
}

func TestFormatLatLon(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lat, lon float64
		want     string
	}{
		{57.1234567, -4.5, "57.123457°N 4.500000°W"},
		{-41.5, 174.25, "41.500000°S 174.250000°E"},
		{-0.0000001, -0.0000001, "0.000000°N 0.000000°E"},
		{0, 190, "0.000000°N 170.000000°W"},
	} {
		if got := FormatLatLon(DegLatLon(c.lat, c.lon)); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestLatLonRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		text := FormatLatLon(DegLatLon(lat, lon))
		got, err := readLatLon(normalRef(text))
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if !(math.Abs(got.Lat.Deg()-lat) < 5.1e-7) || !(math.Abs(earth.WrapLon(float64(got.Lon)-rad(lon))) < rad(5.1e-7)) {
			t.Fatalf("%g, %g: wrote %q, read %v", lat, lon, text, got)
		}
	})
}
