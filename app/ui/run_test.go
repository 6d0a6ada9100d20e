package ui

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/session"
	"legwright/mapio/planfile"
)

// crash leaves unsaved work of a plan in a folder of journals, as a bench does
// that dies, and returns the folder.
func crash(t *testing.T) string {
	t.Helper()
	b := calibrated(t)
	b.newMark(picAt(100, 100))
	dir := t.TempDir()
	j, err := planfile.OpenJournal(dir, "")
	if err != nil {
		t.Fatal(err)
	}
	j.Append("set mark", b.s.Plan())
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// risen is a bench that starts with a folder of journals.
func risen(t *testing.T, dir string) *Bench {
	t.Helper()
	j, err := planfile.OpenJournal(dir, "")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = j.Close() })
	b := newBench(newApp(t), planfile.NewStore(), session.Journal(j), waiting.later)
	b.journal = journalState{dir: dir, file: j}
	t.Cleanup(b.window.Close)
	return b
}

func TestUnsavedWorkIsBroughtBack(t *testing.T) {
	b := risen(t, crash(t))
	b.begin(nil)
	if !b.dialogOpen() || b.bringBack == nil {
		t.Fatal("the unsaved work was not offered")
	}
	test.Tap(b.bringBack.(fyne.Tappable))
	if p := b.s.Plan(); len(p.Marks) != 1 || points(b) != 2 || !b.s.Dirty() {
		t.Errorf("%d marks, %d points, dirty %v, want 1, 2 and unsaved", len(p.Marks), points(b), b.s.Dirty())
	}
	until(t, "its picture", func() bool { return b.picture.pyramid != nil })
	until(t, "the end of the old journal", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.later(func() {})
		list, err := planfile.Pending(b.journal.dir)
		return err == nil && len(list) == 0
	})
}

// What is thrown away does not keep the command line from being followed.
func TestUnsavedWorkIsThrownAway(t *testing.T) {
	dir := crash(t)
	file := otherPicture(t)
	b := risen(t, dir)
	b.begin([]string{file})
	list, err := planfile.Pending(dir)
	if err != nil || len(list) != 1 {
		t.Fatalf("%d journals, %v, want one", len(list), err)
	}
	b.escape()
	b.recover(list[0], false, func() { b.openFirst([]string{file}) })
	until(t, "the file of the command line", func() bool { return b.picture.path == file })
	if list, _ := planfile.Pending(dir); len(list) != 0 {
		t.Error("what was thrown away is still offered")
	}
}

// A bench without a journal says so, and works.
func TestWithoutAJournal(t *testing.T) {
	b := stand(t)
	b.begin([]string{otherPicture(t)})
	if !b.footNow.Fault || !strings.Contains(b.footNow.Message, "crash") {
		t.Errorf("it says %q, want that unsaved work is not safe", b.footNow.Message)
	}
	until(t, "the picture", func() bool { return b.picture.pyramid != nil })
}

func TestFirstSize(t *testing.T) {
	for env, want := range map[string][2]float32{"1280x800": {1280, 800}, "": {1400, 900}, "wide": {1400, 900}, "-1x5": {1400, 900}} {
		t.Setenv(sizeEnv, env)
		if got := firstSize(); got.Width != want[0] || got.Height != want[1] {
			t.Errorf("%q: %v, want %v", env, got, want)
		}
	}
}
