package headless

import (
	"archive/zip"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// A list with nothing in it is written as a list: who reads it goes through it.
func TestEmptyListsOfAPictureAreLists(t *testing.T) {
	t.Parallel()
	for _, prj := range []string{"", "EPSG:27700"} {
		o := run(t, "", "picture", locatedDemo(t, prj, 0), "--json")
		var got map[string]json.RawMessage
		if err := json.Unmarshal([]byte(o.out), &got); err != nil || o.code != 0 {
			t.Fatalf("exit %d, %v: %s", o.code, err, o.err)
		}
		if at := string(got["at"]); at != "[]" {
			t.Errorf("at: got %s, want []", at)
		}
		if w := string(got["cautions"]); prj == "" && w != "[]" {
			t.Errorf("cautions: got %s, want []", w)
		}
		if prj == "" {
			continue
		}
		var place map[string]json.RawMessage
		if err := json.Unmarshal(got["georeference"], &place); err != nil || string(place["cautions"]) != "[]" {
			t.Errorf("cautions of the georeference: got %s, %v, want []", place["cautions"], err)
		}
	}
}

// A piece of the demo's scan in a KMZ archive, by its four corners, is placed on its grid
// and compared with its printed grid.
func TestLocateOfAnOverlay(t *testing.T) {
	t.Parallel()
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	m := cutMatrix()
	var corners []string
	for _, c := range [][2]float64{{0, cutHeight}, {cutWidth, cutHeight}, {cutWidth, 0}, {0, 0}} {
		g := geodesy.Grid{E: m[0]*c[0] + m[1]*c[1] + m[2], N: m[3]*c[0] + m[4]*c[1] + m[5]}
		wgs, _, err := system.ToWGS84(g)
		if err != nil {
			t.Fatal(err)
		}
		corners = append(corners, fmt.Sprintf("%.10f,%.10f", wgs.Lon.Deg(), wgs.Lat.Deg()))
	}
	overlay := "<GroundOverlay><Icon><href>%s</href></Icon><LatLonQuad><coordinates>" + strings.Join(corners, " ") + "</coordinates></LatLonQuad></GroundOverlay>"
	name := filepath.Join(t.TempDir(), "isle.kmz")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	z := zip.NewWriter(f)
	for _, e := range []struct{ name, data string }{
		{"doc.kml", "<kml><Document>" + fmt.Sprintf(overlay, "none.png") + fmt.Sprintf(overlay, "isle.jpg") + "</Document></kml>"},
		{"isle.jpg", string(cutScan(t))},
	} {
		w, err := z.CreateHeader(&zip.FileHeader{Name: e.name, Method: zip.Store})
		if err == nil {
			_, err = w.Write([]byte(e.data))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if o := run(t, "", "picture", name); o.code == 0 || !strings.Contains(o.err, "none.png") {
		t.Errorf("a picture that is missing: exit %d, %s", o.code, o.err)
	}
	o := run(t, "", "locate", "--picture", name, "--page", "2", "--json")
	var got struct {
		Source, Grid string
		Matrix       [6]float64
		Printed      struct {
			Agrees bool
			RMSPx  float64 `json:"rms_px"`
		} `json:"printed_grid"`
	}
	if err := json.Unmarshal([]byte(o.out), &got); err != nil || o.code != 0 {
		t.Fatalf("exit %d, %v: %s%s", o.code, err, o.out, o.err)
	}
	if got.Source != "ground overlay of isle.kmz" || got.Grid != "EPSG:27700" || !got.Printed.Agrees || got.Printed.RMSPx > 0.5 {
		t.Errorf("got %+v, want the demo's grid, agreeing within half a pixel", got)
	}
	for i, v := range got.Matrix {
		within := 1e-6
		if i%3 == 2 {
			within = 0.2 // metres
		}
		if math.Abs(v-m[i]) > within {
			t.Errorf("figure %d of the matrix: got %.9g, want %.9g ± %g", i, v, m[i], within)
		}
	}
}
