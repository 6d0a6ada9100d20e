package files_test

import (
	"os"
	"path/filepath"
	"testing"

	"legwright/mapio/planfile"
)

func write(t *testing.T, path, text string) {
	t.Helper()
	do(t, os.WriteFile(path, []byte(text), 0o600))
}

func read(t *testing.T, path string) string {
	t.Helper()
	raw, err := os.ReadFile(path)
	do(t, err)
	return string(raw)
}

// saved is a room whose plan has a file and a change that is not saved.
func saved(t *testing.T) (*bench, string) {
	t.Helper()
	b := calibrated(t)
	path := filepath.Join(filepath.Dir(b.s.PicturePath()), "walk"+planfile.Ext)
	do(t, b.s.SaveAs(path))
	b.mark("Cairn", 50, 50)
	return b, path
}

// Saving writes the file beside the window, remembers it and goes on with what waited.
func TestSave(t *testing.T) {
	b, path := saved(t)
	before, then := read(t, path), false
	b.Saver.Save(func() { then = true })
	if then || !b.s.Dirty() {
		t.Error("the window waited for the drive")
	}
	b.until("the end of saving", func() bool { return then })
	if b.s.Dirty() || read(t, path) == before || b.settings.Recent()[0] != path {
		t.Errorf("unsaved %v, recent %v", b.s.Dirty(), b.settings.Recent())
	}
}

// The first save asks for a name and offers that of the plan, whatever the picture is
// called.
func TestFirstSaveOffersThePlansName(t *testing.T) {
	b := calibrated(t)
	do(t, b.s.SetTitle(`Round: of "the" isle?`)) // some systems forbid these signs in the names of files
	b.Saver.Save(nil)
	b.asked("the name of the file")
	folder := filepath.Dir(b.s.PicturePath())
	b.answer("Save")
	b.until("the file", func() bool { return b.s.Path() != "" })
	if want := filepath.Join(folder, "Round of the isle"+planfile.Ext); b.s.Path() != want {
		t.Errorf("saved as %s, want %s", b.s.Path(), want)
	}
	b = calibrated(t)
	b.leg(b.mark("Quay", 50, 50), b.mark("Hut", 150, 50))
	b.Saver.SaveAs(nil)
	b.answer("Save")
	b.until("the file", func() bool { return b.s.Path() != "" })
	if got := filepath.Base(b.s.Path()); got != "Quay to Hut"+planfile.Ext {
		t.Errorf("a plan without a title was saved as %s", got)
	}
}

// What is changed while the file is written is asked about before what waited for the
// save goes on: leaving would lose it.
func TestChangesDuringASaveAreAskedAbout(t *testing.T) {
	b, _ := saved(t)
	gone := 0
	leave := func() { gone++ }
	b.Saver.Guard(leave)
	b.answer("Save")
	b.mark("Ford", 150, 50)
	b.asked("the question about the mark set meanwhile")
	if gone != 0 || !b.s.Dirty() {
		t.Fatalf("went on %d times, unsaved %v", gone, b.s.Dirty())
	}
	b.answer("Save")
	b.until("what waited", func() bool { return gone == 1 })
	if b.s.Dirty() {
		t.Error("the mark set meanwhile was not saved")
	}
}

// A plan is not left while it is written, even if it was not changed.
func TestLeavingDuringASaveAsks(t *testing.T) {
	b, path := saved(t)
	do(t, b.s.Save())
	b.Saver.SaveAs(nil)
	other := filepath.Join(filepath.Dir(path), "copy"+planfile.Ext)
	b.typeInto(other)
	b.Saver.Guard(func() { t.Error("the plan was left while it was written") })
	if !b.Saver.Asking() {
		t.Error("nothing was asked")
	}
	b.until("the end of saving", func() bool { return b.s.Path() == other })
}

// A save that ends after another plan was opened does nothing to that plan.
func TestSavingEndsInAnotherPlan(t *testing.T) {
	b, path := saved(t)
	b.Saver.Save(func() { t.Error("what waited for the save was done to another plan") })
	b.s.NewPlan()
	b.foot.Say("")
	b.until("the end of saving", func() bool { return b.foot.Message() != "" })
	if b.s.Path() != "" || b.s.Dirty() || len(b.settings.Recent()) > 0 && b.settings.Recent()[0] == path {
		t.Errorf("the new plan has the file %q, unsaved %v, recent %v", b.s.Path(), b.s.Dirty(), b.settings.Recent())
	}
}

