package geodesy

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"testing"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
)

// northFirst reports whether the grid's first axis in the EPSG dataset is the
// northing.
func northFirst(s *System) bool {
	switch {
	case s.epsg == epsgNZTM, s.epsg == 3034, s.epsg == 3035, s.epsg == 3006:
		return true
	case s.country == "Japan", s.country == "Norway", s.own == 4314:
		return true
	}
	return false
}

// cs2csPair names a grid's own geographic system and the grid for cs2cs.
func cs2csPair(s *System) (from, to string) {
	from, to = fmt.Sprintf("EPSG:%d", s.own), fmt.Sprintf("EPSG:%d", s.epsg)
	if s.epsg == epsgLatLon { // there it is not a grid
		to = "proj=eqc datum=WGS84 type=crs"
	}
	return from, to
}

// areaPlaces returns seeded random positions, latitude and longitude in degrees,
// rounded to what is handed to the other program.
func areaPlaces(s *System, n int) [][2]float64 {
	rng := rand.New(rand.NewPCG(11, uint64(s.epsg)))
	out := make([][2]float64, n)
	for i := range out {
		b := s.area[i%len(s.area)]
		out[i] = [2]float64{
			math.Round((b.South+rng.Float64()*(b.North-b.South))*1e10) / 1e10,
			math.Round((b.West+rng.Float64()*(b.East-b.West))*1e10) / 1e10,
		}
	}
	return out
}

// runCS2CS feeds rows of two numbers to cs2cs and returns its rows.
func runCS2CS(t *testing.T, format, from, to string, in [][2]float64) [][2]float64 {
	t.Helper()
	path, err := exec.LookPath("cs2cs")
	if err != nil {
		t.Skip("cs2cs (Debian package proj-bin) is not installed")
	}
	var text, out bytes.Buffer
	for _, p := range in {
		fmt.Fprintf(&text, "%.10f %.10f\n", p[0], p[1])
	}
	cmd := exec.Command(path, "-f", format, from, to)
	cmd.Stdin, cmd.Stdout = &text, &out
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	var rows [][2]float64
	for s := bufio.NewScanner(&out); s.Scan(); {
		var a, b float64
		if _, err := fmt.Sscan(s.Text(), &a, &b); err != nil {
			t.Fatalf("cs2cs wrote %q", s.Text())
		}
		rows = append(rows, [2]float64{a, b})
	}
	if len(rows) != len(in) {
		t.Fatalf("cs2cs: %d rows for %d", len(rows), len(in))
	}
	return rows
}

// PROJ's cs2cs, every grid of the catalogue: where 200 positions inside its area are
// drawn, from the grid's own geographic system, within 0.1 mm both ways; and what
// checkFactors holds at 20 positions, or at 200 where the figures are published. One
// cs2cs answers for all of a grid, because its start takes longer than its sums.
func TestAgainstCS2CS(t *testing.T) {
	t.Parallel()
	const drawn = 200
	factors := 20
	if os.Getenv("LEGWRIGHT_FIGURES") != "" {
		factors = 200
	}
	for _, s := range Catalogue() {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			lls, places := areaPlaces(s, drawn), factorPlaces(s, factors)
			from, to := cs2csPair(s)
			out := runCS2CS(t, "%.9f", from, to, append(slices.Clone(lls), crossesAround(places)...))
			for i, want := range out[:drawn] {
				checkDrawn(t, s, lls[i], want)
			}
			for i, p := range places {
				checkFactors(t, s, p, out[drawn+8*i:drawn+8*i+8])
			}
		})
	}
}

// checkDrawn compares where a position is drawn, and the way back, with cs2cs.
func checkDrawn(t *testing.T, s *System, p, want [2]float64) {
	t.Helper()
	if northFirst(s) {
		want[0], want[1] = want[1], want[0]
	}
	what := fmt.Sprintf("%.6f, %.6f", p[0], p[1])
	g, _, err := s.Project(DegLatLon(p[0], p[1]))
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	near(t, what+" easting", g.E, want[0], 1e-4)
	near(t, what+" northing", g.N, want[1], 1e-4)
	back, _, err := s.Unproject(Grid{E: want[0], N: want[1]})
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	near(t, what+" latitude m", rad(back.Lat.Deg()-p[0])*6.4e6, 0, 1e-4)
	near(t, what+" longitude m", earth.WrapLon(rad(back.Lon.Deg()-p[1]))*6.4e6*math.Cos(rad(p[0])), 0, 1e-4)
}

// The seven-parameter shifts against PROJ with the same published figures, to
// the digits of the parameters.
func TestShiftsAgainstCS2CS(t *testing.T) {
	t.Parallel()
	// Great Britain's figures are published the other way round; turning their signs, as
	// the guide does, leaves a few centimetres.
	for _, c := range []struct {
		name string
		epsg int
		h    *datum.Helmert
		tol  float64 // metres
		proj string
	}{
		{"Ireland", epsgIrish, datum.IrelandHelmert(), 0.001, "proj=longlat type=crs a=6377340.189 rf=299.3249646 " +
			"towgs84=482.5,-130.6,564.6,-1.042,-0.214,-0.631,8.15"},
		{"Great Britain", epsgBritain, datum.OSHelmert(), 0.03, "proj=longlat type=crs ellps=airy " +
			"towgs84=446.448,-125.157,542.060,0.1502,0.2470,0.8421,-20.4894"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := mustLookup(c.epsg)
			lonLat := areaPlaces(s, 200)
			for i := range lonLat {
				lonLat[i][0], lonLat[i][1] = lonLat[i][1], lonLat[i][0]
			}
			for i, want := range runCS2CS(t, "%.11f", "proj=longlat datum=WGS84 type=crs", c.proj, lonLat) {
				in := DegLatLon(lonLat[i][1], lonLat[i][0])
				g, _, _, err := c.h.FromWGS84(s.plane(), in)
				if err != nil {
					t.Fatal(err)
				}
				own, _, err := s.Unproject(g)
				if err != nil {
					t.Fatal(err)
				}
				what := fmt.Sprintf("%.6f, %.6f", in.Lat.Deg(), in.Lon.Deg())
				near(t, what+" latitude m", rad(own.Lat.Deg()-want[1])*6.4e6, 0, c.tol)
				near(t, what+" longitude m", rad(own.Lon.Deg()-want[0])*6.4e6*math.Cos(float64(in.Lat)), 0, c.tol)
			}
		})
	}
}

// EPSG:32661 and EPSG:32761 are the grids of UPS, whose figures PROJ writes northing
// first: the same position to 0.1 mm.
func TestUPSNorthFirstAgainstCS2CS(t *testing.T) {
	t.Parallel()
	for code, same := range map[int]int{32661: epsgUPSNorth, 32761: epsgUPSSouth} {
		s, err := Lookup(EPSG(code))
		if err != nil || s != mustLookup(same) {
			t.Fatalf("EPSG:%d: got %v, %v, want EPSG:%d", code, s, err, same)
		}
		places := areaPlaces(s, 50)
		for i, row := range runCS2CS(t, "%.6f", "EPSG:4326", fmt.Sprintf("EPSG:%d", code), places) {
			g, _, err := s.Project(DegLatLon(places[i][0], places[i][1]))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "northing", g.N, row[0], 1e-4)
			near(t, "easting", g.E, row[1], 1e-4)
		}
	}
}
