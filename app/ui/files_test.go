package ui_test

import (
	"os"
	"path/filepath"
	"testing"

	"legwright/app/ui/benchtest"
)

// What is dropped on the window is opened, by its kind; a plan only after the
// work that is open has been asked about.
func TestDroppedFiles(t *testing.T) {
	b, path := benchtest.Saved(t)
	b.Files.Open(path) // until the plan is there: the picture of the bench before it is whole too
	b.Until("the plan's picture", func() bool { return b.Whole() })
	b.Mouse.NewMark(100, 100)
	b.Files.Drop(path)
	if !b.Asks() || len(b.Plan().Marks) != 1 {
		t.Errorf("asked %v, %d marks: want the unsaved mark asked about", b.Asks(), len(b.Plan().Marks))
	}
	b.Escape()
	other := benchtest.OtherPicture(t)
	b.Files.Drop(other)
	b.Answer("Replace the sheet")
	b.Until("the dropped picture", func() bool { return b.Shown().Path == other })
	bad := filepath.Join(t.TempDir(), "bad.gpx")
	if err := os.WriteFile(bad, []byte("<gpx><wpt lat='999'"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.Files.Drop(bad)
	b.Until("the refusal of the GPX", func() bool { return b.Asks() })
	b.Escape()
	b.Files.Drop()
}

// The recent files are in the menu, and one that is gone leaves it.
func TestRecentMenu(t *testing.T) {
	b, path := benchtest.Saved(t)
	b.Files.Open(path)
	b.Until("the plan's picture", func() bool { return b.Whole() })

	if items := b.Menu(t, "File", "Open recent").ChildMenu.Items; len(items) == 0 || items[0].Label != "walk.legplan" {
		t.Fatalf("recent files %v, want walk.legplan first", items)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	b.Files.Drop(path)
	b.Until("the refusal of the plan that is gone", b.Asks)
	b.Escape()

	for _, i := range b.Menu(t, "File", "Open recent").ChildMenu.Items {
		if i.Label == "walk.legplan" {
			t.Error("a file that is gone is still offered")
		}
	}
}
