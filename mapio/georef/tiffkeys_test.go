package georef

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/mapio/scan"
	"legwright/mapio/tiff"
)

// Grids that GDAL 3 spells out key by key are read as it wrote them: the
// corners within 1e-6 of a pixel of gdalinfo's, and the middle within 0.1 mm of
// where PROJ's own program draws its latitude and longitude on the ellipsoid.
func TestGridsSpeltOutAgainstGDAL(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdalinfo", "gdal_translate", "proj")
	dir := t.TempDir()
	src := filepath.Join(dir, "src.png")
	smallPNG(t, src)
	for i, c := range []struct {
		def     string
		unknown bool // the datum's shift
		ullr    string
	}{
		{"+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.99987 +x_0=300000 +y_0=-50000 +ellps=airy", true, "250000 720000 250300 719800"},
		{"+proj=tmerc +lat_0=0 +lon_0=9 +k=1 +x_0=3500000 +y_0=0 +datum=potsdam +units=us-ft", false, "11400000 18000000 11400600 17999600"},
		{"+proj=tmerc +lat_0=40 +lon_0=12 +k=0.9999 +x_0=1000 +y_0=0 +a=6378137 +rf=298.3 +towgs84=1,2,3,0.1,0.2,0.3,4", false, "2000 8000 2600 7600"},
		{"+proj=utm +zone=33 +ellps=intl", true, "450000 5200000 450600 5199600"},
		{"+proj=utm +zone=19 +south +ellps=bessel", true, "450000 5200000 450600 5199600"},
		{"+proj=lcc +lat_1=49 +lat_2=44 +lat_0=46.5 +lon_0=3 +x_0=710000 +y_0=6600000 +ellps=GRS80", false, "700000 6600000 700060 6599960"},
		{"+proj=lcc +lat_1=46.8 +lat_0=46.8 +k_0=0.99987742 +lon_0=2.337229 +x_0=600000 +y_0=2200000 +a=6378249.2 +b=6356515", true, "700000 2300000 700060 2299960"},
		{"+proj=laea +lat_0=52 +lon_0=10 +x_0=4321000 +y_0=3210000 +ellps=WGS84", false, "4300000 2800000 4300600 2799600"},
		{"+proj=stere +lat_0=90 +lat_ts=71 +lon_0=-45 +datum=WGS84", false, "100000 -200000 100600 -200400"},
		{"+proj=stere +lat_0=-90 +k=0.994 +lon_0=5 +x_0=2000000 +y_0=2000000 +datum=WGS84", false, "2100000 2200000 2100600 2199600"},
		{"+proj=somerc +lat_0=46.95 +lon_0=7.44 +k_0=1 +x_0=2600000 +y_0=1200000 +ellps=bessel +towgs84=674.374,15.056,405.346", false, "2600000 1200000 2600600 1199600"},
		{"+proj=merc +lon_0=100 +k=0.997 +x_0=3900000 +y_0=900000 +ellps=bessel", true, "3950000 1000000 3950600 999600"},
		{"+proj=merc +lon_0=100 +lat_ts=41 +ellps=krass", true, "50000 4000000 50600 3999600"},
	} {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			t.Parallel()
			name := fmt.Sprintf("u%d.tif", i)
			file := filepath.Join(dir, name)
			args := append([]string{"-q", "-of", "GTiff", "-a_srs", c.def, "-a_ullr"}, strings.Fields(c.ullr)...)
			if out, err := exec.Command("gdal_translate", append(args, src, file)...).CombinedOutput(); err != nil {
				t.Fatalf("gdal_translate: %v: %s", err, out)
			}
			_, p, err := look(os.DirFS(dir), name, scan.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if p == nil || p.System == nil {
				t.Fatalf("%s: got %+v, want its grid", c.def, p)
			}
			sameCorners(t, p, gdalInfo(t, file), 1e-6)
			m := p.Matrix
			g := geodesy.Grid{E: m[0]*30 + m[1]*20 + m[2], N: m[3]*30 + m[4]*20 + m[5]}
			onDatum(t, p.System, g, c.def)
			_, shift, err := p.System.ToWGS84(g)
			if err != nil || shift.Unknown != c.unknown {
				t.Errorf("shift %+v, %v, want unknown %v", shift, err, c.unknown)
			}
		})
	}
}

