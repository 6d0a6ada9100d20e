package geodesy

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

func TestUTMZoneFor(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		lat, lon float64
		zone     int
		north    bool
	}{
		{"180° west", 10, -180, 1, true},
		{"180° east is the same meridian", 10, 180, 1, true},
		{"just short of 180°", 10, 179.999999, 60, true},
		{"a border belongs to the east", 10, -174, 2, true},
		{"just west of a border", 10, -174.0000001, 1, true},
		{"Greenwich", 51, 0, 31, true},
		{"the equator is north", 0, 3, 31, true},
		{"south of it", -1e-9, 3, 31, false},
		{"Norway, below 56°", 55.999, 4, 31, true},
		{"Norway at 56°", 56, 3, 32, true},
		{"Norway west of 3°", 60, 2.999, 31, true},
		{"Norway, below 64°", 63.999, 3, 32, true},
		{"Norway at 64°", 64, 4, 31, true},
		{"Svalbard below 72°", 71.999, 8, 32, true},
		{"Svalbard 31", 72, 8.999, 31, true},
		{"Svalbard 33 begins at 9°", 72, 9, 33, true},
		{"Svalbard 33 ends at 21°", 78, 20.999, 33, true},
		{"Svalbard 35", 78, 21, 35, true},
		{"Svalbard 37", 78, 33, 37, true},
		{"east of Svalbard", 78, 42, 38, true},
		{"west of Svalbard", 78, -0.001, 30, true},
		{"UPS at 84°", 84, 20, 0, true},
		{"UTM below 84°", 83.999, 20, 33, true},
		{"UTM at 80° south", -80, 20, 34, false},
		{"UPS below", -80.001, 20, 0, false},
		{"longitude over 180°", 10, 355, 30, true},
	} {
		zone, north := UTMZoneFor(DegLatLon(c.lat, c.lon))
		if zone != c.zone || north != c.north {
			t.Errorf("%s: got %d %v, want %d %v", c.name, zone, north, c.zone, c.north)
		}
	}
	for _, zone := range []int{-1, 61} {
		if UTM(zone, true) != nil {
			t.Errorf("zone %d exists", zone)
		}
	}
}

// GeoConvert, 1,000 rows over the whole earth with the exceptions and UPS:
// zone, coordinates to the printed millimetre, convergence, scale, and MGRS
// both ways.
func TestMGRSRows(t *testing.T) {
	t.Parallel()
	ups, snapped := 0, 0
	for i, r := range vectors(t, "mgrs_utm_ups_1000.tsv", 1000) {
		what := fmt.Sprintf("row %d %s", i+1, r["mgrs_1m"])
		ll := DegLatLon(r.num(t, "lat_deg"), r.num(t, "lon_deg"))
		zone, north := UTMZoneFor(ll)
		if got := zoneText(zone, north); got != r["utm_zone_hemi(n/s alone = UPS)"] {
			t.Errorf("%s: zone %s", what, got)
			continue
		}
		if zone == 0 {
			ups++
		}
		s := UTM(zone, north)
		g, f, err := s.Project(ll)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		near(t, what+" easting", g.E, r.num(t, "easting_m"), 0.00051)
		near(t, what+" northing", g.N, r.num(t, "northing_m"), 0.00051)
		near(t, what+" convergence", f.Convergence.Angle().Deg(), r.num(t, "convergence_deg"), 1e-10)
		near(t, what+" scale", f.Scale, r.num(t, "scale"), 1e-12)

		text, err := s.FormatRefCompact(g, 10)
		if text != r["mgrs_1m"] && snapsOver(g) {
			// The project snaps to 1 mm before it truncates; these rows lie
			// less than half a millimetre short of a metre.
			snapped++
			text, err = s.FormatRefCompact(Grid{E: g.E - 0.0005, N: g.N - 0.0005}, 10)
		}
		if err != nil || text != r["mgrs_1m"] {
			t.Errorf("%s: got %s, %v", what, text, err)
		}
		ref, err := ParseRef(r["mgrs_1m"], RefContext{})
		if err != nil || ref.System != s || ref.Kind != RefMGRS || ref.SquareM != 1 {
			t.Errorf("%s: read as %+v, %v", what, ref, err)
			continue
		}
		centre, _ := ref.Centre()
		near(t, what+" centre easting", centre.E, g.E, 0.5011)
		near(t, what+" centre northing", centre.N, g.N, 0.5011)
	}
	if snapped != 2 {
		t.Errorf("%d rows snapped over a metre, want 2", snapped)
	}
	if ups != 80 {
		t.Errorf("got %d UPS rows, want 80", ups)
	}
}

// snapsOver reports whether snapping to 1 mm lifts a coordinate over a metre.
func snapsOver(g Grid) bool {
	return math.Floor(snapMM(g.E)) != math.Floor(g.E) || math.Floor(snapMM(g.N)) != math.Floor(g.N)
}

func zoneText(zone int, north bool) string {
	hemi := "s"
	if north {
		hemi = "n"
	}
	if zone == 0 {
		return hemi
	}
	text := strconv.Itoa(zone) + hemi
	return strings.Repeat("0", 3-len(text)) + text
}
