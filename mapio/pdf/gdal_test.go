package pdf

import (
	"bytes"
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
)

// gdal runs one of GDAL's programs; the test is skipped where it is missing.
func gdal(t *testing.T, args ...string) []byte {
	t.Helper()
	path, err := exec.LookPath(args[0])
	if err != nil {
		t.Skipf("%s is not installed", args[0])
	}
	cmd := exec.Command(path, args[1:]...)
	cmd.Env = append(os.Environ(), "GDAL_PDF_DPI=72")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v %s", args, err, stderr.String())
	}
	return out
}

const gdalW, gdalH = 120, 80

// pattern is a picture of one invented sheet, no two corners of which are
// alike.
func pattern(t *testing.T, dir string) (string, *image.RGBA) {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, gdalW, gdalH))
	for y := range gdalH {
		for x := range gdalW {
			img.SetRGBA(x, y, color.RGBA{uint8(2 * x), uint8(3 * y), uint8(128 * ((x/8 + y/8) % 2)), 255})
		}
	}
	name := filepath.Join(dir, "sheet.png")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return name, img
}

// sheet is where an invented picture lies: the position of its top-left corner
// and the steps along columns and rows, in the grid's unit.
type sheet struct {
	epsg int
	gt   [6]float64 // X = gt[0] + gt[1]·col + gt[2]·row, Y = gt[3] + gt[4]·col + gt[5]·row
}

func sheets() []sheet {
	return []sheet{
		{27700, [6]float64{327000, 2.5, 0, 743600, 0, -2.5}},
		{32632, [6]float64{612000, 10, 0, 5261000, 0, -10}},
		{2154, [6]float64{955000, 4, 0, 6542000, 0, -4}},
		{2056, [6]float64{2612000, 1.25, 0, 1168000, 0, -1.25}},
		{25832, [6]float64{441000, 5, 0, 6714000, 0, -5}},
		{3857, [6]float64{-355000, 8, 0, 7600000, 0, -8}},
		{3035, [6]float64{4321500, 25, 0, 3210500, 0, -25}},
		{2193, [6]float64{1398000, 5, 0, 5166000, 0, -5}},
		{32733, [6]float64{262000, 10, 0, 6243000, 0, -10}},
		{27700, [6]float64{327000, 2.4, 0.7, 743600, 0.7, -2.4}}, // drawn askew
	}
}

