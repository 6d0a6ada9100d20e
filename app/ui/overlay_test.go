package ui

import (
	"archive/zip"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/plan"
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
	b := stand(t)
	pic := picture(t)
	path := filepath.Join(filepath.Dir(pic), "ground.kml")
	if err := os.WriteFile(path, []byte(overlaidKML("ground.png")), 0o600); err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(pic)
	if err != nil {
		t.Fatal(err)
	}
	b.files.Opener.Open(path)
	until(t, b, "the end of the opening", func() bool { return whole(b) })
	sheet, _ := b.s.Sheet()
	if sheet.Picture != path || sheet.Page != (plan.Page{}) || sheet.SHA256 != hashText(raw) {
		t.Errorf("got %+v, want the file's path and its picture's hash", sheet)
	}
	if !sheet.ByMatrix() || sheet.Code != "EPSG:3006" || b.s.Verdict().Checked {
		t.Errorf("got fit %v on %s, checked %v, want given on EPSG:3006, unchecked", sheet.Medium, sheet.Code, b.s.Verdict().Checked)
	}
	if said := saidBy(b.sheetP.Body()); strings.Contains(said, "states") || !strings.Contains(said, "gives no accuracy") {
		t.Errorf("a file that states nothing of its error: %q", said)
	}
	b.desk.CheckFile() // nothing has changed
	if err := os.WriteFile(path, []byte(overlaidKML("../ground.png")), 0o600); err != nil {
		t.Fatal(err)
	}
	b.files.Opener.Open(path)
	until(t, b, "the refusal", func() bool { return !b.openingPicture() && b.dialogs.Waiting() })
	if !b.foot.Failed() {
		t.Errorf("a path that climbs out: %q", b.foot.Message())
	}
}

// Of an archive with two pictures the bench asks which, and opens the one that was
// chosen with the plan.
func TestOverlaysOfAnArchive(t *testing.T) {
	b := stored(t, t.TempDir())
	pic, err := os.ReadFile(picture(t))
	if err != nil {
		t.Fatal(err)
	}
	tif, err := os.ReadFile("testdata/two-pages.tif")
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
	b.files.Opener.Open(path)
	until(t, b, "the first picture", func() bool { return whole(b) })
	if sheetPage(b) != (plan.Page{Number: 1}) || !b.dialogs.Waiting() {
		t.Fatalf("sheet %+v, asked %v, want the first picture and the question", sheetPage(b), b.dialogs.Waiting())
	}
	if !strings.Contains(overText(b), "1 from 13, 2 from 14") {
		t.Errorf("the pictures are not named: %q", overText(b))
	}
	second := plan.Page{Number: 2}
	typePage(t, b, "2", "")
	until(t, b, "the second picture", func() bool { return b.pictures.shown.Page == second && !b.openingPicture() })
	sheet, _ := b.s.Sheet()
	if size := b.desk.Pyramid().Size(); size.X != 60 || size.Y != 40 || sheet.Page != second || !sheet.ByMatrix() {
		t.Errorf("shown is %v of %+v, want the second picture, placed", size, sheet)
	}
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	reopened(t, b, file)
	until(t, b, "the plan's picture", func() bool { return whole(b) })
	if sheet, _ := b.s.Sheet(); sheet.Picture != path || sheet.Page != second || !sheet.ByMatrix() || b.pictures.shown.Page != second {
		t.Errorf("the plan opens with %+v, want the second picture, placed", sheet)
	}
}
