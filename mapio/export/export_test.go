package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/feature"
	"legwright/mapio/geojson"
	"legwright/mapio/gpx"
	"legwright/mapio/planfile"
	"legwright/mapio/table"
)

// demoReader reads the demo with an area, a track and texts that formats must escape.
func demoReader(t *testing.T) *leg.Reader {
	t.Helper()
	p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	if err != nil {
		t.Fatal(err)
	}
	m := p.Marks[0]
	m.Name, m.Note = `Ceann a' "Chàirn" <&> Ελ`, "=1+1; a\x01b"
	p = p.SetMark(m)
	at := p.Marks[1].Position
	var around []plan.Position
	for _, d := range [][2]float64{{0, 0}, {0, 90}, {80, 90}, {80, 0}} { // clockwise
		q := at
		q.Grid.E, q.Grid.N = at.Grid.E+d[0], at.Grid.N+d[1]
		around = append(around, q)
	}
	p = p.AddArea(plan.Area{ID: p.NextID(plan.OfArea), Ground: plan.AreaGrounds()[0], Points: around})
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func bytesOf(t *testing.T, r *leg.Reader, f Format) []byte {
	t.Helper()
	text, err := Bytes(r, f, gpx.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// GDAL reads in GeoJSON and KML every feature where it lies, to 1e-7°, under its name and with its
// words. In GeoJSON outlines go counterclockwise, as RFC 7946 (section 3.1.6) has it.
func TestGDALReadsFeatures(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (Debian package gdal-bin): no comparison with GDAL")
	}
	r := demoReader(t)
	want, err := feature.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	for format, lost := range map[Format]string{GeoJSON: "", KML: "\x01"} { // XML has no control characters
		got := throughGDAL(t, format, bytesOf(t, r, format))
		if len(got) != len(want.Features) {
			t.Errorf("%s: GDAL reads %d features, want %d", format, len(got), len(want.Features))
		}
		for _, f := range want.Features {
			name := strings.Join(strings.Fields(f.Name), " ")
			if format == KML && f.Stop != "" {
				name = "STOP " + name
			}
			i := slices.IndexFunc(got, func(g read) bool { return g.name == name && g.fits(f) })
			if i < 0 {
				t.Errorf("%s: %q is not where it should be, or not there", format, name)
				continue
			}
			if text, _ := got[i].properties["description"].(string); text != without(f.Text, lost) {
				t.Errorf("%s: %q says %q, want %q", format, name, text, f.Text)
			}
			if f.Closed && format == GeoJSON && got[i].turn() <= 0 {
				t.Errorf("%q goes clockwise", name)
			}
		}
	}
}

// without leaves out a character, if one is named.
func without(text, lost string) string {
	if lost == "" {
		return text
	}
	return strings.ReplaceAll(text, lost, "")
}

// read is a feature as GDAL reads it, without the first point of an outline at its end.
type read struct {
	name       string
	points     [][]float64
	properties map[string]any
}

func (g read) fits(f feature.Feature) bool {
	if len(g.points) != len(f.Points) {
		return false
	}
	for _, p := range f.Points {
		if !slices.ContainsFunc(g.points, func(xy []float64) bool {
			return math.Abs(xy[0]-p.At.Lon.Deg()) <= 1e-7 && math.Abs(xy[1]-p.At.Lat.Deg()) <= 1e-7
		}) {
			return false
		}
	}
	return true
}

// turn is twice the signed area, positive counterclockwise.
func (g read) turn() (sum float64) {
	for i, p := range g.points {
		q := g.points[(i+1)%len(g.points)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum
}

// throughGDAL reads all layers of a file by GDAL, which writes them again as GeoJSON lines.
func throughGDAL(t *testing.T, f Format, text []byte) (out []read) {
	t.Helper()
	in := filepath.Join(t.TempDir(), "plan"+string(f))
	if err := os.WriteFile(in, text, 0o600); err != nil {
		t.Fatal(err)
	}
	layers := []string{""}
	if f == KML {
		layers = nil
		for _, k := range plan.Kinds() {
			if bytes.Contains(text, []byte("<name>"+k.Many+"</name>")) {
				layers = append(layers, k.Many)
			}
		}
	}
	for _, layer := range layers {
		args := []string{"-f", "GeoJSONSeq", "-lco", "COORDINATE_PRECISION=9", "/vsistdout/", in}
		if layer != "" {
			args = append(args, layer)
		}
		lines, err := exec.Command("ogr2ogr", args...).Output()
		if err != nil {
			t.Fatalf("%s of %s: %v", layer, f, err)
		}
		for line := range bytes.Lines(lines) {
			out = append(out, readLine(t, line))
		}
	}
	return out
}

func readLine(t *testing.T, line []byte) read {
	t.Helper()
	var x struct {
		Properties map[string]any
		Geometry   struct {
			Type        string
			Coordinates json.RawMessage
		}
	}
	err := json.Unmarshal(line, &x)
	g := read{properties: x.Properties}
	for _, key := range []string{"name", "Name"} {
		if name, ok := x.Properties[key].(string); ok {
			g.name = strings.Join(strings.Fields(name), " ")
		}
	}
	var rings [][][]float64
	switch {
	case err != nil:
	case x.Geometry.Type == "Point":
		g.points = make([][]float64, 1)
		err = json.Unmarshal(x.Geometry.Coordinates, &g.points[0])
	case x.Geometry.Type == "LineString":
		err = json.Unmarshal(x.Geometry.Coordinates, &g.points)
	case x.Geometry.Type == "Polygon":
		if err = json.Unmarshal(x.Geometry.Coordinates, &rings); err == nil {
			g.points = rings[0][:len(rings[0])-1]
		}
	}
	if err != nil {
		t.Fatalf("%v: %s", err, line)
	}
	return g
}

// What is read of our own GeoJSON is what was written: kind, name, note and what speaks against
// it.
func TestOwnGeoJSONSaysWhatItIs(t *testing.T) {
	t.Parallel()
	r := demoReader(t)
	want, err := feature.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := geojson.Read(bytes.NewReader(bytesOf(t, r, GeoJSON)))
	if err != nil || len(got) != len(want.Features) {
		t.Fatalf("%d shapes, %v, want %d", len(got), err, len(want.Features))
	}
	for i, f := range want.Features {
		s := got[i]
		if s.Name != f.Name || s.Own.Thing != f.Kind.Word() || s.Own.Sort != f.Sort || s.Own.Note != f.Note || s.Own.KeepM != f.KeepM || s.Own.Cross != f.Cross {
			t.Errorf("%q comes back as %+v", f.Name, s)
		}
		from, to := f.Lasting(), f.Lasting()
		if f.Kind == plan.OfLeg {
			from, to = f.Points[0].Lasting, f.Points[1].Lasting
		}
		if caution.Format(s.Own.FromCautions) != caution.Format(from) || caution.Format(s.Own.ToCautions) != caution.Format(to) {
			t.Errorf("%q comes back with %v and %v, want %v and %v", f.Name, s.Own.FromCautions, s.Own.ToCautions, from, to)
		}
	}
}

// A spreadsheet that reads the copied ledger keeps names and notes letter by letter and figures as
// numbers, each in its column.
func TestASpreadsheetKeepsTheLedger(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("ssconvert"); err != nil {
		t.Skip("ssconvert is not installed (Debian package gnumeric): no spreadsheet reads the ledger")
	}
	words := []string{
		"1/2", "3-4", "10:45", "1e3", "1.10", "007", "50%", "£5", "(5)", "1 1/2", "5 pm", "2026-11-28", "1.5.2026", "1,000", "TRUE",
		"May 2", "Mar-26", "4 Oct", "28 November 2026", "+44", "-7", "=1+1", "@sum", "Mark 2", "cairn 5", "June", "12", "5b", "NL 2776 4333",
	}
	p := demoReader(t).Plan()
	for i, m := range p.Marks {
		m.Name = words[len(words)-1-i]
		p = p.SetMark(m)
	}
	for first := 0; first < len(words); first += 2 * len(p.Legs) {
		for i, l := range p.Legs {
			l.Note, l.Catching = words[(first+2*i)%len(words)], words[(first+2*i+1)%len(words)]
			p = p.SetLeg(l)
		}
		r, err := leg.NewReader(p)
		if err != nil {
			t.Fatal(err)
		}
		text, err := table.Tabbed(r)
		if err != nil {
			t.Fatal(err)
		}
		rows := throughSpreadsheet(t, text)
		if len(rows) != len(p.Legs)+1 {
			t.Fatalf("%d rows of %d legs", len(rows), len(p.Legs))
		}
		for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
			for j, cell := range strings.Split(line, "\t") {
				want := strings.TrimPrefix(cell, "'")
				switch head := rows[0][j]; {
				case i == 0:
				case head == "date": // is one, and shown as the spreadsheet shows dates
					continue
				case head == "note":
					want = p.Legs[i-1].Note
				case head == "catching feature":
					want = p.Legs[i-1].Catching
				}
				if got := rows[i][j]; got != want && (rows[0][j] != "clock" || got != want+":00") {
					t.Errorf("row %d, %s: the spreadsheet shows %q, want %q", i, rows[0][j], got, want)
				}
			}
		}
	}
}

// throughSpreadsheet are the cells of a pasted text as a spreadsheet shows them.
func throughSpreadsheet(t *testing.T, text string) [][]string {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.tsv"), filepath.Join(dir, "out.csv")
	if err := os.WriteFile(in, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command("ssconvert", "-I", "Gnumeric_stf:stf_csvtab", in, out).CombinedOutput(); err != nil {
		t.Fatalf("ssconvert: %v\n%s", err, said)
	}
	csvText, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(csvText)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// The ledger as CSV has a row a leg of as many cells as the head, and no cell that a
// spreadsheet computes.
func TestCSVIsHarmless(t *testing.T) {
	t.Parallel()
	r := demoReader(t)
	p := r.Plan()
	traps := [][2]string{
		{"=1+1", "'=1+1"},
		{"+44", "'+44"},
		{"-5 a", "'-5 a"},
		{"@SUM(1)", "'@SUM(1)"},
		{" =1", "' =1"},
		{"\t=1", "' =1"},
		{"\r=1", "' =1"},
		{"a;=1", "a;'=1"},
		{"|=1", "|'=1"},
		{"＝1", "'＝1"},
		{"a\n=1", "a =1"},
		{"a-b = c", "a-b = c"},
	}
	for i, trap := range traps {
		l := p.Legs[i%len(p.Legs)]
		if i < len(p.Legs) {
			l.Note = trap[0]
		} else {
			l.TickOff = trap[0]
		}
		p = p.SetLeg(l)
	}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	text := bytesOf(t, r, CSV)
	if !bytes.HasPrefix(text, []byte("\ufeffstops,leg,")) || bytes.Count(text, []byte("\r\n")) != len(p.Legs)+1 {
		t.Errorf("no byte order mark, head or line ends of RFC 4180: %.60q", text)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll() // all of one length
	if err != nil || len(rows) != len(p.Legs)+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	note, tick := slices.Index(rows[0], "note"), slices.Index(rows[0], "tick-off feature")
	for i, trap := range traps {
		at := note
		if i >= len(p.Legs) {
			at = tick
		}
		if got := rows[1+i%len(p.Legs)][at]; got != trap[1] {
			t.Errorf("%q is written as %q, want %q", trap[0], got, trap[1])
		}
	}
	for _, row := range rows[1:] {
		for _, cell := range row {
			if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
				t.Errorf("%q is computed", cell)
			}
		}
	}
}

// The ending chooses the format, and none is guessed.
func TestFormatOf(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]Format{"a.gpx": GPX, "a.GeoJSON": GeoJSON, "b/a.kml": KML, "a.csv": CSV, "a": "", "a.txt": ""} {
		if got, err := FormatOf(name); got != want || (err == nil) != (want != "") {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
}
