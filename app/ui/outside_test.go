package ui

import (
	"os"
	"path/filepath"
	"testing"

	"legwright/app/session"
	"legwright/mapio/planfile"
)

// foreignPlan writes a plan whose picture lies beside its folder, as somebody else
// would have sent it.
func foreignPlan(t *testing.T) (path string) {
	t.Helper()
	b := opened(t)
	dir := filepath.Dir(b.pictures.shown.Path)
	if err := os.Mkdir(filepath.Join(dir, "walk"), 0o755); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(dir, "walk", "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return path
}

// asking is a bench that opens a plan and, if want says so, asks about its picture.
func asking(t *testing.T, known planfile.Known, path string, want bool) *Bench {
	t.Helper()
	b := stand(t)
	*b.files.Known = known
	b.files.Opener.Open(path)
	until(t, b, "the plan", func() bool { return b.s.Path() == path && (b.dialogs.Waiting() || b.desk.Pyramid() != nil) })
	if b.dialogs.Waiting() != want {
		t.Fatalf("it asks: %v, want %v", b.dialogs.Waiting(), want)
	}
	return b
}

func TestAPictureOutsideThePlansFolderIsAskedAboutOnce(t *testing.T) {
	path, known := foreignPlan(t), planfile.KnownIn(t.TempDir())
	b := asking(t, known, path, true)
	if b.openingPicture() || b.desk.Pyramid() != nil {
		t.Error("the picture was touched before the answer")
	}
	answerWith(t, b, "Cancel")
	if b.openingPicture() || b.desk.Pyramid() != nil || b.foot.Message() == "" {
		t.Errorf("cancelled: opening %v, said %q", b.openingPicture(), b.foot.Message())
	}
	showAgain(t, b)
	if b.dialogs.Waiting() || b.openingPicture() {
		t.Error("what was declined is asked again, or opened")
	}
	saveNow(t, b) // saving it is not an answer
	b = asking(t, known, path, true)
	answerWith(t, b, "Open")
	until(t, b, "the picture", func() bool { return whole(b) })
	asking(t, known, path, false)
}

// After declining the picture of somebody else's plan, a person who finds it, there
// or at another path, is not asked again.
func TestAPictureThatWasFoundIsNotAskedAboutAgain(t *testing.T) {
	for _, elsewhere := range []bool{false, true} {
		path, known := foreignPlan(t), planfile.KnownIn(t.TempDir())
		b := asking(t, known, path, true)
		answerWith(t, b, "Cancel")
		sheet, _ := b.s.Sheet()
		found := sheet.Picture
		if elsewhere {
			data, err := os.ReadFile(found)
			found = filepath.Join(t.TempDir(), "found.png")
			if err == nil {
				err = os.WriteFile(found, data, 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		b.desk.Find(found)
		until(t, b, "the picture", func() bool { return whole(b) })
		saveNow(t, b)
		asking(t, known, path, false)
	}
}

func TestAPlanSavedHereOpensItsPictureUnasked(t *testing.T) {
	b, known := opened(t), planfile.KnownIn(t.TempDir())
	*b.files.Known = known
	dir := filepath.Join(filepath.Dir(b.pictures.shown.Path), "walk")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "walk.legplan")
	b.files.Saver.SaveAs(nil)
	typePath(t, b, path)
	until(t, b, "the save", func() bool { return b.s.Path() == path })
	asking(t, known, path, false)
}

// A link that leads out of the plan's folder counts as outside; one that came to be
// after the plan was read is not followed.
func TestLinksOutOfThePlansFolder(t *testing.T) {
	made := opened(t)
	outer, dir := made.pictures.shown.Path, t.TempDir()
	inner := filepath.Join(dir, "ground.png")
	path := filepath.Join(dir, "walk.legplan")
	data, err := os.ReadFile(outer)
	if err == nil {
		err = os.WriteFile(inner, data, 0o644)
	}
	if err == nil {
		err = made.s.Relink(session.Picture{Path: inner, Width: made.pictures.shown.Header.Width, Height: made.pictures.shown.Header.Height, SHA256: made.pictures.shown.SHA256})
	}
	if err == nil {
		err = made.s.SaveAs(path)
	}
	if err != nil {
		t.Fatal(err)
	}
	b := asking(t, planfile.KnownIn(t.TempDir()), path, false)
	if err := os.Remove(inner); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outer, inner); err != nil {
		t.Skip("this system makes no symbolic links")
	}
	showAgain(t, b)
	until(t, b, "the refusal", b.dialogs.Waiting)
	if !b.foot.Failed() || b.desk.Pyramid() != nil {
		t.Errorf("a link out of the folder: shown %v, said %q", b.desk.Pyramid() != nil, b.foot.Message())
	}
	asking(t, planfile.KnownIn(t.TempDir()), path, true)
}

// showAgain lets the sheet of a plan be shown anew, as after a step to a plan without it
// and back.
func showAgain(t *testing.T, b *Bench) {
	t.Helper()
	sheet, _ := b.s.Sheet()
	if err := b.s.RemoveSheet(sheet.ID); err != nil {
		t.Fatal(err)
	}
	b.undo()
}
