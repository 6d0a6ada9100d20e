package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// The field of the grid's dialog finds grids of the list, takes a definition,
// and says why it cannot read another.
func TestGridChooserNarrows(t *testing.T) {
	b := opened(t)
	for _, c := range []struct {
		name, text string
		found      int
		first      geodesy.Code
		note       string
	}{
		{"nothing typed", "", len(geodesy.Catalogue()), "EPSG:27700", ""},
		{"a country", "new zealand", 1, "EPSG:2193", ""},
		{"a code that is not in the list", "EPSG:2180", 0, "", "Paste its definition"},
		{"in the list by its figures", "+proj=utm +zone=30 +datum=WGS84", 1, "EPSG:32630", "a grid of the list"},
		{"of nobody's list", "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=0 +y_0=0 +ellps=intl +towgs84=-87,-98,-121", 1, "", "± 20 m by the three-parameter shift"},
		{"without a datum", "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=0 +y_0=0 +ellps=intl", 1, "", "hundreds of metres"},
		{"in feet", "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=ft", 1, "", "printed in the unit foot"},
		{"half typed", `PROJCS["x",GEOGCS[`, 0, "", "The well-known text breaks off"},
		{"another family", "+proj=aea +lat_1=1 +lat_2=2 +ellps=GRS80", 0, "", "What is read"},
	} {
		g := newGridChooser(b)
		g.search.SetText(c.text)
		if len(g.found) != c.found || (c.first != "" && g.found[0].Code() != c.first) || !strings.Contains(strings.ToLower(g.note.Text), strings.ToLower(c.note)) {
			t.Errorf("%s: found %d, note %q, want %d, %q", c.name, len(g.found), g.note.Text, c.found, c.note)
		}
		if g.note.Visible() != (c.note != "") {
			t.Errorf("%s: note visible %v", c.name, g.note.Visible())
		}
	}
}

// A sheet on a grid by definition is calibrated, read and shown; the foot line
// marks latitude and longitude of an unknown datum.
func TestSheetOnADefinedGrid(t *testing.T) {
	b := opened(t)
	file := filepath.Join(t.TempDir(), "isle.prj")
	const prj = "PROJCS[\"Isle\",GEOGCS[\"Isle 1907\",DATUM[\"Isle_1907\",SPHEROID[\"Airy 1830\",6377563.396,299.3249646]],PRIMEM[\"Greenwich\",0],UNIT[\"degree\",0.0174532925199433]],\nPROJECTION[\"Transverse_Mercator\"],PARAMETER[\"latitude_of_origin\",57],PARAMETER[\"central_meridian\",-6],PARAMETER[\"scale_factor\",1],PARAMETER[\"false_easting\",10000],PARAMETER[\"false_northing\",20000],UNIT[\"metre\",1]]\n"
	if err := os.WriteFile(file, []byte(prj), 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := readDefinitionFile(file)
	if err != nil {
		t.Fatal(err)
	}
	g := newGridChooser(b)
	g.search.SetText(text)
	if len(g.found) != 1 {
		t.Fatalf("the file defines nothing: %s", g.note.Text)
	}
	b.try(b.s.SetGrid(g.found[0].Code()), chosenWords(g.found[0].Code()))
	if !strings.Contains(b.foot.Message(), "hundreds of metres") {
		t.Errorf("told %q", b.foot.Message())
	}
	point(b, 100, 200, "12000 23000")
	point(b, 300, 200, "14000 23000")
	if n := points(b); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.foot.Message())
	}
	hoverAt(b, picAt(100.5, 199.3))
	if ref, latlon := b.foot.Pointer().Ref, b.foot.Pointer().LatLon; ref != "12000 23000" || !strings.Contains(latlon, "hundreds of m") {
		t.Errorf("the foot line says %q, %q", ref, latlon)
	}
	if _, err := readDefinitionFile(file + "x"); err == nil {
		t.Error("a file that is not there was read")
	}
}