// onDatum compares a position and its latitude and longitude on the grid's own datum
// with PROJ's drawing.
func onDatum(t *testing.T, s *geodesy.System, g geodesy.Grid, def string) {
	t.Helper()
	var keys []string
	for _, k := range strings.Fields(def) { // proj knows no datum
		switch {
		case k == "+datum=potsdam":
			k = "+ellps=bessel"
		case k == "+datum=WGS84":
			k = "+ellps=WGS84"
		case strings.HasPrefix(k, "+towgs84"), strings.HasPrefix(k, "+units"):
			continue
		}
		keys = append(keys, k)
	}
	ll, _, err := s.Unproject(g)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("proj", append([]string{"-f", "%.6f"}, keys...)...)
	cmd.Stdin = strings.NewReader(fmt.Sprintf("%.13f %.13f\n", ll.Lon.Deg(), ll.Lat.Deg()))
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("proj: %v", err)
	}
	var e, n float64
	if _, err := fmt.Sscan(string(out), &e, &n); err != nil {
		t.Fatalf("proj says %q: %v", out, err)
	}
	if off := math.Hypot(e-g.E, n-g.N); off > 1e-4 {
		t.Errorf("PROJ puts the middle at %.6f %.6f, want %.6f %.6f: %g m off, at most 0.0001", e, n, g.E, g.N, off)
	}
}

// keysOf makes keys for a test, of numbers.
func keysOf(pairs ...float64) *tiff.Geo {
	g := &tiff.Geo{Model: tiff.Projected, ProjectedCRS: tiff.UserDefined, GeographicCRS: tiff.UserDefined}
	for ; len(pairs) > 1; pairs = pairs[2:] {
		g.Keys = append(g.Keys, tiff.Key{ID: int(pairs[0]), Numbers: []float64{pairs[1]}})
	}
	return g
}

// What cannot be drawn is refused in a sentence that names it; units, meridians
// and ellipsoids by their codes are read.
func TestGridsSpeltOut(t *testing.T) {
	t.Parallel()
	const tm = 1
	for _, c := range []struct {
		name string
		g    *tiff.Geo
		says string // of the refusal, or nothing
	}{
		{"ellipsoid by code", keysOf(keyMethod, tm, keyOriginLong, 9, keyEllipsoid, 7004), ""},
		{"datum by code", keysOf(keyMethod, tm, keyOriginLong, 9, keyDatum, 6314), ""},
		{"grads from Paris", keysOf(keyMethod, tm, keyOriginLong, 0, keyEllipsoid, 7011, keyAngularUnits, 9105, keyMeridianLong, 2.5969213), ""},
		{"Paris without its longitude", keysOf(keyMethod, tm, keyEllipsoid, 7011, keyMeridian, 8903), "EPSG:8903"},
		{"no method", keysOf(keyEllipsoid, 7004), "names no projection"},
		{"another method", keysOf(keyMethod, 22, keyEllipsoid, 7004), "polyconic"},
		{"unheard-of method", keysOf(keyMethod, 99, keyEllipsoid, 7004), "method 99"},
		{"code of a projection", keysOf(keyProjection, 12345, keyEllipsoid, 7004), "EPSG:12345"},
		{"no ellipsoid", keysOf(keyMethod, tm), "neither a datum nor an ellipsoid"},
		{"unknown datum", keysOf(keyMethod, tm, keyDatum, 6999), "EPSG:6999"},
		{"unknown ellipsoid", keysOf(keyMethod, tm, keyEllipsoid, 7099), "EPSG:7099"},
		{"ball", keysOf(keyMethod, tm, keySemiMajor, 6371000, keySemiMinor, 6371000), "uses a sphere"},
		{"feet of Clarke", keysOf(keyMethod, tm, keyEllipsoid, 7004, keyLinearUnits, 9005), "unit of length"},
		{"arc-seconds", keysOf(keyMethod, tm, keyEllipsoid, 7004, keyAngularUnits, 9104), "unit of angles"},
		{"oblique Mercator", keysOf(keyMethod, 9815, keyEllipsoid, 7004, keyCentreLat, 4, keyCentreLong, 115, keyAzimuth, 53.3, keySkew, 53.1), "90° for both"},
	} {
		s, err := systemOfTIFF(c.g)
		switch {
		case c.says == "" && (err != nil || s == nil):
			t.Errorf("%s: got %v, want a grid", c.name, err)
		case c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
			t.Errorf("%s: got %v, want a sentence with %q", c.name, err, c.says)
		}
	}
	s, err := systemOfTIFF(keysOf(keyMethod, tm, keyOriginLong, 1, keyEllipsoid, 7011, keyAngularUnits, 9105, keyMeridianLong, 2.5969213))
	if err != nil {
		t.Fatal(err)
	}
	ll, _, err := s.Unproject(geodesy.Grid{})
	if want := 0.9 * 3.5969213; err != nil || math.Abs(ll.Lon.Deg()-want) > 1e-9 {
		t.Errorf("one grad east of Paris: got %.9f°, %v, want %.9f°", ll.Lon.Deg(), err, want)
	}
}
