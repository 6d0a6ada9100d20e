package ui

import (
	"os"
	"path/filepath"
	"testing"
)

// saved is a calibrated bench whose plan has a file.
func saved(t *testing.T) (*Bench, string) {
	t.Helper()
	b := calibrated(t)
	path := filepath.Join(t.TempDir(), "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return b, path
}

// What is dropped on the window is opened, by its kind; a plan only after the
// work that is open has been asked about.
func TestDroppedFiles(t *testing.T) {
	b, path := saved(t)
	drop := func(p string) { b.files.Opener.Drop([]string{p}) }
	trusted(t, b, path)
	drop(path)
	until(t, b, "the plan's picture", func() bool { return whole(b) })
	b.view.NewMark(picAt(100, 100))
	drop(path)
	if !b.dialogs.Waiting() || len(b.s.Plan().Marks) != 1 {
		t.Errorf("asked %v, %d marks: want the unsaved mark asked about", b.dialogs.Waiting(), len(b.s.Plan().Marks))
	}
	b.escape()
	other := otherPicture(t)
	drop(other)
	answerWith(t, b, "Replace the sheet")
	until(t, b, "the dropped picture", func() bool { return b.pictures.shown.Path == other })
	bad := filepath.Join(t.TempDir(), "bad.gpx")
	if err := os.WriteFile(bad, []byte("<gpx><wpt lat='999'"), 0o644); err != nil {
		t.Fatal(err)
	}
	drop(bad)
	until(t, b, "the refusal of the GPX", func() bool { return b.dialogs.Waiting() })
	b.escape()
	b.files.Opener.Drop(nil)
}

// The recent files are in the menu, and one that is gone leaves it.
func TestRecentMenu(t *testing.T) {
	b, path := saved(t)
	reopened(t, b, path)
	until(t, b, "the plan's picture", func() bool { return whole(b) })
	b.refreshMenus()
	if items := b.frame.menus.recent.ChildMenu.Items; len(items) == 0 || items[0].Label != "walk.legplan" {
		t.Fatalf("recent files %v, want walk.legplan first", items)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	b.files.Opener.Open(path)
	planRead(t, b)
	b.escape()
	b.refreshMenus()
	for _, i := range b.frame.menus.recent.ChildMenu.Items {
		if i.Label == "walk.legplan" {
			t.Error("a file that is gone is still offered")
		}
	}
}
