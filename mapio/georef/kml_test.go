package georef

import (
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/scan"
)

const kmlHead = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.3" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document><Folder>`

const kmlFoot = `</Folder></Document></kml>`

// overlayKML writes a ground overlay; where is what says where it lies.
func overlayKML(href, where string) string {
	return "<GroundOverlay><name>sheet</name><Icon><href>" + href + "</href></Icon>" + where + "</GroundOverlay>"
}

func boxKML(north, south, east, west, rotation float64) string {
	return fmt.Sprintf("<LatLonBox><north>%.12f</north><south>%.12f</south><east>%.12f</east><west>%.12f</west><rotation>%g</rotation></LatLonBox>",
		north, south, east, west, rotation)
}

func quadKML(corners ...float64) string {
	var s strings.Builder
	for i := 0; i+1 < len(corners); i += 2 {
		fmt.Fprintf(&s, "%.12f,%.12f,0 ", corners[i], corners[i+1])
	}
	return "<gx:LatLonQuad><coordinates>" + s.String() + "</coordinates></gx:LatLonQuad>"
}

// ontoGrid takes longitude and latitude on WGS 84 to a grid, by PROJ as GDAL's
// own program uses it.
func ontoGrid(t *testing.T, code int, lonLat [][2]float64) [][2]float64 {
	t.Helper()
	var in strings.Builder
	for _, c := range lonLat {
		fmt.Fprintf(&in, "%.12f %.12f\n", c[0], c[1])
	}
	cmd := exec.Command("gdaltransform", "-output_xy", "-s_srs", "EPSG:4326", "-t_srs", fmt.Sprintf("EPSG:%d", code))
	cmd.Stdin = strings.NewReader(in.String())
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("gdaltransform: %v", err)
	}
	out := make([][2]float64, len(lonLat))
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	for i := range out {
		if _, err := fmt.Sscan(lines[i], &out[i][0], &out[i][1]); err != nil {
			t.Fatalf("gdaltransform says %q", lines[i])
		}
	}
	return out
}