// Where nothing can be written nothing of the work is lost.
func TestSavingFailsAndLosesNothing(t *testing.T) {
	b, path := saved(t)
	do(t, os.RemoveAll(filepath.Dir(path)))
	b.Saver.Save(func() { t.Error("what waited for the save went on") })
	b.asked("the refusal")
	if !b.foot.Failed() || !b.s.Dirty() || b.s.Path() != path || len(b.s.Plan().Marks) != 1 {
		t.Errorf("failed %v, unsaved %v, file %s, %d marks", b.foot.Failed(), b.s.Dirty(), b.s.Path(), len(b.s.Plan().Marks))
	}
}

// A file that another program changed is overwritten only after the question.
func TestSavingOverAnothersWorkAsks(t *testing.T) {
	b, path := saved(t)
	write(t, path, read(t, path)+"\n")
	theirs := read(t, path)
	b.Saver.Save(nil)
	b.asked("the question")
	if read(t, path) != theirs {
		t.Fatal("their work was overwritten unasked")
	}
	b.dialogs.Escape()
	if !b.s.Dirty() || read(t, path) != theirs {
		t.Error("Escape saved the plan")
	}
	b.Saver.Save(nil)
	b.asked("the question")
	b.answer("Overwrite")
	b.until("the save", func() bool { return !b.s.Dirty() })
}

// A read-only file is overwritten only after the question, whose default cancels.
func TestReadOnlyFilesAreAskedAbout(t *testing.T) {
	b, path := saved(t)
	do(t, os.Chmod(path, 0o400))
	before := read(t, path)
	for _, end := range []func(){func() { b.dialogs.Escape() }, func() { b.answer("Cancel") }} {
		b.Saver.Save(nil)
		b.asked("the question")
		end()
		if read(t, path) != before || b.dialogs.Waiting() {
			t.Fatal("the file was overwritten, or the question stays")
		}
	}
	b.Saver.Save(nil)
	b.asked("the question")
	b.answer("Overwrite")
	b.until("the save", func() bool { return !b.s.Dirty() })
}

// Unsaved work is asked about once, and lost only by Discard.
func TestGuard(t *testing.T) {
	b, path := saved(t)
	gone := 0
	leave := func() { gone++ }
	b.Saver.Guard(leave)
	b.Saver.Guard(leave)
	if n := b.dialogs.Open(); n != 1 || !b.Saver.Asking() {
		t.Fatalf("%d questions, want one", n)
	}
	b.answer("Cancel")
	if gone != 0 || b.Saver.Asking() {
		t.Fatal("Cancel went on, or the question stays")
	}
	b.Saver.Guard(leave)
	b.dialogs.Escape()
	b.Saver.Guard(leave)
	b.answer("Discard")
	if gone != 1 || !b.s.Dirty() {
		t.Errorf("after Discard: went on %d times, unsaved %v", gone, b.s.Dirty())
	}
	before := read(t, path)
	b.Saver.Guard(leave)
	b.answer("Save")
	b.until("what waited for the save", func() bool { return gone == 2 })
	if b.s.Dirty() || read(t, path) == before {
		t.Error("Save did not save")
	}
	b.Saver.Guard(leave)
	if gone != 3 || b.dialogs.Waiting() {
		t.Error("saved work is asked about")
	}
	b.refuses = true
	b.Saver.Guard(leave)
	if gone != 3 || !b.Saver.Asking() {
		t.Error("what a field refuses does not count as unsaved")
	}
}

// Whoever saves a plan whose picture still waits for an answer has not agreed to the
// picture; whoever agreed is not asked again.
func TestSavingAgreesToNoPicture(t *testing.T) {
	b, _ := saved(t)
	path := filepath.Join(t.TempDir(), "elsewhere"+planfile.Ext)
	do(t, b.s.SaveAs(path)) // its picture lies in another folder, and this program does not know the plan
	reopen := func() {
		before := b.shown
		b.Opener.Open(path)
		b.until("the plan", func() bool { return b.shown == before+1 })
	}
	for range 2 {
		reopen()
		b.asked("whether to open the picture")
		b.answer("Cancel")
		do(t, b.s.SetTitle(b.s.Plan().Title+"I"))
		b.Saver.Save(nil)
		b.until("the save", func() bool { return !b.s.Dirty() })
	}
	reopen()
	b.answer("Open")
	b.until("the picture", func() bool { return b.desk.Pyramid() != nil })
	do(t, b.s.SetTitle("again"))
	b.Saver.SaveAs(nil)
	b.answer("Save")
	b.answer("Overwrite")
	b.until("the save", func() bool { return !b.s.Dirty() && !b.dialogs.Waiting() })
	reopen()
	if b.until("the picture", func() bool { return b.desk.Pyramid() != nil }); b.dialogs.Waiting() {
		t.Error("a picture agreed to is asked about again")
	}
}
