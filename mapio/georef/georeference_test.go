package georef

import (
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
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

// gdalPlace is what GDAL reads of a picture: its transform in the units of its
// grid, corner convention.
type gdalPlace struct {
	GeoTransform [6]float64 `json:"geoTransform"`
	Size         [2]int     `json:"size"`
}

func gdalInfo(t *testing.T, file string) gdalPlace {
	t.Helper()
	out, err := exec.Command("gdalinfo", "-json", file).Output()
	if err != nil {
		t.Fatalf("gdalinfo: %v", err)
	}
	var p gdalPlace
	if err := json.Unmarshal(out, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

func needGDAL(t *testing.T, names ...string) {
	t.Helper()
	for _, n := range names {
		if _, err := exec.LookPath(n); err != nil {
			t.Skipf("%s is not installed", n)
		}
	}
}

// sameCorners compares the four corners with GDAL's, in pixels.
func sameCorners(t *testing.T, p *Georeference, want gdalPlace, withinPx float64) {
	t.Helper()
	if p == nil || p.Matrix == nil || p.System == nil {
		t.Fatalf("place: got %+v, want a matrix on a known grid", p)
	}
	u, g, m := p.System.Unit().Metres, want.GeoTransform, p.Matrix
	px := math.Sqrt(math.Abs(m[0]*m[4] - m[1]*m[3]))
	for _, c := range [][2]float64{{0, 0}, {float64(want.Size[0]), 0}, {0, float64(want.Size[1])}, {float64(want.Size[0]), float64(want.Size[1])}} {
		e, n := m[0]*c[0]+m[1]*c[1]+m[2], m[3]*c[0]+m[4]*c[1]+m[5]
		we, wn := u*(g[0]+g[1]*c[0]+g[2]*c[1]), u*(g[3]+g[4]*c[0]+g[5]*c[1])
		if off := math.Hypot(e-we, n-wn) / px; off > withinPx {
			t.Errorf("corner %v: got %.6f %.6f, want %.6f %.6f, %g px off, want at most %g", c, e, n, we, wn, off, withinPx)
		}
	}
}

func smallPNG(t *testing.T, file string) {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 60, 40))
	for i := range m.Pix {
		m.Pix[i] = uint8(i * 7)
	}
	m.SetGray(0, 0, color.Gray{Y: 200})
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
}

// Pictures that GDAL 3 writes are placed where GDAL reads them.
func TestPlaceOfTIFFAgainstGDAL(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdalinfo", "gdal_translate")
	dir := t.TempDir()
	src := filepath.Join(dir, "src.png")
	smallPNG(t, src)
	for i, c := range []struct {
		code int
		args string
	}{
		{27700, "-a_ullr 250000 720000 250300 719800"},
		{32633, "-a_ullr 450000 5200000 450600 5199600"},
		{2154, "-a_ullr 700000 6600000 700060 6599960"},
		{2056, "-a_ullr 2600000 1200000 2600600 1199600"},
		{3857, "-a_ullr 1000000 6000000 1000600 5999600"},
		{3035, "-a_ullr 4300000 2800000 4300600 2799600"},
		{25832, "-a_ullr 500000 5500000 500600 5499600 -mo AREA_OR_POINT=Point"},
		{2193, "-a_ullr 1600000 5300000 1600600 5299600 -co TILED=YES -co COMPRESS=DEFLATE"},
		{4326, "-a_ullr -4 56 -3.9 55.93"},
		{3067, "-a_ullr 400000 6800000 400600 6799600 -co BIGTIFF=YES"},
	} {
		t.Run(fmt.Sprintf("EPSG_%d", c.code), func(t *testing.T) {
			t.Parallel()
			name := fmt.Sprintf("p%d.tif", i)
			file := filepath.Join(dir, name)
			args := append([]string{"-q", "-of", "GTiff", "-a_srs", fmt.Sprintf("EPSG:%d", c.code)}, strings.Fields(c.args)...)
			if out, err := exec.Command("gdal_translate", append(args, src, file)...).CombinedOutput(); err != nil {
				t.Fatalf("gdal_translate: %v: %s", err, out)
			}
			_, p, err := look(os.DirFS(dir), name, scan.Options{})
			if err != nil {
				t.Fatal(err)
			}
			sameCorners(t, p, gdalInfo(t, file), 1e-6)
			if got := p.System.Code(); got != geodesy.EPSG(c.code) {
				t.Errorf("grid: got %s, want EPSG:%d", got, c.code)
			}
		})
	}
}

// The reference pictures are placed where GDAL reads them; what their keys
// name without a code we know is in the message.
func TestPlaceOfReferencePictures(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdalinfo")
	root := os.Getenv("LEGWRIGHT_REFERENCE")
	if root == "" {
		t.Skip("LEGWRIGHT_REFERENCE names no folder of reference pictures")
	}
	dir := filepath.Join(root, "rasters")
	for name, code := range map[string]int{"gdal_byte.tif": 26711, "shade_colorado_3857.tif": 3857} {
		_, p, err := look(os.DirFS(dir), name, scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		sameCorners(t, p, gdalInfo(t, filepath.Join(dir, name)), 1e-6)
		if got := p.System.Code(); got != geodesy.EPSG(code) {
			t.Errorf("%s: got %s, want EPSG:%d", name, got, code)
		}
	}
	_, p, err := look(os.DirFS(dir), "rotated_geotransform.tif", scan.Options{})
	if err != nil || p == nil || p.System != nil || !strings.Contains(p.Unknown, "names no grid") {
		t.Errorf("a turned picture without a grid: got %+v, %v, want one that says so", p, err)
	}
}

// A world file with a .prj beside it positions a picture of any format.
func TestPlaceOfWorldWithPrj(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	smallPNG(t, filepath.Join(dir, "m.png"))
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("m.pgw", "5\n0\n0\n-5\n250002.5\n719997.5\n")
	now := func() *Georeference {
		_, p, err := look(os.DirFS(dir), "m.png", scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if p := now(); p != nil {
		t.Errorf("a world file alone: got %+v, want no position", p)
	}
	write("m.prj", "+proj=utm +zone=33 +datum=WGS84 +units=m")
	p := now()
	if p == nil || p.System == nil || p.System.EPSG() != 32633 || p.Matrix == nil || *p.Matrix != [6]float64{5, 0, 250000, 0, -5, 720000} {
		t.Errorf("with a .prj: got %+v", p)
	}
	write("m.prj", "nonsense")
	if p := now(); p == nil || p.System != nil || !strings.Contains(p.Unknown, "m.prj") {
		t.Errorf("with nonsense: got %+v, want the file named", p)
	}
}

// A unit that is not read, or not the grid's, is refused and not passed over.
func TestUnitOfTIFF(t *testing.T) {
	t.Parallel()
	metres, err := geodesy.Lookup(geodesy.EPSG(32633))
	if err != nil {
		t.Fatal(err)
	}
	geo := func(code float64) *tiff.Geo {
		return &tiff.Geo{Model: tiff.Projected, Keys: []tiff.Key{{ID: keyLinearUnits, Numbers: []float64{code}}}}
	}
	for _, c := range []struct {
		code float64 // EPSG: metre, foot, US survey foot, Clarke's foot
		says string
	}{{9001, ""}, {9002, "one of the two is wrong"}, {9003, "one of the two is wrong"}, {9005, "does not know its unit"}} {
		got, err := unitOfTIFF(geo(c.code), metres)
		if c.says == "" && (err != nil || got != 1) || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("EPSG:%g: got %g, %v, want %q", c.code, got, err, c.says)
		}
	}
}

// Where a GeoTIFF's own keys name a grid that is not known, a world file with a
// .prj takes over; where they do, they stay. Both are said in the notes.
func TestSidecarTakesOver(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdal_translate")
	dir := t.TempDir()
	smallPNG(t, filepath.Join(dir, "src.png"))
	for _, c := range []struct {
		name, grid string
		code       int
		matrix     [6]float64
		says       string
	}{
		{"unread.tif", "+proj=poly +lat_0=0 +lon_0=9 +ellps=bessel", 32633, [6]float64{5, 0, 450000, 0, -5, 5200000}, "own tags cannot be used"},
		{"known.tif", "EPSG:27700", 27700, [6]float64{5, 0, 250000, 0, -5, 720000}, "own tags are used"},
	} {
		args := []string{"-q", "-a_srs", c.grid, "-a_ullr", "250000", "720000", "250300", "719800", filepath.Join(dir, "src.png"), filepath.Join(dir, c.name)}
		if out, err := exec.Command("gdal_translate", args...).CombinedOutput(); err != nil {
			t.Fatalf("gdal_translate: %v: %s", err, out)
		}
		stem := strings.TrimSuffix(c.name, ".tif")
		for ending, text := range map[string]string{".tfw": "5\n0\n0\n-5\n450002.5\n5199997.5\n", ".prj": "EPSG:32633"} {
			if err := os.WriteFile(filepath.Join(dir, stem+ending), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		_, p, err := look(os.DirFS(dir), c.name, scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if p == nil || p.System == nil || p.System.EPSG() != c.code || p.Matrix == nil || *p.Matrix != c.matrix {
			t.Fatalf("%s: got %+v, want EPSG:%d by %v", c.name, p, c.code, c.matrix)
		}
		if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], c.says) {
			t.Errorf("%s: warned of %q, want %q", c.name, p.Notes, c.says)
		}
	}
}

// Each page of a GeoTIFF has a position of its own: where GDAL reads it.
func TestPlaceOfEachPage(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdalinfo", "gdal_translate")
	dir := t.TempDir()
	src, file := filepath.Join(dir, "src.png"), filepath.Join(dir, "pages.tif")
	smallPNG(t, src)
	for i, args := range []string{
		"-a_srs EPSG:32633 -a_ullr 450000 5200000 450600 5199600",
		"-a_srs EPSG:27700 -a_ullr 250000 720000 250300 719800 -co APPEND_SUBDATASET=YES",
	} {
		all := append(append([]string{"-q", "-of", "GTiff"}, strings.Fields(args)...), src, file)
		if out, err := exec.Command("gdal_translate", all...).CombinedOutput(); err != nil {
			t.Fatalf("page %d: gdal_translate: %v: %s", i+1, err, out)
		}
	}
	for page, code := range map[int]int{1: 32633, 2: 27700} {
		h, p, err := look(os.DirFS(dir), "pages.tif", scan.Options{Page: page})
		if err != nil {
			t.Fatal(err)
		}
		sameCorners(t, p, gdalInfo(t, fmt.Sprintf("GTIFF_DIR:%d:%s", page, file)), 1e-6)
		if p.System.EPSG() != code || h.Page != page || h.Pages != 2 {
			t.Errorf("page %d: got %s, page %d of %d, want EPSG:%d, page %d of 2", page, p.System, h.Page, h.Pages, code, page)
		}
	}
}

// A GeoTIFF whose grid is not known lies on the grid that is named for it: where GDAL
// reads its figures. A grid of another kind of figures is refused.
func TestTIFFOnANamedGrid(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdalinfo", "gdal_translate")
	dir := t.TempDir()
	src := filepath.Join(dir, "src.png")
	smallPNG(t, src)
	lookup := func(code int) *geodesy.System {
		s, err := geodesy.Lookup(geodesy.EPSG(code))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for name, args := range map[string]string{
		"none.tif":   "-a_ullr 250000 720000 250300 719800",
		"unread.tif": "-a_srs +proj=poly+lat_0=0+lon_0=9+ellps=bessel -a_ullr 250000 720000 250300 719800",
	} {
		file := filepath.Join(dir, name)
		words := strings.Fields(args)
		for i := range words {
			if strings.HasPrefix(words[i], "+") {
				words[i] = strings.ReplaceAll(words[i], "+", " +")
			}
		}
		if out, err := exec.Command("gdal_translate", append(append([]string{"-q", "-of", "GTiff"}, words...), src, file)...).CombinedOutput(); err != nil {
			t.Fatalf("gdal_translate: %v: %s", err, out)
		}
		d, err := scan.NewOpener().Look(t.Context(), os.DirFS(dir), name, scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		f := Find(d)
		if f.Georeference == nil || f.Georeference.System != nil {
			t.Fatalf("%s: got %+v, want one without a grid", name, f.Georeference)
		}
		p, err := f.On(lookup(27700))
		if err != nil {
			t.Fatal(err)
		}
		sameCorners(t, p, gdalInfo(t, file), 1e-6)
		if p, err := f.On(lookup(4326)); err == nil {
			t.Errorf("%s: got %+v on degrees, want it refused", name, p)
		}
	}
}
