package leg

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

func system(t testing.TB, epsg int) *geodesy.System {
	t.Helper()
	s, err := geodesy.Lookup(geodesy.EPSG(epsg))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var day = plan.Date{Year: 2026, Month: 11, Day: 25}

// The true bearing by the grid chain and the ground distance against geodesics
// made by GeodSolve of GeographicLib 2.1.2 (testdata/vectors/geodesy): 500
// legs of 10 m to 50 km, each on the UTM zone of its start. A straight grid
// line and a geodesic part by the arc-to-chord correction, which is not made:
// the bounds are that difference.
func TestBearingsAndDistancesAgainstGeodesics(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../testdata/vectors/geodesy/geodsolve_walk_distances_500.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, worst10, worst50, worstLen := 0, 0.0, 0.0, 0.0
	for sc := bufio.NewScanner(f); sc.Scan(); {
		var lat1, lon1, azi1, lat2, lon2, azi2, s12 float64
		if n, _ := fmt.Sscan(sc.Text(), &lat1, &lon1, &azi1, &lat2, &lon2, &azi2, &s12); n != 7 {
			continue // header
		}
		rows++
		r := readLatLon(t, geodesy.DegLatLon(lat1, lon1), geodesy.DegLatLon(lat2, lon2))
		off := math.Abs((r.True.Angle() - units.Degrees(azi1)).Signed().Deg())
		// The end points are given to 1e-11 degree, about a micrometre.
		off -= units.Angle(2e-6 / s12).Deg()
		if s12 <= 10_000 {
			worst10 = math.Max(worst10, off)
		}
		worst50 = math.Max(worst50, off)
		worstLen = math.Max(worstLen, math.Abs(r.GroundM-s12)/s12-2e-6/s12)
	}
	if rows != 500 {
		t.Fatalf("read %d rows, want 500", rows)
	}
	t.Logf("worst true bearing %.5f° to 10 km, %.5f° to 50 km; worst distance %.2g", worst10, worst50, worstLen)
	if worst10 > 0.0013 || worst50 > 0.0056 {
		t.Errorf("true bearing off by %.5f° to 10 km and %.5f° to 50 km, want at most 0.0013 and 0.0056", worst10, worst50)
	}
	if worstLen > 2e-7 {
		t.Errorf("ground distance off by %.3g, want at most 2e-7", worstLen)
	}
}

// readLatLon reads between two WGS 84 positions on the UTM zone of the first.
func readLatLon(t *testing.T, a, b geodesy.LatLon) Reading {
	t.Helper()
	zone, north := geodesy.UTMZoneFor(a)
	sys := geodesy.UTM(zone, north)
	ga, _, err := sys.Project(a)
	if err != nil {
		t.Fatal(err)
	}
	gb, _, err := sys.Project(b)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sightOn(sys, day, ga, gb, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Where true, grid and magnetic north met on the 2° W line of Great Britain:
// Ordnance Survey, announcement of 2 November 2022. The latitudes of the positions,
// to 0.01°, are not checked against a gazetteer. The
// model is good to about 0.4° there, so the dates bind it to 0.15° only.
func TestThreeNorthsMeet(t *testing.T) {
	t.Parallel()
	sys := system(t, 27700)
	for _, c := range []struct {
		place string
		lat   float64
		date  plan.Date
	}{
		{"Langton Matravers", 50.61, plan.Date{Year: 2022, Month: 11, Day: 2}},
		{"Hebden Bridge", 53.74, plan.Date{Year: 2024, Month: 8, Day: 15}},
		{"Berwick-upon-Tweed", 55.77, plan.Date{Year: 2025, Month: 8, Day: 15}},
	} {
		a, _, _, err := sys.FromWGS84(geodesy.DegLatLon(c.lat, -2.0014))
		if err != nil {
			t.Fatal(err)
		}
		r, err := sightOn(sys, c.date, a, geodesy.Grid{E: a.E + 300, N: a.N + 400}, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		for name, deg := range map[string]float64{
			"convergence": r.Convergence.Angle().Deg(), "declination": r.Declination.Angle().Deg(), "GMA": r.GMA.Angle().Deg(),
		} {
			if math.Abs(deg) > 0.15 {
				t.Errorf("%s: %s = %.3f°, want 0 within 0.15", c.place, name, deg)
			}
		}
	}
}

// A leg worked by hand on UTM zone 30 north, west of the central meridian 3° W:
// from 4° W 57° N, 3 km east and 4 km north.
//
//	grid bearing   atan(3/4) = 36.869898°, 5000 m
//	convergence    first term Δλ·sin φ = −1° × 0.838671 = −0.838671°; the next
//	               term is below 0.0001°
//	true           36.869898 − 0.838671 = 36.03123°
//	point scale    0.9996·(1 + Δλ²cos²φ/2): Δλ = π/180, cos²57° = 0.296632,
//	               → 0.9996451, so 5000 m of grid are about 5001.77 m of ground
func TestLegWorkedByHand(t *testing.T) {
	t.Parallel()
	sys := geodesy.UTM(30, true)
	a, _, err := sys.Project(geodesy.DegLatLon(57, -4))
	if err != nil {
		t.Fatal(err)
	}
	r, err := sightOn(sys, day, a, geodesy.Grid{E: a.E + 3000, N: a.N + 4000}, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	gma := r.Declination.Angle().Deg() + 0.838671
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"grid", r.Grid.Angle().Deg(), 36.869898, 1e-6},
		{"back", r.Back.Angle().Deg(), 216.869898, 1e-6},
		{"convergence", r.Convergence.Angle().Deg(), -0.838671, 1e-4},
		{"true", r.True.Angle().Deg(), 36.03123, 1e-4},
		{"grid length", r.GridM, 5000, 1e-6},
		{"point scale", r.PointScale, 0.9996451, 1e-6},
		{"ground length", r.GroundM, 5001.8, 0.1},
		{"GMA", r.GMA.Angle().Deg(), gma, 1e-4},
		{"magnetic", r.Magnetic.Angle().Deg(), 36.869898 - gma, 1e-4},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s = %.6f, want %.6f ± %g", c.name, c.got, c.want, c.tol)
		}
	}
	if r.Point != "north-east" || r.Model != "WMM2025" {
		t.Errorf("point %q, model %q", r.Point, r.Model)
	}
}

// Row 1 of the published route card of outdoorleaderonline.org, table 3.1: from
// 220772 to 213758, 700 m west and 1400 m south, printed as 1.7 km (walked).
// Straight: 1565 m on grid bearing 206.6°.
func TestRouteCardRow(t *testing.T) {
	t.Parallel()
	r, err := sightOn(geodesy.UTM(30, true), day, geodesy.Grid{E: 422_000, N: 6_177_200}, geodesy.Grid{E: 421_300, N: 6_175_800}, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Grid.Angle().Deg(); math.Abs(got-206.565) > 0.001 {
		t.Errorf("grid bearing %.3f°, want 206.565", got)
	}
	if math.Abs(r.GridM-1565.25) > 0.01 {
		t.Errorf("grid length %.2f m, want 1565.25", r.GridM)
	}
}

// The sign of convergence on either side of the central meridian and of the
// equator.
func TestSignsAroundTheCentralMeridian(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		lat, lon float64
		sign     float64 // of γ
	}{
		{"north, west of 3° W", 55, -5, -1},
		{"north, east of 3° W", 55, -1, 1},
		{"south, west of 3° W", -35, -5, 1},
		{"south, east of 3° W", -35, -1, -1},
	} {
		a := geodesy.DegLatLon(c.lat, c.lon)
		r := readLatLon(t, a, geodesy.DegLatLon(c.lat+0.01, c.lon))
		if got := r.Convergence.Angle().Deg(); got*c.sign <= 0.5 {
			t.Errorf("%s: γ = %.4f°, want sign %+.0f", c.name, got, c.sign)
		}
		// Due true north along the meridian: grid north lies γ clockwise of it.
		if got := r.True.Angle().Signed().Deg(); math.Abs(got) > 1e-3 {
			t.Errorf("%s: true bearing along the meridian %.5f°, want 0", c.name, got)
		}
		if got := (r.Grid.Angle() + r.Convergence.Angle()).Signed().Deg(); math.Abs(got) > 1e-3 {
			t.Errorf("%s: grid + γ = %.5f°, want 0", c.name, got)
		}
	}
}

// sightOn is one reading without a plan, by a compass that is not set.
func sightOn(sys *geodesy.System, date plan.Date, from, to geodesy.Grid, fromSigmaM, toSigmaM float64) (Reading, error) {
	return NewSighter(sys, date, plan.Compass{}).Sight(from, to, fromSigmaM, toSigmaM)
}
