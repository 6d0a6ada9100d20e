package geodesy

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"legwright/app/geodesy/earth"
)

// exportsOf returns a grid of the EPSG dataset as GDAL's gdalsrsinfo writes it,
// by the headings of its list.
func exportsOf(t *testing.T, epsg int) map[string]string {
	t.Helper()
	path, err := exec.LookPath("gdalsrsinfo")
	if err != nil {
		t.Skip("gdalsrsinfo (Debian package gdal-bin) is not installed")
	}
	out, err := exec.Command(path, "--single-line", "-o", "all", fmt.Sprintf("EPSG:%d", epsg)).Output()
	if err != nil {
		t.Fatalf("gdalsrsinfo, EPSG:%d: %v", epsg, err)
	}
	texts, heading := map[string]string{}, ""
	for _, line := range strings.Split(string(out), "\n") {
		line = strings.TrimSpace(line)
		if proj, ok := strings.CutPrefix(line, "PROJ.4 :"); ok {
			texts["PROJ"] = strings.TrimSpace(proj)
		} else if strings.HasSuffix(line, " :") {
			heading = strings.TrimSuffix(line, " :")
		} else if line != "" && heading != "" {
			texts[heading], heading = line, ""
		}
	}
	return texts
}

// Grids of the catalogue as GDAL writes them, in five ways each: every one
// comes back as the same grid, or as one on the same datum that draws the same
// within 0.1 mm, where two grids of the catalogue are twins. A PROJ string may
// leave the datum out.
func TestDefineReadsWhatGDALWrites(t *testing.T) {
	t.Parallel()
	for _, code := range []int{
		27700, 29903, 2157, 2193, 3057, 2154, 3812, 31370, 2056, 21781, 3006, 3067, 31466, 31467, 31468, 31469,
		3034, 3035, 25828, 25829, 25830, 25831, 25832, 25833, 25834, 25835, 25836, 25837, 25838, 5105, 5110, 5118, 5130,
		6669, 6672, 6677, 6687, 7849, 7852, 7855, 7856, 26901, 26910, 26913, 26919, 26923, 26701, 26710, 26713, 26722,
		32601, 32612, 32630, 32633, 32648, 32660, 32701, 32719, 32736, 32755, 32760, 5041, 5042, 3857, 4326,
	} {
		want := mustLookup(code)
		t.Run(want.name, func(t *testing.T) {
			t.Parallel()
			texts := exportsOf(t, code)
			for _, format := range []string{"PROJ", "OGC WKT1", "OGC WKT2:2015", "OGC WKT2:2019", "ESRI WKT"} {
				got, err := Define(texts[format])
				if err != nil {
					t.Errorf("%s: %v\n%s", format, err, texts[format])
					continue
				}
				if got == want {
					continue
				}
				if msg := drawsAlike(got, want); msg != "" {
					t.Errorf("%s came back as %v: %s\n%s", format, got.Code(), msg, texts[format])
				}
				if format != "PROJ" && got.own != want.own {
					t.Errorf("%s came back as %v, though the text names its datum\n%s", format, got.Code(), texts[format])
				}
				t.Logf("%s: EPSG:%d came back as %v", format, code, got.Code())
			}
		})
	}
}

// drawsAlike compares 40 positions of the area to 0.1 mm.
func drawsAlike(got, want *System) string {
	for _, p := range areaPlaces(want, 40) {
		ll := DegLatLon(p[0], p[1])
		g, _, errG := got.Project(ll)
		w, _, errW := want.Project(ll)
		if errG != nil || errW != nil || math.Hypot(g.E-w.E, g.N-w.N) > 1e-4 {
			return fmt.Sprintf("at %v: got %v, %v, want %v, %v", p, g, errG, w, errW)
		}
	}
	return ""
}

// groundOf returns positions around the middle of an invented grid.
func groundOf(s *System, n int) [][2]float64 {
	rng := rand.New(rand.NewPCG(5, uint64(len(s.code))))
	b := s.area[0]
	width := b.East - b.West
	if width <= 0 {
		width += 360
	}
	out := make([][2]float64, n)
	for i := range out {
		lon := earth.WrapDeg(b.West + (0.15+0.7*rng.Float64())*width)
		lat := b.South + (0.15+0.7*rng.Float64())*(b.North-b.South)
		out[i] = [2]float64{math.Round(lon*1e9) / 1e9, math.Round(lat*1e9) / 1e9}
	}
	return out
}

