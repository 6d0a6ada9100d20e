package ui

import (
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/ui/opening"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
)

// otherPicture writes a picture that is not the one of picture.
func otherPicture(t *testing.T) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 320, 240))
	img.SetGray(5, 5, color.Gray{Y: 99})
	path := filepath.Join(t.TempDir(), "other.png")
	writePNG(t, path, img)
	return path
}

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// The picture on the sheet is always the one the calibration was made on:
// undo past another picture brings the first one back, and past all of them
// none. Bearings read on the wrong picture would look right.
func TestUndoBringsThePictureBack(t *testing.T) {
	b := calibrated(t)
	first := b.pictures.shown.SHA256
	b.desk.Open(otherPicture(t))
	answerWith(t, b, "Replace the sheet")
	until(t, b, "the other picture", func() bool { return b.pictures.shown.SHA256 != first && b.desk.Pyramid() != nil })
	if points(b) != 0 {
		t.Fatalf("%d control points on another picture, want none", points(b))
	}
	other := b.pictures.shown.SHA256
	b.undo()
	if points(b) != 2 || b.pictures.shown.SHA256 == other {
		t.Fatalf("%d points, the other picture still shown %v, want 2 and not", points(b), b.pictures.shown.SHA256 == other)
	}
	until(t, b, "the first picture again", func() bool { return b.pictures.shown.SHA256 == first })
	b.redo()
	until(t, b, "the other picture again", func() bool { return b.pictures.shown.SHA256 == other })
	for b.s.UndoName() != "" {
		b.undo()
	}
	if _, ok := b.s.Plan().Sheet(); ok || b.desk.Pyramid() != nil {
		t.Error("a picture is shown that no sheet of the plan names")
	}
}

// An opening that was begun for another plan does not come into a new one.
func TestNewPlanGivesUpTheOpening(t *testing.T) {
	b := stand(t)
	b.desk.Open(picture(t))
	b.files.Opener.New()
	if b.openingPicture() {
		t.Error("the opening goes on in the new plan")
	}
	afterAMoment(t, b)
	if _, ok := b.s.Plan().Sheet(); ok || b.desk.Pyramid() != nil {
		t.Error("the picture came into the plan that was begun after it")
	}
}

// Escape gives an opening up whose progress is shown.
func TestEscapeGivesUpTheOpening(t *testing.T) {
	b := stand(t)
	b.desk.Open(picture(t))
	view := b.pictures.view
	view.Show() // as after a quarter of a second
	b.escape()
	if b.dialogs.Waiting() || !strings.Contains(b.foot.Message(), "ground.png was not opened") {
		t.Errorf("dialog %v, message %q, want none and that it was cancelled", b.dialogs.Waiting(), b.foot.Message())
	}
	b.desk.Open(otherPicture(t))
	until(t, b, "the picture opened after it", func() bool { return whole(b) })
	if filepath.Base(b.pictures.shown.Path) != "other.png" {
		t.Errorf("%s is shown", b.pictures.shown.Path)
	}
}

// stored is a bench with a store of pictures in a folder.
func stored(t *testing.T, dir string) *Bench {
	t.Helper()
	b := stand(t)
	store, err := pyramid.OpenStore(dir, 0, pyramid.Owner{})
	if err != nil {
		t.Fatal(err)
	}
	b.desk.Source().Store = store
	t.Cleanup(b.desk.Close) // before its folder goes
	return b
}

// known opens a picture until the store knows it.
func known(t *testing.T, dir, path string) {
	t.Helper()
	b := stored(t, dir)
	b.desk.Open(path)
	until(t, b, "the picture in the store", func() bool { return whole(b) && inStore(b) })
	b.files.Opener.New()
}

// inStore reports whether the picture shown is in the store.
func inStore(b *Bench) bool {
	go b.program.later(func() {}) // until looks again
	return b.desk.Pyramid().Stats().Stored
}

// otherOfSize writes another picture of the same size over a file and returns its hash.
func otherOfSize(t *testing.T, path string) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	draw.Draw(img, img.Rect, image.NewUniform(color.Gray{Y: 60}), image.Point{}, draw.Src)
	writePNG(t, path, img)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return hashText(raw)
}

// hashText is a hash as plans write it.
func hashText(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// A plan whose picture is gone shows what the store kept, and says so.
func TestKeptPictureIsMarked(t *testing.T) {
	dir, path := t.TempDir(), picture(t)
	known(t, dir, path)
	b := stored(t, dir)
	b.desk.Open(path)
	until(t, b, "the picture", func() bool { return whole(b) })
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	again := stored(t, dir)
	reopened(t, again, file)
	until(t, again, "the question", again.dialogs.Waiting)
	if again.desk.State() != opening.Copy || again.desk.Pyramid() == nil {
		t.Fatalf("the desk is %v, want a copy", again.desk.State())
	}
	if !strings.Contains(again.foot.Quality().Text, "file missing") {
		t.Errorf("foot line %q, want it to say that the file is not there", again.foot.Quality().Text)
	}
}

// A picture that is replaced while it is open is noticed when the plan is saved; the
// plan keeps the hash of what it was made on.
func TestReplacedPictureIsNoticedOnSaving(t *testing.T) {
	b := calibrated(t)
	sha := b.pictures.shown.SHA256
	otherOfSize(t, b.pictures.shown.Path)
	if err := b.s.SaveAs(filepath.Join(t.TempDir(), "walk"+planfile.Ext)); err != nil {
		t.Fatal(err)
	}
	saveNow(t, b)
	until(t, b, "the caution", b.foot.Failed)
	sheet, _ := b.s.Plan().Sheet()
	if sheet.SHA256 != sha {
		t.Errorf("hash %.8s, want %.8s", sheet.SHA256, sha)
	}
}

// The file of the sheet with another content asks, rather than throwing the control
// points away.
func TestChangedSheetIsNotAnotherSheet(t *testing.T) {
	b := calibrated(t)
	otherOfSize(t, b.pictures.shown.Path)
	b.desk.Open(b.pictures.shown.Path)
	until(t, b, "the question", func() bool { return b.dialogs.Waiting() && !b.openingPicture() })
	if points(b) != 2 {
		t.Errorf("%d points, want the 2 that were there", points(b))
	}
	b.escape()
	if b.dialogs.Waiting() || points(b) != 2 {
		t.Errorf("dialog %v, %d points after no", b.dialogs.Waiting(), points(b))
	}
}
