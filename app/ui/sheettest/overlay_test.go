package sheettest

import (
	"archive/zip"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/app/ui/benchtest"
	"legwright/mapio/planfile"
)

// overlaidKML lays pictures over a little ground in the north, one degree of
// longitude further east each.
func overlaidKML(hrefs ...string) string {
	s := `<kml xmlns="http://www.opengis.net/kml/2.3"><Document>`
	for i, h := range hrefs {
		s += fmt.Sprintf(`<GroundOverlay><name>from %d</name><Icon><href>%s</href></Icon><LatLonBox><north>63.002</north><south>63</south><east>%d.004</east><west>%d</west></LatLonBox></GroundOverlay>`,
			13+i, h, 13+i, 13+i)
	}
	return s + "</Document></kml>"
}

// A KML file opens as the picture it lays over the ground, calibrated by it and
// unchecked; the plan keeps the hash of the picture.
func TestOverlayOpensCalibrated(t *testing.T) {
	b := benchtest.Open(t)
	pic := benchtest.Picture(t)
	path := filepath.Join(filepath.Dir(pic), "ground.kml")
	if err := os.WriteFile(path, []byte(overlaidKML("ground.png")), 0o600); err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(pic)
	if err != nil {
		t.Fatal(err)
	}
	b.Files.Drop(path)
	b.Until("the end of the opening", func() bool { return b.Whole() })
	sheet, _ := b.Session().Sheet()
	if sheet.Picture != path || sheet.Page != (plan.Page{}) || sheet.SHA256 != benchtest.Hash(raw) {
		t.Errorf("got %+v, want the file's path and its picture's hash", sheet)
	}
	if !sheet.ByMatrix() || sheet.Code != "EPSG:3006" || b.Session().Verdict().Checked {
		t.Errorf("got fit %v on %s, checked %v, want given on EPSG:3006, unchecked", sheet.Medium, sheet.Code, b.Session().Verdict().Checked)
	}
	if said := strings.Join(b.Parts.Says(), "\n"); strings.Contains(said, "states") || !strings.Contains(said, "gives no accuracy") {
		t.Errorf("a file that states nothing of its error: %q", said)
	}
	if b.Files.SaveAs(filepath.Join(t.TempDir(), "walk"+planfile.Ext)); b.Foot.Failed() {
		t.Errorf("nothing has changed, and after saving it says %q", b.Foot.Message())
	}
	if err := os.WriteFile(path, []byte(overlaidKML("../ground.png")), 0o600); err != nil {
		t.Fatal(err)
	}
	b.Files.Drop(path)
	b.Until("the refusal", func() bool { return !b.Opening() && b.Asks() })
	if !b.Foot.Failed() {
		t.Errorf("a path that climbs out: %q", b.Foot.Message())
	}
}

// Of an archive with two pictures the bench asks which, and opens the one that was
// chosen with the plan.
func TestOverlaysOfAnArchive(t *testing.T) {
	b := benchtest.Stored(t, t.TempDir())
	pic, err := os.ReadFile(benchtest.Picture(t))
	if err != nil {
		t.Fatal(err)
	}
	tif, err := os.ReadFile("../testdata/two-pages.tif")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "two.kmz")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	z := zip.NewWriter(f)
	for name, data := range map[string][]byte{"doc.kml": []byte(overlaidKML("a/1.png", "a/2.tif")), "a/1.png": pic, "a/2.tif": tif} {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	f.Close()
	b.Files.Drop(path)
	b.Until("the first picture", func() bool { return b.Whole() })
	if b.InHand().Page != (plan.Page{Number: 1}) || !b.Asks() {
		t.Fatalf("sheet %+v, asked %v, want the first picture and the question", b.InHand().Page, b.Asks())
	}
	if !strings.Contains(strings.Join(b.Texts(), "\n"), "1 from 13, 2 from 14") {
		t.Errorf("the pictures are not named: %q", strings.Join(b.Texts(), "\n"))
	}
	second := plan.Page{Number: 2}
	b.Files.TypePage("2", "")
	b.Until("the second picture", func() bool { return b.Shown().Page == second && !b.Opening() })
	sheet, _ := b.Session().Sheet()
	if size := b.Shown().Pyramid.Size(); size.X != 60 || size.Y != 40 || sheet.Page != second || !sheet.ByMatrix() {
		t.Errorf("shown is %v of %+v, want the second picture, placed", size, sheet)
	}
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.Session().SaveAs(file); err != nil {
		t.Fatal(err)
	}
	b.Files.Open(file)
	b.Until("the plan's picture", func() bool { return b.Whole() })
	if sheet, _ := b.Session().Sheet(); sheet.Picture != path || sheet.Page != second || !sheet.ByMatrix() || b.Shown().Page != second {
		t.Errorf("the plan opens with %+v, want the second picture, placed", sheet)
	}
}