// Invented definitions against PROJ's cs2cs, 50 positions each: the drawing from
// the grid's own latitude and longitude within 0.1 mm, by the text as given and
// by the code that is made of it.
func TestInventedGridsAgainstCS2CS(t *testing.T) {
	t.Parallel()
	for _, text := range inventedGrids() {
		t.Run(text, func(t *testing.T) {
			t.Parallel()
			s, err := Define(text)
			if err != nil {
				t.Fatal(err)
			}
			if s.unit.Name == "degree" {
				return // cs2cs takes it for no grid
			}
			places := groundOf(s, 50)
			for _, definition := range []string{text, string(s.Code())} {
				// no shift between the two: the grid's own datum is meant
				to := stripDatum(definition, s) + " type=crs"
				from := "proj=longlat no_defs type=crs " + shapeOf(to)
				for i, want := range runCS2CS(t, "%.7f", from, to, places) {
					g, _, err := s.Project(DegLatLon(places[i][1], places[i][0]))
					if err != nil {
						t.Fatalf("%v: %v", places[i], err)
					}
					e, n := s.InUnits(g)
					if d := math.Hypot(e-want[0], n-want[1]) * s.unit.Metres; d > 1e-4 {
						t.Fatalf("%s at %v: got %.5f %.5f, want %.5f %.5f (%.2g m off)", to, places[i], e, n, want[0], want[1], d)
					}
				}
			}
		})
	}
}

// shapeOf returns the ellipsoid of a definition as it is written there.
func shapeOf(text string) string {
	var out []string
	for _, f := range strings.Fields(text) {
		if key, _, _ := strings.Cut(f, "="); key == "ellps" || key == "a" || key == "b" || key == "rf" {
			out = append(out, f)
		}
	}
	return strings.Join(out, " ")
}

// stripDatum takes the shift out of a definition.
func stripDatum(text string, s *System) string {
	var out []string
	for _, f := range strings.Fields(strings.ReplaceAll(text, "+", "")) {
		switch {
		case strings.HasPrefix(f, "towgs84="), strings.HasPrefix(f, "base="), strings.HasPrefix(f, "nadgrids="):
		case strings.HasPrefix(f, "datum="):
			out = append(out, fmt.Sprintf("a=%.6f rf=%.12f", s.ellipsoid.A, s.ellipsoid.InvF))
		default:
			out = append(out, f)
		}
	}
	return strings.Join(out, " ")
}

// The way to WGS 84 of invented definitions with a shift of their own, against
// cs2cs: within 5 mm, which is what PROJ leaves by turning a shift with
// rotations of seconds round by the transposed matrix.
func TestInventedShiftsAgainstCS2CS(t *testing.T) {
	t.Parallel()
	for _, text := range inventedGrids() {
		// by its name cs2cs would look for a better shift
		text = strings.Replace(text, "+datum=nzgd49", "+ellps=intl +towgs84=59.47,-5.04,187.44,0.47,-0.1,1.024,-4.5993", 1)
		if !strings.Contains(text, "towgs84") {
			continue
		}
		t.Run(text, func(t *testing.T) {
			t.Parallel()
			s, err := Define(text)
			if err != nil {
				t.Fatal(err)
			}
			if s.unit.Name == "degree" {
				return
			}
			places := groundOf(s, 30)
			for i, want := range runCS2CS(t, "%.6f", "proj=longlat datum=WGS84 type=crs", strings.ReplaceAll(text, "+", "")+" type=crs", places) {
				g, _, shift, err := s.FromWGS84(DegLatLon(places[i][1], places[i][0]))
				if err != nil {
					t.Fatal(err)
				}
				if shift.Unknown || shift.Identity {
					t.Fatalf("shift %+v", shift)
				}
				e, n := s.InUnits(g)
				if d := math.Hypot(e-want[0], n-want[1]) * s.Unit().Metres; d > 5e-3 {
					t.Fatalf("at %v: got %.4f %.4f, want %.4f %.4f", places[i], e, n, want[0], want[1])
				}
			}
		})
	}
}
