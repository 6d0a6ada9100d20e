package georef

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"legwright/mapio/scan"
)

// TestWorldCorner: figures worked by hand. With 2.5 m pixels, the centre of
// the first at 400 001.25, 799 998.75 puts the corner at 400 000, 800 000.
func TestWorldCorner(t *testing.T) {
	t.Parallel()
	h := scan.Header{Width: 40, Height: 30, Orientation: 1}
	for _, c := range []struct {
		name, file string
		col, row   float64
		e, n       float64
	}{
		{"corner", "2.5\n0\n0\n-2.5\n400001.25\n799998.75\n", 0, 0, 400000, 800000},
		{"far corner", "2.5\n0\n0\n-2.5\n400001.25\n799998.75\n", 40, 30, 400100, 799925},
		{"first centre", "2.5\r\n0\r\n0\r\n-2.5\r\n400001.25\r\n799998.75", 0.5, 0.5, 400001.25, 799998.75},
		{"commas", "2,5 0,0 0,0 -2,5 400001,25 799998,75", 0, 0, 400000, 800000},
		{"with mark", "\ufeff2.5\n0\n0\n-2.5\n400001.25\n799998.75\n", 0, 0, 400000, 800000},
		{"turned", "0\n-2\n-2\n0\n1000\n500\n", 0.5, 0.5, 1000, 500},
		{"turned on", "0\n-2\n-2\n0\n1000\n500\n", 1.5, 3.5, 1000 - 6, 500 - 2},
		{"exponent", "1e1 0 0 -1E+1 5 -5", 0, 0, 0, 0},
	} {
		fsys := fstest.MapFS{"map.tif": {}, "map.tfw": {Data: []byte(c.file)}}
		w, name, err := FindWorld(fsys, "map.tif", h)
		if err != nil || w == nil || name != "map.tfw" {
			t.Errorf("%s: got %v, %q, %v", c.name, w, name, err)
			continue
		}
		e, n := w.At(c.col, c.row)
		if math.Abs(e-c.e) > 1e-9 || math.Abs(n-c.n) > 1e-9 {
			t.Errorf("%s: (%g, %g) lies at %.6f, %.6f, want %.6f, %.6f", c.name, c.col, c.row, e, n, c.e, c.n)
		}
	}
}

