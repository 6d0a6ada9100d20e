package sheettest

import (
	"os"
	"path/filepath"
	"testing"

	"legwright/app/session"
	"legwright/app/ui/benchtest"
	"legwright/mapio/planfile"
)

// foreignPlan writes a plan whose picture lies beside its folder, as somebody else
// would have sent it.
func foreignPlan(t *testing.T) (path string) {
	t.Helper()
	b := benchtest.Opened(t)
	dir := filepath.Dir(b.Shown().Path)
	if err := os.Mkdir(filepath.Join(dir, "walk"), 0o755); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(dir, "walk", "walk.legplan")
	if err := b.Session().SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return path
}

// asking is a bench that opens a plan and, if want says so, asks about its picture.
func asking(t *testing.T, known planfile.Known, path string, want bool) *benchtest.Bench {
	t.Helper()
	b := benchtest.Start(t, benchtest.Given{Known: known})
	b.Files.Drop(path)
	b.Until("the plan", func() bool { return b.Session().Path() == path && (b.Asks() || b.Shown().Pyramid != nil) })
	if b.Asks() != want {
		t.Fatalf("it asks: %v, want %v", b.Asks(), want)
	}
	return b
}

func TestAPictureOutsideThePlansFolderIsAskedAboutOnce(t *testing.T) {
	path, known := foreignPlan(t), planfile.KnownIn(t.TempDir())
	b := asking(t, known, path, true)
	if b.Opening() || b.Shown().Pyramid != nil {
		t.Error("the picture was touched before the answer")
	}
	b.Answer("Cancel")
	if b.Opening() || b.Shown().Pyramid != nil || b.Foot.Message() == "" {
		t.Errorf("cancelled: opening %v, said %q", b.Opening(), b.Foot.Message())
	}
	showAgain(t, b)
	if b.Asks() || b.Opening() {
		t.Error("what was declined is asked again, or opened")
	}
	b.Files.Save() // saving it is not an answer
	b = asking(t, known, path, true)
	b.Answer("Open")
	b.Until("the picture", func() bool { return b.Whole() })
	asking(t, known, path, false)
}

// After declining the picture of somebody else's plan, a person who finds it, there
// or at another path, is not asked again.
func TestAPictureThatWasFoundIsNotAskedAboutAgain(t *testing.T) {
	for _, elsewhere := range []bool{false, true} {
		path, known := foreignPlan(t), planfile.KnownIn(t.TempDir())
		b := asking(t, known, path, true)
		b.Answer("Cancel")
		sheet, _ := b.Session().Sheet()
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
		b.Choose("Find the picture…")
		b.Files.TypePath(found)
		b.Until("the picture", func() bool { return b.Whole() })
		b.Files.Save()
		asking(t, known, path, false)
	}
}

func TestAPlanSavedHereOpensItsPictureUnasked(t *testing.T) {
	b := benchtest.Opened(t)
	known := b.Known
	dir := filepath.Join(filepath.Dir(b.Shown().Path), "walk")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "walk.legplan")
	b.Files.SaveAs(path)
	asking(t, known, path, false)
}

// A link that leads out of the plan's folder counts as outside; one that came to be
// after the plan was read is not followed.
func TestLinksOutOfThePlansFolder(t *testing.T) {
	made := benchtest.Opened(t)
	outer, dir := made.Shown().Path, t.TempDir()
	inner := filepath.Join(dir, "ground.png")
	path := filepath.Join(dir, "walk.legplan")
	data, err := os.ReadFile(outer)
	if err == nil {
		err = os.WriteFile(inner, data, 0o644)
	}
	if err == nil {
		err = made.Session().Relink(session.Picture{Path: inner, Width: made.Shown().Header.Width, Height: made.Shown().Header.Height, SHA256: made.Shown().SHA256})
	}
	if err == nil {
		err = made.Session().SaveAs(path)
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
	b.Until("the refusal", b.Asks)
	if !b.Foot.Failed() || b.Shown().Pyramid != nil {
		t.Errorf("a link out of the folder: shown %v, said %q", b.Shown().Pyramid != nil, b.Foot.Message())
	}
	asking(t, planfile.KnownIn(t.TempDir()), path, true)
}

// showAgain lets the sheet of a plan be shown anew, as after a step to a plan without it
// and back.
func showAgain(t *testing.T, b *benchtest.Bench) {
	t.Helper()
	sheet, _ := b.Session().Sheet()
	if err := b.Session().RemoveSheet(sheet.ID); err != nil {
		t.Fatal(err)
	}
	b.Undo()
}
