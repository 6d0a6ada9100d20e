package files_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/plan"
	"legwright/app/ui/files"
	"legwright/mapio/planfile"
)

// crash leaves unsaved work in a folder of journals, as a bench does that dies.
func crash(t *testing.T, dir string, p *plan.Plan) {
	t.Helper()
	j := planfile.OpenJournal([]string{dir}, "")
	j.Append("name the outing", p)
	do(t, j.Close())
}

// risen is a room that starts with a folder of journals.
func risen(t *testing.T, dir string) *bench {
	t.Helper()
	b := stand(t)
	j := planfile.OpenJournal([]string{dir}, "")
	t.Cleanup(func() { _ = j.Close() })
	b.Recovery.Journals([]string{dir}, j)
	return b
}

// pending lists what would be offered.
func pending(t *testing.T, dir string) []planfile.Recovery {
	t.Helper()
	list, err := planfile.Pending([]string{dir})
	do(t, err)
	return list
}

func titled(title string) *plan.Plan {
	return plan.New(plan.Date{Year: 2026, Month: 11, Day: 28}).SetTitle(title)
}

// All unsaved work is offered, one piece after the other: the newest is kept for later,
// the next discarded, the oldest restored. What is kept is offered again.
func TestAllUnsavedWorkIsOffered(t *testing.T) {
	dir := t.TempDir()
	for _, title := range []string{"oldest", "middle", "newest"} {
		crash(t, dir, titled(title))
	}
	b, restored := risen(t, dir), 0
	if !b.Recovery.Offer(func() { restored++ }, func() { t.Error("the start went on although work was restored") }) || b.Recovery.Button() == nil {
		t.Fatal("nothing was offered")
	}
	b.answer("Not now")
	b.answer("Discard…")
	b.answer("Discard")
	b.answer("Restore")
	if got := b.s.Plan().Title; got != "oldest" || b.dialogs.Waiting() || b.Recovery.Button() != nil || !b.s.Dirty() || b.shown != 1 || restored != 1 {
		t.Errorf("%q is open, unsaved %v, a question waits %v, shown %d times, restored %d times", got, b.s.Dirty(), b.dialogs.Waiting(), b.shown, restored)
	}
	b.until("the end of the restored one's journal", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.queue.Later(func() {})
		return len(pending(t, dir)) == 1
	})
	b.Recovery.Ask()
	b.answer("Discard") // what is open
	b.answer("Restore")
	if got := b.s.Plan().Title; got != "newest" {
		t.Errorf("the menu offered %q, want the newest", got)
	}
}

// The file of the command line is not forgotten when unsaved work is restored in its
// place: it is offered, named if it is not opened, and opened only after the restored
// work has been asked about.
func TestTheNamedFileIsOfferedAfterRestoring(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	crash(t, dir, titled("restored"))
	b := risen(t, dir)
	do(t, b.s.SetTitle("named"))
	do(t, b.s.SaveAs(path))
	b.s.NewPlan()
	named := files.Begin([]string{path}, b.settings, false)
	b.Recovery.Offer(func() { b.Opener.AskBegin(named) }, func() { t.Error("the start went on as if nothing was restored") })
	b.answer("Restore")
	b.answer("Not now")
	if says := b.foot.Message(); b.s.Plan().Title != "restored" || !strings.Contains(says, "walk"+planfile.Ext) {
		t.Fatalf("%q is open, the foot line says %q", b.s.Plan().Title, says)
	}
	b.Opener.AskBegin(named)
	b.answer("Open")
	if !b.Saver.Asking() {
		t.Fatal("the restored work was not asked about")
	}
	b.answer("Discard")
	b.until("the plan of the command line", func() bool { return b.s.Path() == path })
	for _, what := range []files.Beginning{named, {Demo: true}, {Plan: path}, {}} {
		if b.Opener.AskBegin(what); b.dialogs.Waiting() {
			t.Fatalf("%+v was offered, and is open or was not named", what)
		}
	}
}

// Where none is restored, the start goes on.
func TestUnsavedWorkIsDiscarded(t *testing.T) {
	dir, on := t.TempDir(), false
	crash(t, dir, titled("old"))
	b := risen(t, dir)
	b.Recovery.Offer(func() {}, func() { on = true })
	b.answer("Discard…")
	if b.dialogs.Escape(); !on || len(pending(t, dir)) != 1 {
		t.Errorf("Escape: went on %v, %d pieces kept, want the one kept", on, len(pending(t, dir)))
	}
	b.Recovery.Offer(func() {}, func() {})
	b.answer("Discard…")
	b.answer("Discard")
	if n := len(pending(t, dir)); n != 0 {
		t.Errorf("%d pieces are still offered", n)
	}
}

// Each start looks in every folder and finds earlier work in whichever it was left.
func TestStateFolders(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home)
	t.Setenv("XDG_STATE_HOME", "")
	config, err := os.UserConfigDir()
	do(t, err)
	config = filepath.Join(config, "legwright", "journal")
	usual := filepath.Join(home, ".local", "state")
	if got := files.StateDirs(); !slices.Equal(got, []string{config}) {
		t.Errorf("without a state folder: %v", got)
	}
	do(t, os.MkdirAll(usual, 0o700))
	if got := files.StateDirs(); !slices.Equal(got, []string{filepath.Join(usual, "legwright"), config}) {
		t.Errorf("with the usual one: %v", got)
	}
	t.Setenv("XDG_STATE_HOME", filepath.Join(home, "state"))
	if got := files.StateDirs(); len(got) != 3 || got[0] != filepath.Join(home, "state", "legwright") {
		t.Errorf("with one of the environment: %v", got)
	}
}