// A box lies where GDAL 3 reads it and PROJ takes it to the grid, to
// 0.1 pixels all over the picture, however little it is straight there.
func TestOverlayBoxAgainstGDAL(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdalinfo", "gdaltransform")
	const w, h = 4000, 3000
	for _, c := range []struct {
		name                     string
		code                     int
		north, south, east, west float64
		even                     bool
	}{
		{"small", 3006, 63.002, 63, 13.004, 13, true},
		{"a sheet", 3006, 63.08, 63, 13.25, 13, false},
		{"a wide one", 32630, 31.4, 31, -4.4, -5, false},
		{"in the south", 2193, -43.5, -43.6, 170.2, 170, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			data := pngOf(t, image.NewGray(image.Rect(0, 0, w, h)))
			text := kmlHead + overlayKML("s.png", boxKML(c.north, c.south, c.east, c.west, 0)) + kmlFoot
			for name, b := range map[string][]byte{"s.png": data, "o.kml": []byte(text)} {
				if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			_, p, err := look(os.DirFS(dir), "o.kml", scan.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if p.System == nil || p.System.EPSG() != c.code || (p.Matrix != nil) != c.even {
				t.Fatalf("got %+v, want on EPSG:%d, even %v", p, c.code, c.even)
			}
			g := gdalInfo(t, filepath.Join(dir, "o.kml")).GeoTransform
			var at []calib.PicturePt
			var lonLat [][2]float64
			for i := range 7 {
				for j := range 7 {
					pt := calib.PicturePt{Col: w * float64(j) / 6, Row: h * float64(i) / 6}
					at = append(at, pt)
					lonLat = append(lonLat, [2]float64{g[0] + g[1]*pt.Col + g[2]*pt.Row, g[3] + g[4]*pt.Col + g[5]*pt.Row})
				}
			}
			sameGround(t, p, at, ontoGrid(t, c.code, lonLat), 0.1)
			if len(p.Notes) > 1 || len(p.Notes) == 1 && !strings.Contains(p.Notes[0], "datum shift to the grid") {
				t.Errorf("warned of %q, want at most how exact the shift is", p.Notes)
			}
		})
	}
}

func sameGround(t *testing.T, p *Georeference, at []calib.PicturePt, want [][2]float64, withinPx float64) {
	t.Helper()
	fit, err := p.Calibration(scan.Header{})
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i, c := range at {
		g := fit.ToGrid(c)
		worst = math.Max(worst, math.Hypot(g.E-want[i][0], g.N-want[i][1])/fit.MetresPerPixel())
	}
	if worst > withinPx {
		t.Errorf("got positions up to %.3f px off, want at most %g", worst, withinPx)
	}
}

// A turned box turns counterclockwise on the ground, which the standard leaves
// open and the position tells; the corners are those of the sphere's figures,
// worked out here from the standard's words.
func TestOverlayTurned(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdaltransform")
	const lat, lon, half, turn = 60.0, 15.0, 0.005, 30.0
	fsys := fstest.MapFS{
		"s.png": {Data: pngOf(t, image.NewGray(image.Rect(0, 0, 1000, 1000)))},
		"o.kml": {Data: []byte(kmlHead + overlayKML("s.png", boxKML(lat+half, lat-half, lon+2*half, lon-2*half, turn)) + kmlFoot)},
	}
	_, p, err := look(fsys, "o.kml", scan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if p.System == nil || p.Matrix == nil || !strings.Contains(strings.Join(p.Notes, "; "), "turned by 30°") {
		t.Fatalf("got %+v, want a straight fit with a note of the turn", p)
	}
	// At 60° a degree of longitude is half one of latitude, so that the box is
	// a square on the ground. Turned by 30° counterclockwise its upper right
	// corner, 45° from east, comes to 75°, its upper left one to 165°.
	diagonal := half * math.Sqrt2
	var lonLat [][2]float64
	for _, deg := range []float64{75, 165, 255, 345} {
		s, c := math.Sincos(deg * math.Pi / 180)
		lonLat = append(lonLat, [2]float64{lon + 2*diagonal*c, lat + diagonal*s})
	}
	corners := []calib.PicturePt{{Col: 1000}, {}, {Row: 1000}, {Col: 1000, Row: 1000}}
	sameGround(t, p, corners, ontoGrid(t, p.System.EPSG(), lonLat), 0.1)
	// Turned in degrees the upper right corner would lie 0.0025° of each farther
	// out, which is 311 m here. Twice the σ has to hold it.
	const elsewhere = 311.0
	if math.Abs(2*p.SigmaM-elsewhere) > 5 {
		t.Errorf("2σ is %.1f m, want the %.0f m that the words leave open", 2*p.SigmaM, elsewhere)
	}
}

// Upside down a box lies the same on the ground as in degrees, so that there is
// nothing to note.
func TestOverlayUpsideDown(t *testing.T) {
	t.Parallel()
	for turn, want := range map[float64]bool{180: false, -180: false, 0: false, 90: true, 179: true} {
		fsys := fstest.MapFS{
			"s.png": {Data: pngOf(t, image.NewGray(image.Rect(0, 0, 200, 200)))},
			"o.kml": {Data: []byte(kmlHead + overlayKML("s.png", boxKML(60.01, 60, 15.02, 15, turn)) + kmlFoot)},
		}
		_, p, err := look(fsys, "o.kml", scan.Options{})
		if err != nil || p.System == nil {
			t.Fatalf("%g°: %+v, %v", turn, p, err)
		}
		if got := strings.Contains(strings.Join(p.Notes, "; "), "the box is turned"); got != want {
			t.Errorf("%g°: noted %v, want %v: %v", turn, got, want, p.Notes)
		}
	}
}

// A quadrilateral puts the picture's corners where it says, lower left first
// and counterclockwise, and says what it leaves open.
func TestOverlayQuad(t *testing.T) {
	t.Parallel()
	needGDAL(t, "gdaltransform")
	for _, c := range []struct {
		name    string
		corners []float64
		even    bool
	}{
		{"leaning", []float64{15.000, 60.000, 15.002, 60.0002, 15.0021, 60.0012, 15.0001, 60.0010}, true},
		{"askew", []float64{15.00, 60.00, 15.02, 60.00, 15.018, 60.012, 15.004, 60.010}, false},
	} {
		fsys := fstest.MapFS{
			"s.png": {Data: pngOf(t, image.NewGray(image.Rect(0, 0, 1200, 900)))},
			"o.kml": {Data: []byte(kmlHead + overlayKML("s.png", quadKML(c.corners...)) + kmlFoot)},
		}
		_, p, err := look(fsys, "o.kml", scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if p.System == nil {
			t.Fatalf("%s: got %+v, want a known grid", c.name, p)
		}
		var lonLat [][2]float64
		for i := 0; i < 8; i += 2 {
			lonLat = append(lonLat, [2]float64{c.corners[i], c.corners[i+1]})
		}
		at := []calib.PicturePt{{Row: 900}, {Col: 1200, Row: 900}, {Col: 1200}, {}}
		sameGround(t, p, at, ontoGrid(t, p.System.EPSG(), lonLat), 0.1)
		if c.even != (p.Matrix != nil) || c.even == strings.Contains(strings.Join(p.Notes, "; "), "only the four corners") {
			t.Errorf("%s: even %v with notes %q, want %v", c.name, p.Matrix != nil, p.Notes, c.even)
		}
	}
}

// What the picture's own file says is compared with the overlay.
func TestOverlayAgainstItsPicture(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(3006))
	if err != nil {
		t.Fatal(err)
	}
	g, _, _, err := sys.FromWGS84(geodesy.DegLatLon(63.005, 13.01))
	if err != nil {
		t.Fatal(err)
	}
	const px = 25.0 // metres, about those of the overlay
	for _, c := range []struct {
		off  float64 // metres
		says string
	}{{5, ""}, {5000, "contradict"}} {
		world := fmt.Sprintf("%g\n0\n0\n%g\n%f\n%f\n", px, -px, g.E-30*px+px/2+c.off, g.N+20*px-px/2)
		fsys := fstest.MapFS{
			"a.kml": {Data: []byte(kmlHead + overlayKML("s.png", boxKML(63.01, 63, 13.02, 13, 0)) + kmlFoot)},
			"s.png": {Data: pngOf(t, ramp(60, 40, 2))},
			"s.pgw": {Data: []byte(world)},
			"s.prj": {Data: []byte("EPSG:3006")},
		}
		_, p, err := look(fsys, "a.kml", scan.Options{})
		if err != nil || (p.System == nil) != (c.says != "") || !strings.Contains(p.Unknown, c.says) {
			t.Errorf("%g m off: got %+v, %v, want %q", c.off, p, err, c.says)
		}
	}
}

// What cannot be placed is refused in a sentence, and the picture still opens.
func TestOverlayNowhere(t *testing.T) {
	t.Parallel()
	pic := pngOf(t, ramp(60, 40, 2))
	for where, says := range map[string]string{
		"":                                                    "neither a box nor",
		boxKML(63, 63.01, 13.02, 13, 0):                       "from latitude 63.01° to 63°",
		boxKML(91, 63, 13.02, 13, 0):                          "latitude",
		boxKML(90, 89.9, 10, -10, 30):                         "at the pole",
		boxKML(-89.9, -90, 180, -180, 0):                      "at the pole",
		boxKML(89, -89, 179, -179, 0):                         "more ground than any walking grid",
		quadKML(13, 63, 13.1, 63, 13, 64):                     "3 corners",
		quadKML(13, 63, 13.1, 63, 13.04, 63.01, 13.05, 63.02): "corners do not make",
		quadKML(13, 63, 13, 63, 13, 63, 13, 63):               "corners do not make",
		"<LatLonBox><north>x</north></LatLonBox>":             "not a number of degrees",
		"<LatLonBox><north>63</north></LatLonBox>":            "no south",
		"<LatLonBox><north>NaN</north><south>1</south><east>1</east><west>0</west></LatLonBox>": "not a number of degrees",
	} {
		fsys := fstest.MapFS{"a.kml": {Data: []byte(kmlHead + overlayKML("s.png", where) + kmlFoot)}, "s.png": {Data: pic}}
		_, p, err := look(fsys, "a.kml", scan.Options{})
		if err != nil || p == nil || p.System != nil || p.Matrix != nil || !strings.Contains(p.Unknown, says) {
			t.Errorf("%s: got %+v, %v, want the picture without a position and %q", where, p, err, says)
		}
	}
}
