package files_test

import (
	"os"
	"path/filepath"
	"testing"
)

// leaver is a room with nothing unsaved that exports a GPX or a rectified map.
type leaver struct {
	*bench
	path string
	gone int
}

func leaving(t *testing.T) *leaver {
	t.Helper()
	b, _ := saved(t)
	do(t, b.s.Save())
	return &leaver{bench: b, path: filepath.Join(t.TempDir(), "walk.gpx")}
}

func (l *leaver) export() {
	l.t.Helper()
	l.Exchange.Export()
	l.typeInto(l.path)
}

func (l *leaver) leave() { l.Leave(func() { l.gone++ }) }

func (l *leaver) written() bool { _, err := os.Stat(l.path); return err == nil }

// Closing during an export asks, and waits for the file if the person wants it.
func TestLeavingWaitsForAnExport(t *testing.T) {
	l := leaving(t)
	if l.leave(); l.gone != 1 {
		t.Fatal("nothing is under way, and the program stays")
	}
	l.export()
	l.leave()
	l.answer("Cancel")
	l.leave()
	l.leave()
	if n := l.dialogs.Open(); n != 1 || l.gone != 1 {
		t.Fatalf("%d questions, gone %d times", n, l.gone)
	}
	l.answer("Wait, then close")
	l.until("the end", func() bool { return l.gone == 2 })
	if !l.written() {
		t.Error("the program ended before the file was written")
	}
}

// Whoever does not want to wait leaves no file, and no part of one.
func TestLeavingWithoutAnExport(t *testing.T) {
	l := leaving(t)
	dir := t.TempDir()
	l.rectified(filepath.Join(dir, "up.png"), "1.25")
	l.leave()
	l.answer("Close anyway")
	list, err := os.ReadDir(dir)
	if do(t, err); l.gone != 1 || len(list) != 0 || l.Rectify.Exporting() {
		t.Errorf("gone %d times, %d files left, still exporting %v", l.gone, len(list), l.Rectify.Exporting())
	}
}

// An export that fails keeps the program open with its reason, and so does work that is
// not saved when it ends.
func TestLeavingAfterAnExportThatFails(t *testing.T) {
	l := leaving(t)
	write(t, l.path, "old")
	do(t, os.Chmod(l.path, 0o400))
	l.export()
	l.leave()
	l.answer("Wait, then close")
	l.asked("the question about the read-only file")
	if l.gone != 0 {
		t.Fatal("the program ended although the file was not written")
	}
	l.answer("Cancel")
	do(t, os.Remove(l.path))
	l.export()
	l.leave()
	l.answer("Wait, then close")
	l.mark("Ford", 150, 50)
	l.until("the question about the mark", l.Saver.Asking)
	if l.gone != 0 || !l.written() {
		t.Errorf("gone %d times, written %v", l.gone, l.written())
	}
	l.answer("Discard")
	if l.gone != 1 || l.dialogs.Waiting() {
		t.Errorf("gone %d times, asked %v", l.gone, l.dialogs.Waiting())
	}
}

// One export at a time: a second one must not end the first without a word.
func TestASecondExportIsRefused(t *testing.T) {
	l := leaving(t)
	l.export()
	first := l.path
	l.path = filepath.Join(t.TempDir(), "second.gpx")
	l.export()
	if !l.foot.Failed() || l.written() {
		t.Errorf("refused %v, written %v", l.foot.Failed(), l.written())
	}
	l.path = first
	l.until("the first file", func() bool { return !l.Exchange.Exporting() })
	if !l.written() {
		t.Error("the first export was lost")
	}
}
