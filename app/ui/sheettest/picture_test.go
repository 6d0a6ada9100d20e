package sheettest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/ui/benchtest"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// The picture on the sheet is always the one the calibration was made on:
// undo past another picture brings the first one back, and past all of them
// none. Bearings read on the wrong picture would look right.
func TestUndoBringsThePictureBack(t *testing.T) {
	b := benchtest.Calibrated(t)
	first := b.Shown().SHA256
	b.Files.Drop(benchtest.OtherPicture(t))
	b.Answer("Replace the sheet")
	b.Until("the other picture", func() bool { return b.Shown().SHA256 != first && b.Shown().Pyramid != nil })
	if b.Points() != 0 {
		t.Fatalf("%d control points on another picture, want none", b.Points())
	}
	other := b.Shown().SHA256
	b.Undo()
	if b.Points() != 2 || b.Shown().SHA256 == other {
		t.Fatalf("%d points, the other picture still shown %v, want 2 and not", b.Points(), b.Shown().SHA256 == other)
	}
	b.Until("the first picture again", func() bool { return b.Shown().SHA256 == first })
	b.Redo()
	b.Until("the other picture again", func() bool { return b.Shown().SHA256 == other })
	for b.Session().UndoName() != "" {
		b.Undo()
	}
	if _, ok := b.Plan().Sheet(); ok || b.Shown().Pyramid != nil {
		t.Error("a picture is shown that no sheet of the plan names")
	}
}

// An opening that was begun for another plan does not come into a new one.
func TestNewPlanGivesUpTheOpening(t *testing.T) {
	b := benchtest.Open(t)
	b.Files.Drop(benchtest.Picture(t))
	b.Choose("New plan")
	if b.Opening() {
		t.Error("the opening goes on in the new plan")
	}
	b.AfterAMoment()
	if _, ok := b.Plan().Sheet(); ok || b.Shown().Pyramid != nil {
		t.Error("the picture came into the plan that was begun after it")
	}
}

// Escape gives an opening up whose progress is shown.
func TestEscapeGivesUpTheOpening(t *testing.T) {
	b := benchtest.Open(t)
	reads := byHand(b)
	b.Files.Drop(benchtest.Picture(t))
	reads.Next(t)
	b.Until("the progress, which comes after a quarter of a second", b.Asks)
	b.Escape()
	if b.Asks() || !strings.Contains(b.Foot.Message(), "ground.png was not opened") {
		t.Errorf("dialog %v, message %q, want none and that it was cancelled", b.Asks(), b.Foot.Message())
	}
	b.Pictures.Opener = scan.NewOpener()
	b.Files.Drop(benchtest.OtherPicture(t))
	b.Until("the picture opened after it", func() bool { return b.Whole() })
	if filepath.Base(b.Shown().Path) != "other.png" {
		t.Errorf("%s is shown", b.Shown().Path)
	}
}

// A plan whose picture is gone shows what the store kept, and says so.
func TestKeptPictureIsMarked(t *testing.T) {
	dir, path := t.TempDir(), benchtest.Picture(t)
	benchtest.Know(t, dir, path)
	b := benchtest.Stored(t, dir)
	b.Files.Drop(path)
	b.Until("the picture", func() bool { return b.Whole() })
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.Session().SaveAs(file); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	again := benchtest.Stored(t, dir)
	again.Files.Open(file)
	again.Until("the question", again.Asks)
	if !again.Shown().Copy || again.Shown().Pyramid == nil {
		t.Fatalf("shown is %+v, want a copy", again.Shown())
	}
	if !strings.Contains(again.Foot.Quality().Text, "file missing") {
		t.Errorf("foot line %q, want it to say that the file is not there", again.Foot.Quality().Text)
	}
}

// A picture that is replaced while it is open is noticed when the plan is saved; the
// plan keeps the hash of what it was made on.
func TestReplacedPictureIsNoticedOnSaving(t *testing.T) {
	b := benchtest.Calibrated(t)
	sha := b.Shown().SHA256
	benchtest.Overwrite(t, b.Shown().Path)
	if err := b.Session().SaveAs(filepath.Join(t.TempDir(), "walk"+planfile.Ext)); err != nil {
		t.Fatal(err)
	}
	b.Files.Save()
	b.Until("the caution", b.Foot.Failed)
	sheet, _ := b.Plan().Sheet()
	if sheet.SHA256 != sha {
		t.Errorf("hash %.8s, want %.8s", sheet.SHA256, sha)
	}
}

// The file of the sheet with another content asks, rather than throwing the control
// points away.
func TestChangedSheetIsNotAnotherSheet(t *testing.T) {
	b := benchtest.Calibrated(t)
	benchtest.Overwrite(t, b.Shown().Path)
	b.Files.Drop(b.Shown().Path)
	b.Until("the question", func() bool { return b.Asks() && !b.Opening() })
	if b.Points() != 2 {
		t.Errorf("%d points, want the 2 that were there", b.Points())
	}
	b.Escape()
	if b.Asks() || b.Points() != 2 {
		t.Errorf("dialog %v, %d points after no", b.Asks(), b.Points())
	}
}
