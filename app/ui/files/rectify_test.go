package files_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"legwright/app/calib"
	"legwright/mapio/georef"
	"legwright/mapio/rectify"
	"legwright/mapio/scan"
)

// rectified exports the sheet to a path at a scale, through the dialog.
func (b *bench) rectified(path, metresPerPixel string) {
	b.t.Helper()
	b.Rectify.Export()
	b.asked("the file of the rectified map")
	if metresPerPixel != "" {
		b.fill("metres per pixel", metresPerPixel)
	}
	b.typeInto(path)
}

// The rectified map is found with its position beside it, in the sheet's own grey.
func TestRectify(t *testing.T) {
	b := calibrated(t)
	dir := t.TempDir()
	b.rectified(filepath.Join(dir, "up.png"), "20")
	b.until("the rectified map", func() bool {
		_, err := os.Stat(filepath.Join(dir, "up.pgw"))
		return err == nil && b.foot.Message() != ""
	})
	if b.foot.Failed() {
		t.Fatalf("the foot line says %q", b.foot.Message())
	}
	got, err := scan.Open(context.Background(), os.DirFS(dir), "up.png", scan.Options{})
	do(t, err)
	world := georef.Find(got.Geo).World
	if world == nil {
		t.Fatal("there is no world file")
	}
	c, _ := b.s.Calibration()
	g := c.ToGrid(calib.PicturePt{Col: 200, Row: 150})
	col, row := int((g.E-world.C)/world.A), int((g.N-world.F)/world.E)
	if v, _, _, _ := got.Image.At(col, row).RGBA(); v>>8 < 198 || v>>8 > 202 {
		t.Errorf("at %d, %d it is %d grey, want the sheet's 200", col, row, v>>8)
	}
}

// Nothing is written before it is clear that it can be, and never over the picture of a
// sheet.
func TestRectifyRefuses(t *testing.T) {
	b := stand(t)
	b.Rectify.Export()
	if !b.foot.Failed() || b.dialogs.Waiting() {
		t.Error("without a picture it asks for a file")
	}
	b = calibrated(t)
	before := read(t, b.s.PicturePath())
	for name, c := range map[string]struct{ path, scale string }{
		"over the sheet's picture": {b.s.PicturePath(), ""},
		"no number":                {filepath.Join(t.TempDir(), "a.png"), "fine"},
		"too fine":                 {filepath.Join(t.TempDir(), "a.png"), "0.01"},
	} {
		b.rectified(c.path, c.scale)
		if name == "over the sheet's picture" {
			b.asked("whether to overwrite")
			b.answer("Overwrite")
		}
		b.asked(name)
		b.until(name, b.foot.Failed)
		for b.dialogs.Escape() {
		}
		b.foot.Say("")
		if _, err := os.Stat(c.path); name != "over the sheet's picture" && err == nil {
			t.Errorf("%s: a file was written", name)
		}
	}
	if read(t, b.s.PicturePath()) != before {
		t.Error("the sheet's picture changed")
	}
}

// A cancelled export leaves nothing behind, and another can begin.
func TestRectifyCancelled(t *testing.T) {
	b := calibrated(t)
	dir := t.TempDir()
	b.rectified(filepath.Join(dir, "up.png"), "1.25")
	if !b.Rectify.Exporting() {
		t.Fatalf("nothing is exported: %s", b.foot.Message())
	}
	b.Rectify.Export()
	if !b.foot.Failed() {
		t.Error("a second export begins beside the first")
	}
	b.Rectify.Cancel()
	b.until("the end of the export", func() bool {
		b.queue.Later(func() {})
		list, err := os.ReadDir(dir)
		return err == nil && len(list) == 0
	})
	b.Rectify.Export()
	b.asked("another export")
}

// The export of a picture that was closed is an error, not white paper.
func TestRectifyOfAClosedPicture(t *testing.T) {
	b := calibrated(t)
	path := filepath.Join(t.TempDir(), "up.png")
	b.Rectify.Export()
	b.asked("the file")
	b.desk.Close()
	b.typeInto(path)
	b.until("the refusal", b.foot.Failed)
	for _, file := range rectify.Files(path) {
		if _, err := os.Stat(file); err == nil {
			t.Errorf("%s was written", file)
		}
	}
}
