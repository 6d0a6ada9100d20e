package dem

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// gdal runs one of GDAL's programs (Debian gdal-bin), the oracle of these tests, and skips without
// it.
func gdal(t *testing.T, name string, args ...string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed (Debian package gdal-bin): no comparison with GDAL", name)
	}
	if out, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
}

// made writes an ASCII grid of waves of 70 × 45 posts 25 m apart with a void and returns its
// name; whole numbers alone for formats that have no others, and a height for the void where they have no negative ones.
func made(t *testing.T, wholeNumbers bool, void float64) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("ncols 70\nnrows 45\nxllcorner 227000\nyllcorner 743000\ncellsize 25\nNODATA_value -9999\n")
	for i := range 70 * 45 {
		h := 300 + 200*math.Sin(float64(i%70)/9)*math.Cos(float64(i/70)/7)
		if wholeNumbers {
			h = math.Round(h)
		}
		if i == 1000 {
			h = void
		}
		fmt.Fprintf(&b, "%.3f ", h)
	}
	name := filepath.Join(t.TempDir(), "made.asc")
	if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func openNamed(t testing.TB, name string, want Want) (*terrain.Tile, error) {
	t.Helper()
	f, err := os.Open(filepath.Clean(name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	return Open(t.Context(), f, info.Size(), filepath.Base(name), want)
}

// TestEncodings: a GeoTIFF that GDAL made of an ASCII grid has the same posts, however it is
// stored, and a window of it too.
func TestEncodings(t *testing.T) {
	t.Parallel()
	s := system(t, britain)
	area, err := terrain.AreaOf(s, geodesy.Grid{E: 227400, N: 743300}, geodesy.Grid{E: 227900, N: 743700}, 0)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		args  string
		whole bool
	}{
		"float32":                      {"-ot Float32", false},
		"float32 deflate, predictor 3": {"-ot Float32 -co COMPRESS=DEFLATE -co PREDICTOR=3", false},
		"float32 in tiles":             {"-ot Float32 -co TILED=YES -co BLOCKXSIZE=32 -co BLOCKYSIZE=16 -co COMPRESS=LZW", false},
		"int16 deflate, predictor 2":   {"-ot Int16 -co COMPRESS=DEFLATE -co PREDICTOR=2", true},
		"int16 LZW, big-endian":        {"-ot Int16 -co COMPRESS=LZW -co ENDIANNESS=BIG", true},
		"uint16 in one strip, BigTIFF": {"-ot UInt16 -co BIGTIFF=YES -co BLOCKYSIZE=45", true},
		"int16, posts and not areas":   {"-ot Int16 -mo AREA_OR_POINT=Point", true},
		"whole numbers of 32 bits":     {"-ot Int32", true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			void := -9999.0
			if strings.Contains(c.args, "UInt16") {
				void = 1
			}
			source, out := made(t, c.whole, void), filepath.Join(t.TempDir(), "made.tif")
			want, err := openNamed(t, source, Want{Grid: s.Code()})
			if err != nil {
				t.Fatal(err)
			}
			args := append([]string{"-q", "-a_srs", "EPSG:27700"}, strings.Fields(c.args)...)
			gdal(t, "gdal_translate", append(args, source, out)...)
			got, err := openNamed(t, out, Want{})
			if err != nil {
				t.Fatal(err)
			}
			samePosts(t, got, want)
			part, err := openNamed(t, out, Want{Area: area})
			if err != nil {
				t.Fatal(err)
			}
			if part.Cols < 22 || part.Cols > 25 || part.Rows < 18 || part.Rows > 21 {
				t.Errorf("window: got %d × %d posts, want about 23 × 19", part.Cols, part.Rows)
			}
			col := int(math.Round((part.NorthWest.E - want.NorthWest.E) / 25))
			row := int(math.Round((want.NorthWest.N - part.NorthWest.N) / 25))
			for i := range part.Posts() {
				if h, w := part.Height(i), want.Height((row+i/part.Cols)*want.Cols+col+i%part.Cols); h != w && !(h != h && w != w) {
					t.Fatalf("post %d of the window: got %v, want %v", i, h, w)
				}
			}
		})
	}
}

