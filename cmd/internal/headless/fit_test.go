package headless

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// fourPoints are not quite an affine picture of the grid: the residuals are
// not zero.
const fourPoints = `col,row,easting,northing
120.5,100.2,310000,4900000
1120.1,110.7,315000,4900000
110.9,1100.4,310000,4895000
1110.3,1110.6,315000,4895000
600.2,604.9,312500,4897500
`

func pointsFile(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "points.csv")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func floats(t *testing.T, list any) []float64 {
	t.Helper()
	var out []float64
	for _, v := range list.([]any) {
		out = append(out, v.(float64))
	}
	return out
}

// TestFitAgainstGdaltransform compares with the affine fit of GDAL's
// program gdaltransform through the same control points: paper that is not
// taken to stretch at will differs from it by less than the clicks do, half a
// pixel of 5 m.
func TestFitAgainstGdaltransform(t *testing.T) {
	t.Parallel()
	program, err := exec.LookPath("gdaltransform")
	if err != nil {
		t.Skip("gdaltransform is not installed (Debian: gdal-bin): no comparison with GDAL")
	}
	args := []string{"-order", "1"}
	for _, line := range strings.Split(strings.TrimSpace(fourPoints), "\n")[1:] {
		args = append(append(args, "-gcp"), strings.Split(line, ",")...)
	}
	places := []string{"0,0", "600,600", "1500.25,-20.5", "37.5,1200"}
	ours := []string{"fit", "--grid", "EPSG:32619", "--points", pointsFile(t, fourPoints), "--json"}
	for _, p := range places {
		ours = append(ours, "--at", p)
	}
	got := run(t, "", ours...)
	wantCode(t, got, 0)
	peer := exec.Command(program, args...)
	peer.Stdin = strings.NewReader(strings.ReplaceAll(strings.Join(places, "\n"), ",", " "))
	out, err := peer.Output()
	if err != nil {
		t.Fatal(err)
	}
	o := got.object(t)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(places) {
		t.Fatalf("gdaltransform gave %d rows, want %d", len(lines), len(places))
	}
	for i, line := range lines {
		want := strings.Fields(line)
		at := o["at"].([]any)[i].(map[string]any)
		wantNear(t, places[i]+" easting", at["easting_m"].(float64), float(t, want[0]), 2)
		wantNear(t, places[i]+" northing", at["northing_m"].(float64), float(t, want[1]), 2)
	}
}

// TestFitFigures checks the figures against their own definitions:
// residuals are reference less fit, rms is √(Σd²/n), dof is equations less
// parameters.
func TestFitFigures(t *testing.T) {
	t.Parallel()
	for _, medium := range []string{"scan", "drawn"} {
		got := run(t, "", "fit", "--grid", "EPSG:32619", "--points", pointsFile(t, fourPoints), "--medium", medium, "--json",
			"--at", "120.5,100.2", "--at", "1120.1,110.7", "--at", "110.9,1100.4", "--at", "1110.3,1110.6", "--at", "600.2,604.9")
		wantCode(t, got, 0)
		o := got.object(t)
		if o["medium"] != medium || o["dof"].(float64) != 6 {
			t.Errorf("%s: got medium %v and dof %v, want dof 6", medium, o["medium"], o["dof"])
		}
		sumM, sumPx := 0.0, 0.0
		for i, line := range strings.Split(strings.TrimSpace(fourPoints), "\n")[1:] {
			c := strings.Split(line, ",")
			at := o["at"].([]any)[i].(map[string]any)
			r := o["residuals"].([]any)[i].(map[string]any)
			east, north := r["east_m"].(float64), r["north_m"].(float64)
			wantNear(t, medium+" east residual", east, float(t, c[2])-at["easting_m"].(float64), 1e-6)
			wantNear(t, medium+" north residual", north, float(t, c[3])-at["northing_m"].(float64), 1e-6)
			sumM += east*east + north*north
			sumPx += r["px"].(float64) * r["px"].(float64)
		}
		wantNear(t, medium+" rms_m", o["rms_m"].(float64), math.Sqrt(sumM/5), 1e-9)
		wantNear(t, medium+" rms_px", o["rms_px"].(float64), math.Sqrt(sumPx/5), 1e-9)
	}
}

