package geodesy

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Figures are typed and written in the grid's printed unit.
func TestReferencesInPrintedUnits(t *testing.T) {
	t.Parallel()
	feet, err := Define("+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83 +units=us-ft")
	if err != nil {
		t.Fatal(err)
	}
	r, err := ParseRef("328083.3 182000", RefContext{System: feet})
	if err != nil || math.Abs(r.Grid.E-328083.3*1200/3937) > 1e-9 || math.Abs(r.Grid.N-182000*1200.0/3937) > 1e-9 {
		t.Errorf("feet: got %v, %v", r, err)
	}
	if text, err := feet.FormatRef(r.Grid, 10); err != nil || text != "328083 182000 ft" {
		t.Errorf("feet, written: got %q, %v", text, err)
	}
	for _, text := range []string{"820000 300000", "823000 304000", "328083 182001", "299999 304999"} {
		r, err := ParseRef(text, RefContext{System: feet})
		if back, errBack := feet.FormatRef(r.Grid, 10); err != nil || errBack != nil || back != text+" ft" {
			t.Errorf("%q comes back as %q: %v, %v", text, back, err, errBack)
		}
	}
	for _, text := range []string{"328083.3 182000 ft", "E 328083.3 N 182000 feet", "328083.3ft E 182000ft N", "328083.3 US ft 182000 US ft"} {
		if again, err := ParseRef(text, RefContext{System: feet}); err != nil || again.Grid != r.Grid {
			t.Errorf("%q is read as %v, %v", text, again, err)
		}
	}
	near := r.Grid
	for text, says := range map[string]string{
		"100000mE 55474mN": "is in US survey feet", // the same position in metres
		"N 182":            "this is the northing alone; type the easting too",
		"328 E":            "this is the easting alone",
		"N 182000":         "this is the northing alone",
		"E 328 N 182":      "did you mean E 328000 N 182000",
		"328 182":          "did you mean E 328000 N 182000",
		"E 820 N 300":      "too small",
		"1 2 3":            "type only two: easting and northing in US survey feet",
	} {
		if got, err := ParseRef(text, RefContext{System: feet, Near: &near}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q near the sheet: got %v, %v, want %q", text, got, err, says)
		}
	}
	if _, err := ParseRef("651409 313177 ft", RefContext{System: mustLookup(27700)}); err == nil || !strings.Contains(err.Error(), "is in metres") {
		t.Errorf("feet on a grid of metres: %v", err)
	}
	if got, err := feet.FormatRefCompact(r.Grid, 10); err != nil || got != "328083,182000" {
		t.Errorf("compact: %q, %v", got, err)
	}
	if got := wantedRef(feet); got != "easting and northing in US survey feet" {
		t.Errorf("example: %q", got)
	}
}

// On a grid of degrees a pair of bare numbers is refused, however it looks: it
// used to be taken for metres along the equator.
func TestDegreesAreMarked(t *testing.T) {
	t.Parallel()
	degrees := mustLookup(epsgLatLon)
	for _, c := range []struct{ text, offer string }{
		{"57 -4", "latlon: 57, -4"},
		{"57.5, -4.25", "latlon: 57.5, -4.25"},
		{"450000 6330000", ""},
		{"0 0", "latlon: 0, 0"},
	} {
		var bad *RefError
		_, err := ParseRef(c.text, RefContext{System: degrees})
		if !errors.As(err, &bad) || strings.Join(bad.Offers, "") != c.offer || !strings.Contains(err.Error(), "could be swapped") {
			t.Errorf("%q: got %v", c.text, err)
		}
		if c.offer == "" {
			continue
		}
		if _, err := ParseRef(bad.Offers[0], RefContext{System: degrees}); err != nil {
			t.Errorf("the offer %q is refused: %v", bad.Offers[0], err)
		}
	}
	for _, text := range []string{"", "57.5N", "57.5", "57 30 4", "57;4"} {
		if _, err := ParseRef(text, RefContext{System: degrees}); err == nil || !strings.Contains(err.Error(), "latitude and longitude such as 57.5°N 4.25°W") {
			t.Errorf("%q: got %v", text, err)
		}
	}
	for _, text := range []string{"57.5°N 4.25°W", "57°30'N 4°15'W", "latlon: 57.5, -4.25", "57.5N 4.25W"} {
		r, err := ParseRef(text, RefContext{System: degrees})
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if e, n := degrees.InUnits(r.Grid); math.Abs(e+4.25) > 1e-12 || math.Abs(n-57.5) > 1e-12 {
			t.Errorf("%q: got %g, %g", text, e, n)
		}
		for _, write := range []func(Grid, int) (string, error){degrees.FormatRef, degrees.FormatRefCompact} {
			words, err := write(r.Grid, 8)
			back, errBack := ParseRef(words, RefContext{System: degrees})
			if err != nil || errBack != nil || distance(back.Grid, r.Grid) > 0.06 {
				t.Errorf("%q is written %q, %v and read as %v, %v", text, words, err, back, errBack)
			}
		}
	}
}