// samePosts compares two tiles.
func samePosts(t *testing.T, got, want *terrain.Tile) {
	t.Helper()
	if got.Cols != want.Cols || got.Rows != want.Rows || got.StepE != want.StepE || got.StepN != want.StepN ||
		math.Hypot(got.NorthWest.E-want.NorthWest.E, got.NorthWest.N-want.NorthWest.N) > 1e-6 {
		t.Fatalf("lattice: got %d × %d from %v, want %d × %d from %v", got.Cols, got.Rows, got.NorthWest, want.Cols, want.Rows, want.NorthWest)
	}
	for i := range want.Posts() {
		if h, w := got.Height(i), want.Height(i); h != w && !(h != h && w != w) {
			t.Fatalf("post %d: got %v, want %v", i, h, w)
		}
	}
}

// TestTIFFRefused: pictures, files without a place, turned ones and those in the other unit.
func TestTIFFRefused(t *testing.T) {
	t.Parallel()
	source, dir := made(t, true, -9999), t.TempDir()
	for name, c := range map[string]struct {
		args string
		feet bool
		want error
	}{
		"a picture":      {"-ot Byte -a_srs EPSG:27700", false, ErrNotTerrain},
		"three numbers":  {"-ot Int16 -b 1 -b 1 -b 1 -a_srs EPSG:27700", false, ErrNotTerrain},
		"south up":       {"-ot Int16 -a_srs EPSG:27700 -a_ullr 227000 743000 228750 744125", false, ErrNotTerrain},
		"no grid":        {"-ot Int16", false, ErrNotTerrain},
		"its own feet":   {"-ot Int16 -a_srs EPSG:27700+5754", false, ErrUnit},
		"feet by a unit": {"-ot Int16 -co GEOTIFF_VERSION=1.0 -a_srs EPSG:27700+6360", false, ErrUnit},
		"its own metres": {"-ot Int16 -co GEOTIFF_VERSION=1.0 -a_srs EPSG:27700+5701", true, ErrUnit},
	} {
		out := filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".tif")
		gdal(t, "gdal_translate", append(append([]string{"-q"}, strings.Fields(c.args)...), source, out)...)
		if _, err := openNamed(t, out, Want{Feet: c.feet}); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", name, err, c.want)
		}
	}
}

// TestUnknownUnitOfHeights: heights whose unit the file names by a code of EPSG other than those of
// metres and feet are never taken as either. GDAL writes key 4099 of OGC 19-008r4 with 9003, US
// survey foot, and the test puts other codes there: 9014 is the fathom, 32767 a unit of its own.
func TestUnknownUnitOfHeights(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "unit.tif")
	gdal(t, "gdal_translate", "-q", "-ot", "Int16", "-co", "GEOTIFF_VERSION=1.0", "-a_srs", "EPSG:27700+6360", made(t, true, -9999), out)
	raw, err := os.ReadFile(filepath.Clean(out))
	if err != nil {
		t.Fatal(err)
	}
	key := func(code uint16) (b []byte) {
		for _, v := range []uint16{keyVerticalUnits, 0, 1, code} {
			b = binary.LittleEndian.AppendUint16(b, v)
		}
		return b
	}
	if bytes.Count(raw, key(9003)) != 1 {
		t.Fatal("GDAL wrote the unit otherwise")
	}
	for code, ok := range map[uint16]bool{9001: true, 9014: false, 9095: false, 32767: false, 1: false} {
		_, err := open(bytes.Replace(raw, key(9003), key(code), 1), "unit.tif", Want{})
		_, inFeet := open(bytes.Replace(raw, key(9003), key(code), 1), "unit.tif", Want{Feet: true})
		if ok != (err == nil) || !ok && !errors.Is(err, ErrUnit) || !errors.Is(inFeet, ErrUnit) {
			t.Errorf("unit %d: got %v, in feet %v", code, err, inFeet)
		}
	}
}
