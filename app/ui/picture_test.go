package ui

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
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
	first := b.picture.sha
	b.openSheet(otherPicture(t))
	answerWith(t, b, "In its place")
	until(t, "the other picture", func() bool { return b.picture.sha != first && b.picture.pyramid != nil })
	if points(b) != 0 {
		t.Fatalf("%d control points on another picture, want none", points(b))
	}
	other := b.picture.sha
	b.undo()
	if points(b) != 2 || b.picture.sha == other {
		t.Fatalf("%d points, the other picture still shown %v, want 2 and not", points(b), b.picture.sha == other)
	}
	until(t, "the first picture again", func() bool { return b.picture.sha == first })
	b.redo()
	until(t, "the other picture again", func() bool { return b.picture.sha == other })
	for b.s.UndoName() != "" {
		b.undo()
	}
	if _, ok := b.s.Plan().Sheet(); ok || b.picture.pyramid != nil {
		t.Error("a picture is shown that no sheet of the plan names")
	}
}

// An opening that was begun for another plan does not come into a new one.
func TestNewPlanGivesUpTheOpening(t *testing.T) {
	b := stand(t)
	b.openSheet(picture(t))
	view := b.picture.view
	b.newPlan()
	until(t, "the end of the opening", func() bool { return view.closed })
	if _, ok := b.s.Plan().Sheet(); ok || b.picture.pyramid != nil {
		t.Error("the picture came into the plan that was begun after it")
	}
}

// Escape gives an opening up whose progress is shown.
func TestEscapeGivesUpTheOpening(t *testing.T) {
	b := stand(t)
	b.openSheet(picture(t))
	view := b.picture.view
	view.Show() // as after a quarter of a second
	b.escape()
	if b.dialogOpen() || !strings.Contains(b.foot.Message(), "ground.png was not opened") {
		t.Errorf("dialog %v, message %q, want none and that it was cancelled", b.dialogOpen(), b.foot.Message())
	}
	b.openSheet(otherPicture(t))
	until(t, "the picture opened after it", func() bool { return b.picture.pyramid != nil })
	if filepath.Base(b.picture.path) != "other.png" {
		t.Errorf("%s is shown", b.picture.path)
	}
}