// written makes a PDF of the picture by GDAL.
func (s sheet) written(t *testing.T, dir, png, encoding string, config ...string) []byte {
	t.Helper()
	vrt := filepath.Join(dir, "sheet.vrt")
	gdal(t, append([]string{"gdal_translate", "-q", "-of", "VRT", "-a_srs", fmt.Sprintf("EPSG:%d", s.epsg)}, png, vrt)...)
	text, err := os.ReadFile(vrt)
	if err != nil {
		t.Fatal(err)
	}
	var gt []string
	for _, v := range s.gt {
		gt = append(gt, fmt.Sprint(v))
	}
	placed := strings.Replace(string(text), "</SRS>", "</SRS><GeoTransform>"+strings.Join(gt, ",")+"</GeoTransform>", 1)
	if placed == string(text) {
		t.Fatal("the VRT has no place for a transform")
	}
	if err := os.WriteFile(vrt, []byte(placed), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "sheet.pdf")
	gdal(t, append([]string{"gdal_translate", "-q", "-of", "PDF", "-co", "GEO_ENCODING=" + encoding, vrt, out}, config...)...)
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestAgainstGDAL: pictures that GDAL 3.6 writes into a PDF, by either
// encoding, on ten grids and with the page turned by every quarter, come back
// pixel for pixel, and their corners lie where they were put within 0.1 pixel;
// where GDAL reads its own file, its corners agree too.
func TestAgainstGDAL(t *testing.T) {
	t.Parallel()
	for _, s := range sheets() {
		for _, encoding := range []string{"ISO32000", "OGC_BP"} {
			for _, turn := range []int{0, 90, 180, 270} {
				if turn != 0 && s.epsg != 27700 {
					continue
				}
				name := fmt.Sprintf("%d %s %d° askew %g", s.epsg, encoding, turn, s.gt[2])
				t.Run(name, func(t *testing.T) {
					t.Parallel()
					dir := t.TempDir()
					png, img := pattern(t, dir)
					data := s.written(t, dir, png, encoding)
					if turn != 0 {
						turned := bytes.Replace(data, []byte("/UserUnit 1 "), fmt.Appendf(nil, "/Rotate %-4d", turn), 1)
						if bytes.Equal(turned, data) || len(turned) != len(data) {
							t.Fatal("the page could not be turned")
						}
						data = turned
					}
					compare(t, s, turn, dir, data, img)
				})
			}
		}
	}
}

func compare(t *testing.T, s sheet, turn int, dir string, data []byte, img *image.RGBA) {
	t.Helper()
	d := open(t, data)
	p, err := d.Page(patient(t), 1)
	if err != nil || len(p.Notes) > 0 || len(p.Frames) == 0 {
		t.Fatalf("%v %v %d frames", err, p.Notes, len(p.Frames))
	}
	dpi, err := d.NativeDPI(patient(t), 1, p)
	if err != nil || math.Abs(dpi-72) > 0.01 {
		t.Fatalf("got %g dpi (%v), want 72", dpi, err)
	}
	w, h := p.Pixels(dpi)
	got, err := d.Render(patient(t), 1, w, h, nil)
	if err != nil {
		t.Fatal(err)
	}
	samePixels(t, got, img, turn)
	l, err := p.Frames[0].Locate(p, w, h)
	if err != nil {
		t.Fatal(err)
	}
	if l.Matrix == nil {
		t.Fatalf("no matrix, worst %g px", l.WorstPx)
	}
	if want := geodesyOf(t, s.epsg); l.System != want {
		t.Errorf("got the grid %v, want %v", l.System, want)
	}
	// The truth that went in.
	size := math.Hypot(s.gt[1], s.gt[4])
	for _, c := range [][2]float64{{0, 0}, {gdalW, 0}, {gdalW, gdalH}, {0, gdalH}} {
		col, row := turned(c[0], c[1], turn)
		e, n := apply(*l.Matrix, col, row)
		we, wn := s.gt[0]+s.gt[1]*c[0]+s.gt[2]*c[1], s.gt[3]+s.gt[4]*c[0]+s.gt[5]*c[1]
		if off := math.Hypot(e-we, n-wn) / size; off > 0.1 {
			t.Errorf("corner %v: got %.3f, %.3f, want %.3f, %.3f: %.4f px away", c, e, n, we, wn, off)
		} else {
			t.Logf("corner %v: %.6f px away", c, off)
		}
	}
	if turn == 0 { // what GDAL makes of a turned page is no matter of ours
		againstInfo(t, l, dir, size)
	}
}

func geodesyOf(t *testing.T, epsg int) *geodesy.System {
	t.Helper()
	s, err := geodesy.Define(fmt.Sprintf("EPSG:%d", epsg))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// againstInfo compares the corners with what gdalinfo says of the same file.
func againstInfo(t *testing.T, l Located, dir string, size float64) {
	t.Helper()
	var info struct {
		GeoTransform []float64
		Size         []int
	}
	if err := json.Unmarshal(gdal(t, "gdalinfo", "-json", filepath.Join(dir, "sheet.pdf")), &info); err != nil {
		t.Fatal(err)
	}
	g := info.GeoTransform
	if len(g) != 6 || len(info.Size) != 2 || info.Size[0] != gdalW || info.Size[1] != gdalH {
		t.Fatalf("gdalinfo says %+v", info)
	}
	for _, c := range [][2]float64{{0, 0}, {gdalW, 0}, {gdalW, gdalH}, {0, gdalH}} {
		e, n := apply(*l.Matrix, c[0], c[1])
		ge, gn := g[0]+g[1]*c[0]+g[2]*c[1], g[3]+g[4]*c[0]+g[5]*c[1]
		if off := math.Hypot(e-ge, n-gn) / size; off > 0.1 {
			t.Errorf("corner %v: %.4f px from GDAL's", c, off)
		}
	}
}

// turned is where a point of the picture lies on a page turned clockwise.
func turned(col, row float64, turn int) (float64, float64) {
	switch turn {
	case 90:
		return gdalH - row, col
	case 180:
		return gdalW - col, gdalH - row
	case 270:
		return row, gdalW - col
	}
	return col, row
}

func samePixels(t *testing.T, got, want *image.RGBA, turn int) {
	t.Helper()
	worst := 0
	for y := range gdalH {
		for x := range gdalW {
			col, row := turned(float64(x)+0.5, float64(y)+0.5, turn)
			g, w := got.RGBAAt(int(col), int(row)), want.RGBAAt(x, y)
			for _, d := range []int{int(g.R) - int(w.R), int(g.G) - int(w.G), int(g.B) - int(w.B)} {
				worst = max(worst, d, -d)
			}
		}
	}
	if worst > 1 {
		t.Errorf("a pixel differs by %d of 255", worst)
	}
}

// TestProjectionWords: registrations without well-known text, as programs
// other than GDAL write them, name the same grid, or none where the figures do
// not say which; GDAL takes the Swiss grid for degrees and web maps' Mercator
// for the true one, and so would have put them elsewhere.
func TestProjectionWords(t *testing.T) {
	t.Parallel()
	named := map[int]bool{27700: true, 32632: true, 2154: true, 25832: true, 32733: true, 2193: true}
	for _, s := range sheets()[:9] {
		t.Run(fmt.Sprint(s.epsg), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			png, _ := pattern(t, dir)
			data := s.written(t, dir, png, "OGC_BP", "--config", "GDAL_PDF_OGC_BP_WRITE_WKT", "NO")
			p, err := readPages(t, data)
			if err != nil || len(p.Frames) != 1 {
				t.Fatalf("%v, %d frames", err, len(p.Frames))
			}
			l, err := p.Frames[0].Locate(p, gdalW, gdalH)
			if !named[s.epsg] {
				if err == nil {
					t.Fatalf("got %v, want none", l.System)
				}
				t.Log(err, p.Frames[0].Notes)
				return
			}
			if err != nil {
				t.Fatal(err, p.Frames[0].Notes)
			}
			e, n := apply(*l.Matrix, 0, 0)
			if want := geodesyOf(t, s.epsg); l.System != want || math.Hypot(e-s.gt[0], n-s.gt[3]) > 1e-3 {
				t.Errorf("got %v at %.3f, %.3f, want %v at %g, %g\n%s", l.System, e, n, want, s.gt[0], s.gt[3], p.Frames[0].Definition)
			}
		})
	}
}
