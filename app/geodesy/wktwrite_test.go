package geodesy

import (
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestWKT1ComesBack: every grid of the catalogue and every invented one, written
// as well-known text and read again, is the same grid.
func TestWKT1ComesBack(t *testing.T) {
	t.Parallel()
	for _, s := range Catalogue() {
		text, err := s.WKT1()
		if err != nil {
			t.Errorf("%v: %v", s, err)
			continue
		}
		if back, err := Define(text); err != nil || back != s {
			t.Errorf("%v comes back as %v, %v\n%s", s, back, err, text)
		}
	}
	for _, d := range append(inventedGrids(),
		`PROJCS["Isle",GEOGCS["Isle 1900",DATUM["Isle_1900",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",-3],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1]]`,
	) {
		s, err := Define(d)
		if err != nil {
			t.Fatal(err)
		}
		text, err := s.WKT1()
		if err != nil {
			t.Errorf("%s: %v", d, err)
			continue
		}
		if back, err := Define(text); err != nil || !back.Code().Alike(s.Code()) {
			t.Errorf("%s comes back as %v, %v\n%s", d, back, err, text)
		}
	}
}

// TestWKT1Refused: a cone with a scale factor beside two parallels has no method
// in OGC 01-009, and a reader would leave the factor out.
func TestWKT1Refused(t *testing.T) {
	t.Parallel()
	s, err := Define("+proj=lcc +lat_1=63 +lat_2=67.5 +lat_0=64 +lon_0=-18 +k_0=0.9999 +x_0=400000 +y_0=300000 +ellps=intl +towgs84=-73,46,-86")
	if err != nil {
		t.Fatal(err)
	}
	if text, err := s.WKT1(); !errors.Is(err, ErrNoWKT) {
		t.Errorf("got %q, %v", text, err)
	}
}

// TestWKT1ByPROJ: cs2cs draws from the text what is drawn here, 0.1 mm, from the
// latitude and longitude that stand in it.
func TestWKT1ByPROJ(t *testing.T) {
	t.Parallel()
	var grids []*System
	for _, code := range []int{27700, 29903, 2157, 2193, 3057, 2154, 31370, 2056, 21781, 31467, 3034, 3035, 25832, 5105, 6677, 7855, 26719, 26710, 32630, 32719, 5041, 5042, 3857} {
		grids = append(grids, mustLookup(code))
	}
	for _, d := range inventedGrids() {
		if s, err := Define(d); err == nil && !s.degrees() {
			grids = append(grids, s)
		}
	}
	for _, s := range grids {
		t.Run(string(s.Code()), func(t *testing.T) {
			t.Parallel()
			text, err := s.WKT1()
			if err != nil {
				t.Fatal(err)
			}
			_, rest, _ := strings.Cut(text, ",GEOGCS[")
			base, _, _ := strings.Cut(rest, ",PROJECTION[")
			if bare, _, coded := strings.Cut(base, ",AUTHORITY["); coded {
				base = bare + "]" // by its code latitude would come first
			}
			places := areaPlaces(s, 20)
			if s.epsg == 0 {
				lonLat := groundOf(s, 20)
				for i, p := range lonLat {
					places[i] = [2]float64{p[1], p[0]}
				}
			}
			lonLat := make([][2]float64, len(places))
			for i, p := range places {
				lonLat[i] = [2]float64{p[1], p[0]}
			}
			for i, want := range runCS2CS(t, "%.9f", "GEOGCS["+base, text, lonLat) {
				g, _, err := s.Project(DegLatLon(places[i][0], places[i][1]))
				if err != nil {
					t.Fatal(err)
				}
				if e, n := s.InUnits(g); math.Hypot(e-want[0], n-want[1])*s.Unit().Metres > 1e-4 {
					t.Fatalf("%v: %.4f %.4f, cs2cs has %.4f %.4f\n%s", places[i], e, n, want[0], want[1], text)
				}
			}
		})
	}
}

// TestWKT1ByGDAL: gdalsrsinfo finds nothing wrong with the text, and knows the
// grid of the catalogue by it.
func TestWKT1ByGDAL(t *testing.T) {
	t.Parallel()
	path, err := exec.LookPath("gdalsrsinfo")
	if err != nil {
		t.Skip("gdalsrsinfo (Debian package gdal-bin) is not installed")
	}
	for _, code := range []int{27700, 2056, 3857, 4326, 32630, 5042, 3035, 31370} {
		text, err := mustLookup(code).WKT1()
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "grid.prj")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(path, "-V", "-o", "epsg", file).CombinedOutput()
		if err != nil || !strings.Contains(string(out), "Validate Succeeds") || !strings.Contains(string(out), string(EPSG(code))) {
			t.Errorf("EPSG:%d: %v\n%s\n%s", code, err, out, text)
		}
	}
}