// TestFitTwoPoints: two points on a sheet turned by a known angle. Grid
// north points to the right of picture up by 30°, 2 m a pixel.
func TestFitTwoPoints(t *testing.T) {
	t.Parallel()
	s, c := math.Sincos(30 * math.Pi / 180)
	var csv strings.Builder
	csv.WriteString("col,row,easting,northing\n")
	for _, p := range [][2]float64{{0, 0}, {1000, 500}} { // metres east and north of the corner
		col, row := (p[0]*c+p[1]*s)/2, (p[0]*s-p[1]*c)/2
		fmt.Fprintf(&csv, "%.9f,%.9f,%.0f,%.0f\n", col, row, 400000+p[0], 300000+p[1])
	}
	got := run(t, csv.String(), "fit", "--grid", "27700", "--points", "-", "--at", "0,0", "--point-sigma-px", "0.5", "--json")
	wantCode(t, got, 0)
	o := got.object(t)
	if o["medium"] != "scan" || o["dof"].(float64) != 0 {
		t.Errorf("got %v with %v to spare, want a scan with none", o["medium"], o["dof"])
	}
	wantNear(t, "rotation", o["rotation_deg"].(float64), 30, 1e-6)
	wantNear(t, "scale", o["metres_per_pixel"].(float64), 2, 1e-8)
	at := o["at"].([]any)[0].(map[string]any)
	wantNear(t, "easting", at["easting_m"].(float64), 400000, 1e-4)
	wantNear(t, "σ at a control point: 0.5 px of 2 m, times Student's 2.776 ÷ 1.960 for 4 degrees of freedom", at["sigma_e_m"].(float64), 1.4166, 1e-3)
	wantNear(t, "covariance", at["cov_en_m2"].(float64), 0, 1e-9)
	for _, code := range []string{"no-redundancy", "unchecked", "unlikely-rotation"} {
		if !strings.Contains(got.out, `"`+code+`"`) {
			t.Errorf("cautions: got %v, want %s among them", o["cautions"], code)
		}
	}
	if n := strings.Count(got.err, "caution: "); n < 3 {
		t.Errorf("standard error: got %q, want every caution", got.err)
	}
}

// TestFitReferences: a reference is the south-west corner, its letters
// may be left out after the first row, and lat/lon of --at are WGS 84.
func TestFitReferences(t *testing.T) {
	t.Parallel()
	const csv = "\ufeffCol, Row , ref\n# the corner\n100,100,NN 12 34\n600,100,\"17 34\"\n100,600,NN1229\n600,600,17 29\n"
	got := run(t, csv, "fit", "--grid", "EPSG:27700", "--points", "-", "--at", "350,350", "--json")
	wantCode(t, got, 0)
	m := floats(t, got.object(t)["matrix"])
	for i, want := range []float64{10, 0, 211000, 0, -10, 735000} {
		wantNear(t, "matrix", m[i], want, 1e-6)
	}
	at := got.object(t)["at"].([]any)[0].(map[string]any)
	grid := run(t, "214500 731500\n", "project", "--grid", "EPSG:27700", "--inverse").rows()[0]
	wantNear(t, "lat", at["lat_deg"].(float64), float(t, grid[0]), 1e-9)
	wantNear(t, "lon", at["lon_deg"].(float64), float(t, grid[1]), 1e-9)
	if !strings.Contains(got.err, `"17 34" has no letters and was read as NN 17 34`) {
		t.Errorf("supplied letters: got %q, want them said", got.err)
	}
}

func TestFitTable(t *testing.T) {
	t.Parallel()
	got := run(t, "col,row,ref\n100,100,NN 12 34\n600,100,NN 17 34\n100,600,NN 12 29\n", "fit", "--grid", "27700", "--points", "-", "--at", "100,100")
	wantCode(t, got, 0)
	const want = `grid              British National Grid (EPSG:27700)
fit               scan, 3 points, 1 more than needed
easting           10·col +0·row +211000.000
northing          0·col -10·row +735000.000
scale             10 m per pixel
grid north        0.0000° clockwise from the top of the picture
residual 1        +0.00 m east, +0.00 m north, 0.00 px
residual 2        +0.00 m east, +0.00 m north, 0.00 px
residual 3        +0.00 m east, +0.00 m north, 0.00 px
typical residual  0.00 m, 0.00 px
checked           unchecked. Check a corner by the latitude and longitude printed in the margin, or a feature whose reference comes from a list or a receiver.
at 100,100        212000.0 E ± 14.3, 734000.0 N ± 14.3, `
	if !strings.HasPrefix(got.out, want) || !strings.Contains(got.out, "\ncaution           ") {
		t.Errorf("got %s, want %s…", got.out, want)
	}
}

