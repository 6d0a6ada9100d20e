package gpx

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/assets/release"
	"legwright/mapio/feature"
)

var update = flag.Bool("update", false, "write the golden file anew")

// made is a document on invented ground.
func made() *Document {
	at := geodesy.DegLatLon
	quay := Point{Name: "Skelvig quay", Desc: "leg 1: grid 057°, magnetic 055°, 360 m; sheet unchecked", At: at(56.51234567, -8.01), Stop: "STOP: printed grid disagrees", Cautions: []caution.Caution{caution.Of(caution.FileDisagrees), caution.Of(caution.Unchecked)}}
	hut := Point{Name: "Bothan <Ruisg> & Co", Desc: "end of leg 1\x00", At: at(56.52, -8.02)}
	return &Document{
		Title: "Skelvig round", Desc: "the sheet is unchecked", Date: time.Date(2026, 11, 28, 0, 0, 0, 0, time.UTC),
		Marks:  []Point{quay, hut},
		Routes: []Route{{Name: "Skelvig round", Desc: "STOP: printed grid disagrees. It is unchecked.", Stop: "STOP: printed grid disagrees", Points: []Point{quay, hut, {Name: "Càrn Mòr", At: at(56.53, -8.03)}}}},
	}
}

func written(t *testing.T, d *Document, o Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func noon() time.Time {
	return time.Date(2026, 11, 25, 13, 0, 0, 0, time.FixedZone("one hour east", 3600))
}

func TestGolden(t *testing.T) {
	t.Parallel()
	got := written(t, made(), Options{Time: noon(), Track: true})
	file := filepath.Join("testdata", "golden.gpx")
	if *update {
		if err := os.WriteFile(file, bytes.Replace(got, []byte(release.Version), []byte("VERSION"), 1), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if want = bytes.Replace(want, []byte("VERSION"), []byte(release.Version), 1); !bytes.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, part := range []string{feature.PlanningAid, "2026-11-25T12:00:00Z", "unchecked", "<trk>", "<src>Legwright cautions: file-disagrees; unchecked</src>", "<cmt>STOP: printed grid disagrees</cmt>"} {
		if !bytes.Contains(got, []byte(part)) {
			t.Errorf("the file lacks %q", part)
		}
	}
}

// Valid against the GPX 1.1 schema of TopoGrafix, by libxml2's validator.
func TestValidAgainstSchema(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("needs xmllint of libxml2-utils")
	}
	empty := &Document{Title: "nothing"}
	for name, text := range map[string][]byte{
		"full":  written(t, made(), Options{Time: noon(), Track: true, NameLimit: 10}),
		"plain": written(t, made(), Options{}),
		"empty": written(t, empty, Options{}),
	} {
		file := filepath.Join(t.TempDir(), name+".gpx")
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("xmllint", "--noout", "--schema", filepath.Join("testdata", "gpx11.xsd"), file).CombinedOutput()
		if err != nil {
			t.Errorf("%s: %v\n%s\n%s", name, err, out, text)
		}
	}
}

// The same validator must refuse a file with a fault, or the check is idle.
func TestSchemaCheckCanFail(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("needs xmllint of libxml2-utils")
	}
	bad := bytes.Replace(written(t, made(), Options{}), []byte(`lat="56.52"`), []byte(`lat="156.52"`), 1)
	file := filepath.Join(t.TempDir(), "bad.gpx")
	if err := os.WriteFile(file, bad, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := exec.Command("xmllint", "--noout", "--schema", filepath.Join("testdata", "gpx11.xsd"), file).Run(); err == nil {
		t.Error("a latitude of 156.52 was found valid")
	}
}

// GDAL's reader finds the same points, within 1e-7 of a degree.
func TestGDALReadsTheSame(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("needs ogr2ogr of gdal-bin")
	}
	d := made()
	file := filepath.Join(t.TempDir(), "x.gpx")
	if err := os.WriteFile(file, written(t, d, Options{Track: true}), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, layer := range []struct {
		name string
		want []Point
	}{{"waypoints", d.Marks}, {"route_points", d.Routes[0].Points}, {"track_points", d.Routes[0].Points}} {
		out, err := exec.Command("ogr2ogr", "-f", "CSV", "/vsistdout/", file, layer.name, "-lco", "GEOMETRY=AS_XY").Output()
		if err != nil {
			t.Fatalf("%s: %v", layer.name, err)
		}
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")[1:]
		if len(lines) != len(layer.want) {
			t.Fatalf("%s: GDAL reads %d points, want %d", layer.name, len(lines), len(layer.want))
		}
		for i, line := range lines {
			var lon, lat float64
			if _, err := fmt.Sscanf(line, "%f,%f", &lon, &lat); err != nil {
				t.Fatalf("%s: line %q: %v", layer.name, line, err)
			}
			want := layer.want[i].At
			if math.Abs(lon-want.Lon.Deg()) > 1e-7 || math.Abs(lat-want.Lat.Deg()) > 1e-7 {
				t.Errorf("%s %d: GDAL reads %v, %v, want %v, %v", layer.name, i, lat, lon, want.Lat.Deg(), want.Lon.Deg())
			}
		}
	}
}

func TestWriteRefusesPointsNowhere(t *testing.T) {
	t.Parallel()
	for _, at := range []geodesy.LatLon{
		geodesy.DegLatLon(999, 0), geodesy.DegLatLon(0, -181),
		geodesy.DegLatLon(math.NaN(), 0), geodesy.DegLatLon(0, math.Inf(1)),
	} {
		var b bytes.Buffer
		err := Write(&b, &Document{Routes: []Route{{Points: []Point{{}, {At: at}}}}}, Options{})
		var bad *BadPoint
		if !errors.As(err, &bad) || bad.N != 2 || b.Len() > 0 {
			t.Errorf("%v: error %v after %d bytes, want a *BadPoint of point 2 and nothing written", at, err, b.Len())
		}
	}
}

// Names are unique whatever they are, and within the limit.
func TestNamesAreUniqueAndShort(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.IntRange(4, 30).Draw(t, "limit")
		names := newNamer(limit, false)
		seen := map[string]bool{}
		for _, want := range rapid.SliceOfN(rapid.SampledFrom([]string{
			"", "Cairn", "cairn", "Càrn Mòr nan Gobhar", "Càrn Mòr nan Gabhar", "A", "  spread   out ",
		}), 0, 60).Draw(t, "names") {
			got := names.name(want, "", "")
			if n := utf8.RuneCountInString(got); n == 0 || n > limit {
				t.Fatalf("name(%q) = %q has %d letters, limit %d", want, got, n, limit)
			}
			if low := strings.ToLower(got); seen[low] {
				t.Fatalf("name(%q) = %q was given out before", want, got)
			} else {
				seen[low] = true
			}
		}
	})
}