// TestWorldRotatedSample: the transform of a rotated sample raster (30°,
// pixel 20 × 10) published with rasterio's tests, X = 100 + 17.3205080757 col
// + 5 row, Y = 200 + 10 col − 8.6602540378 row, corner convention.
func TestWorldRotatedSample(t *testing.T) {
	t.Parallel()
	c := 100 + (17.3205080757+5)/2
	f := 200 + (10-8.6602540378)/2
	file := fmt.Sprintf("17.3205080757\n10\n5\n-8.6602540378\n%.12f\n%.12f\n", c, f)
	w, _, err := FindWorld(fstest.MapFS{"r.tif": {}, "r.TFW": {Data: []byte(file)}}, "r.tif", scan.Header{Width: 10, Height: 15, Orientation: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := [6]float64{17.3205080757, 5, 100, 10, -8.6602540378, 200}
	for i, v := range w.Matrix() {
		if math.Abs(v-want[i]) > 1e-9 {
			t.Errorf("figure %d: %.10f, want %.10f", i, v, want[i])
		}
	}
}

// TestWorldOriented: the stored corner keeps its place on the ground however
// the picture is shown. Stored 4 × 2 with 1 m pixels, corner at (10, 20): the
// stored corners are A(10,20) top left, B(14,20), C(14,18), D(10,18). What
// the shown picture has at top left, top right and bottom left, by hand from
// TIFF 6.0, tag 274.
func TestWorldOriented(t *testing.T) {
	t.Parallel()
	a, b, c, d := [2]float64{10, 20}, [2]float64{14, 20}, [2]float64{14, 18}, [2]float64{10, 18}
	for o, want := range map[int][3][2]float64{
		1: {a, b, d}, 2: {b, a, c}, 3: {c, d, b}, 4: {d, c, a},
		5: {a, d, b}, 6: {d, a, c}, 7: {c, b, d}, 8: {b, c, a},
	} {
		h := scan.Header{Width: 4, Height: 2, Orientation: o}
		if o >= 5 {
			h.Width, h.Height = 2, 4
		}
		w := WorldFile{A: 1, E: -1, C: 10.5, F: 19.5}.shown(h)
		for i, p := range [3][2]float64{{0, 0}, {float64(h.Width), 0}, {0, float64(h.Height)}} {
			if e, n := w.At(p[0], p[1]); math.Abs(e-want[i][0]) > 1e-12 || math.Abs(n-want[i][1]) > 1e-12 {
				t.Errorf("orientation %d, corner %v: (%g, %g), want %v", o, p, e, n, want[i])
			}
		}
	}
}

// TestWorldNames: both conventions of naming, whatever the case.
func TestWorldNames(t *testing.T) {
	t.Parallel()
	good := []byte("1 0 0 -1 0 0")
	for _, c := range []struct {
		picture string
		files   []string
		want    string
	}{
		{"m.tif", []string{"m.tfw"}, "m.tfw"},
		{"m.tif", []string{"m.tifw"}, "m.tifw"},
		{"m.tiff", []string{"m.tfw"}, "m.tfw"},
		{"m.tiff", []string{"m.tiffw"}, "m.tiffw"},
		{"m.jpg", []string{"m.jgw"}, "m.jgw"},
		{"m.jpg", []string{"m.jpgw"}, "m.jpgw"},
		{"m.jpeg", []string{"m.jgw"}, "m.jgw"},
		{"m.png", []string{"m.pgw"}, "m.pgw"},
		{"m.png", []string{"m.pngw"}, "m.pngw"},
		{"m.bmp", []string{"m.bpw"}, "m.bpw"},
		{"m.gif", []string{"m.gfw"}, "m.gfw"},
		{"M.TIF", []string{"m.Tfw"}, "m.Tfw"},
		{"m.png", []string{"M.WLD"}, "M.WLD"},
		{"a/m.png", []string{"a/m.wld", "a/m.PGW"}, "a/m.PGW"},
		{"a/m.png", []string{"m.pgw", "a/n.pgw"}, ""},
		{"m.png", []string{"m.tfw", "m.pgw.txt"}, ""},
	} {
		fsys := fstest.MapFS{c.picture: {}}
		for _, f := range c.files {
			fsys[f] = &fstest.MapFile{Data: good}
		}
		w, got, err := FindWorld(fsys, c.picture, scan.Header{Width: 1, Height: 1, Orientation: 1})
		if got != c.want || err != nil || (w != nil) != (c.want != "") {
			t.Errorf("%s beside %v: %q, %v, %v, want %q", c.picture, c.files, got, w, err, c.want)
		}
	}
}

func TestWorldRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ data, words string }{
		{"", "0 numbers"},
		{"1 0 0 -1 5", "5 numbers"},
		{"1 0 0 -1 5 5 7", "7 numbers"},
		{"1 0 0 -1 NaN 5", "not within"},
		{"1 0 0 -1 Inf 5", "not within"},
		{"1 0 0 -1 1e400 5", "not within"},
		{"1 0 0 -1 five 5", "not a number"},
		{"1 0 0 -1 1,000,000 5", "not a number"},
		{"0 0 0 -1 5 5", "no area"},
		{"2 2 2 2 5 5", "no area"},
		{strings.Repeat("1 ", 5000), "more than"},
	} {
		fsys := fstest.MapFS{"m.png": {Data: pngOf(t, ramp(4, 4, 1))}, "m.pgw": {Data: []byte(c.data)}}
		w, name, err := FindWorld(fsys, "m.png", scan.Header{Width: 4, Height: 4, Orientation: 1})
		if w != nil || name != "m.pgw" || !errors.Is(err, ErrWorld) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%.20q: %v, %q, %v, want ErrWorld with %q", c.data, w, name, err, c.words)
		}
		if f := Find(scan.GeoData{Folder: fsys, Name: "m.png", Header: scan.Header{Width: 4, Height: 4, Orientation: 1}}); f.World != nil || !errors.Is(f.WorldFault, ErrWorld) {
			t.Errorf("%.20q: found %+v, want the fault alone", c.data, f)
		}
	}
}

// TestWorldOfPages: a world file speaks of the first page.
func TestWorldOfPages(t *testing.T) {
	t.Parallel()
	fsys := fstest.MapFS{"p.tif": {}, "p.tfw": {Data: []byte("1 0 0 -1 100 200")}}
	for page, want := range map[int]bool{0: true, 1: true, 2: false} {
		w, _, err := FindWorld(fsys, "p.tif", scan.Header{Width: 4, Height: 4, Orientation: 1, Page: page, Pages: 2})
		if err != nil || (w != nil) != want {
			t.Errorf("page %d: got %v, %v, want one %v", page, w, err, want)
		}
	}
}

// TestWorldAgainstGDAL lets GDAL read the same picture and world file.
func TestWorldAgainstGDAL(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("gdalinfo")
	if err != nil {
		t.Skip("gdalinfo (Debian gdal-bin) is not installed")
	}
	dir := t.TempDir()
	for name, data := range map[string]string{
		"m.png": string(pngOf(t, ramp(12, 9, 1))), "m.pgw": "3.25\n0.75\n-0.5\n-4\n312345.678\n756789.012\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.Command(tool, "-json", filepath.Join(dir, "m.png")).Output()
	if err != nil {
		t.Fatalf("gdalinfo: %v", err)
	}
	var info struct{ GeoTransform [6]float64 }
	if err := json.Unmarshal(out, &info); err != nil {
		t.Fatal(err)
	}
	s, err := scan.Open(t.Context(), os.DirFS(dir), "m.png", scan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	g, w := info.GeoTransform, Find(s.Geo).World
	if w == nil {
		t.Fatal("no world file was found")
	}
	for i, pair := range [6][2]float64{{w.C, g[0]}, {w.A, g[1]}, {w.B, g[2]}, {w.F, g[3]}, {w.D, g[4]}, {w.E, g[5]}} {
		if math.Abs(pair[0]-pair[1]) > 1e-6 {
			t.Errorf("figure %d: %.9f, gdalinfo %.9f", i, pair[0], pair[1])
		}
	}
}
