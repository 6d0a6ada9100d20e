package ui

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"legwright/mapio/planfile"
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

// A folder that takes no file leaves the plan's file as it was and says so;
// nothing of the work is lost.
func TestSavingFailsAndLosesNothing(t *testing.T) {
	b, path := saved(t)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b.view.NewMark(picAt(100, 100))
	// A folder in the way of the file to write: it fails for every user.
	blocked := filepath.Join(t.TempDir(), "blocked.legplan")
	if err := os.Mkdir(blocked, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(blocked, "x"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := b.s.SaveAs(blocked); err == nil {
		t.Fatal("a plan was saved over a folder")
	}
	if b.s.Path() != path || !b.s.Dirty() {
		t.Errorf("path %s, dirty %v, want %s and unsaved", b.s.Path(), b.s.Dirty(), path)
	}
	if now, _ := os.ReadFile(path); string(now) != string(before) {
		t.Error("the file changed though nothing was saved to it")
	}
	gone := filepath.Dir(path)
	if err := os.RemoveAll(gone); err != nil {
		t.Fatal(err)
	}
	b.save(nil)
	if !b.foot.Failed() || !b.dialogOpen() || len(b.s.Plan().Marks) != 1 || !b.s.Dirty() {
		t.Errorf("fault %v, dialog %v, %d marks, dirty %v: want it told and the mark unsaved",
			b.foot.Failed(), b.dialogOpen(), len(b.s.Plan().Marks), b.s.Dirty())
	}
}

// Writing a GPX where nothing can be written leaves the one that is there.
func TestWritingGPXFailsAndLosesNothing(t *testing.T) {
	if os.Getuid() == 0 {
		t.Log("the superuser may write everywhere: only the missing folder is tried")
	}
	b := calibrated(t)
	b.view.NewMark(picAt(100, 100))
	b.writeGPX(filepath.Join(t.TempDir(), "no", "walk.gpx"), false)
	if !b.foot.Failed() || !b.dialogOpen() {
		t.Error("a GPX that could not be written was not told")
	}
	b.escape()
	if os.Getuid() == 0 {
		return
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "walk.gpx")
	if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	b.writeGPX(path, false)
	if raw, _ := os.ReadFile(path); string(raw) != "old" || !b.foot.Failed() {
		t.Errorf("the file holds %q, fault told %v", raw, b.foot.Failed())
	}
}

// A file that another program wrote is not written over without asking.
func TestSavingOverAnothersWorkAsks(t *testing.T) {
	b, path := saved(t)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(raw, '\n'), 0o644); err != nil {
		t.Fatal(err)
	}
	b.view.NewMark(picAt(100, 100))
	b.save(nil)
	if now, _ := os.ReadFile(path); len(now) != len(raw)+1 || !b.dialogOpen() || !b.s.Dirty() {
		t.Errorf("%d bytes, dialog %v, dirty %v: want the other's %d, and asked", len(now), b.dialogOpen(), b.s.Dirty(), len(raw)+1)
	}
}

// A read-only file is overwritten only after it was asked about, and Return does
// not overwrite it.
func TestReadOnlyFilesAreAskedAbout(t *testing.T) {
	b, path := saved(t)
	b.view.NewMark(picAt(100, 100))
	gpx, over := filepath.Join(t.TempDir(), "walk.gpx"), filepath.Join(t.TempDir(), "over"+planfile.Ext)
	for _, name := range []string{gpx, over} {
		if err := os.WriteFile(name, []byte("old"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		file string
		do   func()
	}{
		{path, func() { b.save(nil) }},
		{gpx, func() {
			b.dialogs.Confirm(pathAsk{Endings: []string{".gpx"}, Done: func(p string) { b.writeGPX(p, false) }}, gpx)
		}},
		{over, func() {
			b.dialogs.Confirm(pathAsk{Endings: []string{planfile.Ext}, Done: func(p string) { b.saveTo(p, nil) }}, over)
		}},
	} {
		name := filepath.Base(c.file)
		if err := os.Chmod(c.file, 0o400); err != nil {
			t.Fatal(err)
		}
		before, err := os.ReadFile(c.file)
		if err != nil {
			t.Fatal(err)
		}
		for _, end := range []func(){b.escape, func() { answerWith(t, b, "Cancel") }} {
			c.do()
			if !b.dialogOpen() {
				t.Fatalf("%s: not asked about: %s", name, b.foot.Message())
			}
			end()
		}
		if now, err := os.ReadFile(c.file); err != nil || string(now) != string(before) || b.dialogOpen() {
			t.Errorf("%s was overwritten, or the question stays: %v", name, err)
		}
		c.do()
		answerWith(t, b, "Overwrite")
		if now, err := os.ReadFile(c.file); err != nil || string(now) == string(before) || b.dialogOpen() {
			t.Errorf("%s was not overwritten: %v, %s", name, err, b.foot.Message())
		}
	}
	if b.s.Dirty() || b.s.Path() != over {
		t.Errorf("the plan is unsaved %v, its file %s", b.s.Dirty(), b.s.Path())
	}
}

// What is dropped on the window is opened, by its kind; a plan only after the
// work that is open has been asked about.
func TestDroppedFiles(t *testing.T) {
	b, path := saved(t)
	drop := func(p string) { b.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(p)}) }
	trusted(t, b, path)
	drop(path)
	until(t, "the plan's picture", func() bool { return whole(b) })
	b.view.NewMark(picAt(100, 100))
	drop(path)
	if !b.dialogOpen() || len(b.s.Plan().Marks) != 1 {
		t.Errorf("asked %v, %d marks: want the unsaved mark asked about", b.dialogOpen(), len(b.s.Plan().Marks))
	}
	b.escape()
	other := otherPicture(t)
	drop(other)
	answerWith(t, b, "In its place")
	until(t, "the dropped picture", func() bool { return b.pictures.shown.Path == other })
	bad := filepath.Join(t.TempDir(), "bad.gpx")
	if err := os.WriteFile(bad, []byte("<gpx><wpt lat='999'"), 0o644); err != nil {
		t.Fatal(err)
	}
	drop(bad)
	until(t, "the refusal of the GPX", func() bool { return b.dialogOpen() })
	b.escape()
	b.dropped(fyne.Position{}, nil)
}

// The recent files are in the menu, and one that is gone leaves it.
func TestRecentMenu(t *testing.T) {
	b, path := saved(t)
	reopened(t, b, path)
	until(t, "the plan's picture", func() bool { return whole(b) })
	b.refreshMenus()
	if items := b.menus.recent.ChildMenu.Items; len(items) == 0 || items[0].Label != "walk.legplan" {
		t.Fatalf("recent files %v, want walk.legplan first", items)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	b.openPlan(path)
	planRead(t, b)
	b.escape()
	b.refreshMenus()
	for _, i := range b.menus.recent.ChildMenu.Items {
		if i.Label == "walk.legplan" {
			t.Error("a file that is gone is still offered")
		}
	}
}