func TestFitRefusals(t *testing.T) {
	t.Parallel()
	const head = "col,row,easting,northing\n"
	for _, c := range []struct{ name, csv, says string }{
		{"empty", "", "there is no header"},
		{"no header", "1,2,3,4\n", "it must be col,row,easting,northing or col,row,ref"},
		{"other header", "x,y,e,n\n1,2,3,4\n", "it must be col,row,easting,northing or col,row,ref"},
		{"no points", head, "too few control points"},
		{"one point", head + "1,2,300000,400000\n", "too few control points"},
		{"NaN", head + "NaN,2,300000,400000\n", `line 2: "NaN" is not a plain number`},
		{"Inf", head + "1,2,300000,400000\n3,Inf,1,2\n", `line 3: "Inf" is not a plain number`},
		{"blank cell", head + "1,,300000,400000\n", "line 2"},
		{"ragged", head + "1,2,300000\n", "not CSV"},
		{"open quote", head + "\"1,2,300000,400000\n", "not CSV"},
		{"binary", "\x89PNG\r\n\x1a\n\x00\x00", "it must be col,row"},
		{"huge", head + "1,2,1e300,4\n900,2,2,4\n", "control point 1"},
		{"same point", head + "1,2,300000,400000\n1,2,301000,400000\n", "control points 1 and 2"},
		{"same reference", head + "1,2,300000,400000\n900,2,300000,400000\n", "control points 1 and 2"},
		{"wrong letters", "col,row,ref\n1,2,H 12 34\n", "line 2"},
		{"no letters", "col,row,ref\n1,2,12 34\n", "letters are missing"},
		{"too long", head + strings.Repeat("# nothing here\n", maxPointsBytes/15+1), "more than 4194304 bytes"},
	} {
		got := run(t, c.csv, "fit", "--grid", "EPSG:27700", "--points", "-", "--json")
		if got.code != 1 || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: got %d %q, want code 1, %q", c.name, got.code, got.err, c.says)
			continue
		}
		o := got.object(t)
		if text, _ := o["error"].(string); !strings.Contains(text, c.says) || o["cautions"] == nil || len(o) != 2 {
			t.Errorf("%s: got %v, want an error with %q and cautions", c.name, o, c.says)
		}
	}
	got := run(t, head+"1,1,300000,400000\n500,500,305000,405000\n900,900,309000,409000\n1200,1200,312000,412000\n", "fit", "--grid", "27700", "--points", "-", "--medium", "photograph")
	if got.code != 1 || !strings.Contains(got.err, "are in a straight line") {
		t.Errorf("a photograph's points in a straight line: got %d %q, want code 1 and why", got.code, got.err)
	}
	missing := run(t, "", "fit", "--grid", "27700", "--points", filepath.Join(t.TempDir(), "none.csv"))
	if missing.code != 1 || !strings.Contains(missing.err, "none.csv") {
		t.Errorf("missing file: got %d %q, want code 1 and its name", missing.code, missing.err)
	}
}

// TestFitSlips: references whose eastings and northings are swapped,
// and mirrored pictures, leave a regular square no calibration. The slip is
// named by its code.
func TestFitSlips(t *testing.T) {
	t.Parallel()
	const head = "col,row,easting,northing\n"
	swapped := head + "100,100,734000,212000\n600,100,734000,217000\n100,600,729000,212000\n600,600,729000,217000\n"
	mirror := head + "600,100,212000,734000\n100,100,217000,734000\n600,600,212000,729000\n100,600,217000,729000\n"
	for _, c := range []struct {
		name, csv string
		code      int
		want      []string
	}{
		{"swapped", swapped, 1, []string{`"axes-swapped"`, `"area-edge"`, `"error"`}},
		{"mirrored", mirror, 1, []string{`"mirrored"`, `"error"`}},
	} {
		got := run(t, c.csv, "fit", "--grid", "27700", "--points", "-", "--json")
		if got.code != c.code {
			t.Errorf("%s: exit %d, want %d", c.name, got.code, c.code)
		}
		for _, want := range c.want {
			if !strings.Contains(got.out, want) {
				t.Errorf("%s: got %s, want %s", c.name, got.out, want)
			}
		}
	}
}

// TestFitDPI: with the resolution known, two points are compared with the
// usual scales of maps. 100 px for 1 km at 254 dpi is 1:100 000; at 300 dpi it
// would be 1:118 110, which is none.
func TestFitDPI(t *testing.T) {
	t.Parallel()
	const csv = "col,row,easting,northing\n100,100,212000,734000\n600,100,217000,734000\n"
	for dpi, want := range map[string]bool{"254": false, "300": true} {
		got := run(t, csv, "fit", "--grid", "27700", "--points", "-", "--dpi", dpi, "--json")
		wantCode(t, got, 0)
		if strings.Contains(got.out, `"unlikely-scale"`) != want {
			t.Errorf("%s dpi: got %s, want unlikely-scale %v", dpi, got.out, want)
		}
	}
	if got := run(t, csv, "fit", "--grid", "27700", "--points", "-", "--dpi", "0"); got.code != exitUsage {
		t.Errorf("0 dpi: exit %d, want %d", got.code, exitUsage)
	}
}

func FuzzPoints(f *testing.F) {
	f.Add("col,row,easting,northing\n1,2,300000,400000\n")
	f.Add("col,row,ref\n1,2,NN 12 34\n3,4,13 34\n")
	f.Add("\ufeffcol,row,ref\n\"1\n\",2,x\n")
	f.Fuzz(func(t *testing.T, text string) {
		var grid gridFlag
		if err := grid.Set("27700"); err != nil {
			t.Fatal(err)
		}
		r := &pointReader{system: grid.system}
		points, err := r.readPoints(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, p := range points {
			for _, v := range []float64{p.At.Col, p.At.Row, p.Ref.E, p.Ref.N} {
				if v-v != 0 {
					t.Errorf("%q: got %v, want finite values", text, p)
				}
			}
		}
	})
}
