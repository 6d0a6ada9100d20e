package ui

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/session"
	"legwright/app/ui/files"
	"legwright/app/ui/opening"
	"legwright/app/ui/uitest"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// crash leaves unsaved work of a plan in a folder of journals, as a bench does
// that dies, and returns the folder.
func crash(t *testing.T) string {
	t.Helper()
	b := calibrated(t)
	b.view.NewMark(picAt(100, 100))
	dir := t.TempDir()
	j := planfile.OpenJournal([]string{dir}, "")
	j.Append("set mark", b.s.Plan())
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// risen is a bench that starts with a folder of journals.
func risen(t *testing.T, dir string) *Bench {
	t.Helper()
	j := planfile.OpenJournal([]string{dir}, "")
	t.Cleanup(func() { _ = j.Close() })
	a := uitest.NewApp(t)
	b := newBench(a, planfile.NewStore(), session.Journal(j), a.Queue.Later, &opening.Source{Opener: scan.NewOpener()})
	b.files.Recovery.Journals([]string{dir}, j)
	b.frame.crash.watch(j, b.program.later)
	t.Cleanup(b.window.Close)
	return b
}

// pending lists the journals of crashed benches in a folder.
func pending(t *testing.T, dir string) []planfile.Recovery {
	t.Helper()
	list, err := planfile.Pending([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestUnsavedWorkIsRestored(t *testing.T) {
	dir := crash(t)
	b := risen(t, dir)
	b.begin(files.Beginning{Demo: true})
	if !b.dialogs.Waiting() || b.files.Recovery.Button() == nil {
		t.Fatal("the unsaved work was not offered")
	}
	test.Tap(b.files.Recovery.Button().(fyne.Tappable))
	if p := b.s.Plan(); len(p.Marks) != 1 || points(b) != 2 || !b.s.Dirty() {
		t.Errorf("%d marks, %d points, dirty %v, want 1, 2 and unsaved", len(p.Marks), points(b), b.s.Dirty())
	}
	until(t, b, "its picture", func() bool { return whole(b) })
	until(t, b, "the end of the old journal", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.program.later(func() {})
		return len(pending(t, dir)) == 0
	})
}

// Work that is restored over an open plan does not stand on the picture of that
// plan, even where its own cannot be opened.
func TestRestoredWorkNeverStandsOnAnotherPicture(t *testing.T) {
	dir := crash(t)
	b := risen(t, dir)
	b.desk.Open(otherPicture(t))
	until(t, b, "the picture of the open plan", func() bool { return whole(b) })
	if err := os.Remove(pending(t, dir)[0].Plan.Sheets[0].Picture); err != nil {
		t.Fatal(err)
	}
	b.files.Recovery.Ask()
	answerWith(t, b, "Discard")
	answerWith(t, b, "Restore")
	if len(b.s.Plan().Marks) != 1 || b.desk.Pyramid() != nil {
		t.Errorf("%d marks, another picture shown %v, want the one mark and no picture", len(b.s.Plan().Marks), b.desk.Pyramid() != nil)
	}
}

// Unsaved work that is restored does not swallow the command line.
func TestTheCommandLineIsOfferedAfterRestoring(t *testing.T) {
	file, dir := otherPicture(t), crash(t)
	b := risen(t, dir)
	b.begin(files.Beginning{Files: []string{file}})
	answerWith(t, b, "Restore")
	answerWith(t, b, "Open")
	answerWith(t, b, "Add as another sheet")
	until(t, b, "the file of the command line", func() bool { return b.pictures.shown.Path == file })
	if p := b.s.Plan(); len(p.Marks) != 1 || len(p.Sheets) != 2 {
		t.Errorf("%d marks on %d sheets, want the restored mark and both pictures", len(p.Marks), len(p.Sheets))
	}
}

// Unsaved work that the person discards does not stop the command line.
func TestUnsavedWorkIsDiscarded(t *testing.T) {
	file, dir := otherPicture(t), crash(t)
	b := risen(t, dir)
	b.begin(files.Beginning{Files: []string{file}})
	answerWith(t, b, "Discard…")
	answerWith(t, b, "Discard")
	until(t, b, "the file of the command line", func() bool { return b.pictures.shown.Path == file })
	if len(pending(t, dir)) != 0 {
		t.Error("what was discarded is still offered")
	}
}

// While unsaved work cannot be kept a caution says so, whatever other messages
// come. It disappears once the folder can be written again, and then the journal
// has the plan.
func TestCrashProtectionIsSeenToBeOff(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "state")
	if err := os.WriteFile(dir, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	b := risen(t, dir)
	for _, title := range []string{"one", "two"} {
		b.foot.Say("Something else.")
		b.foot.Try(b.s.SetTitle(title), "Named.")
		if !b.frame.crash.Visible() {
			t.Fatal("nothing says that crash protection is off")
		}
	}
	b.frame.crash.tellWhy()
	if !b.dialogs.Waiting() {
		t.Error("no reason is shown")
	}
	b.escape()
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	b.frame.crash.journal.Retry()
	until(t, b, "the end of the caution", func() bool { return !b.frame.crash.Visible() })
	if err := b.frame.crash.journal.Close(); err != nil {
		t.Fatal(err)
	}
	if list := pending(t, dir); len(list) != 1 || list[0].Plan.Title != "two" {
		t.Errorf("kept %v, want the plan as it is now", list)
	}
}

// A second request to close asks no second time, and none asks after the end.
func TestQuitAsksOnce(t *testing.T) {
	b := calibrated(t)
	b.quit()
	b.quit()
	if n := b.dialogs.Open(); n != 1 {
		t.Fatalf("%d questions, want one", n)
	}
	answerWith(t, b, "Cancel")
	if b.program.ended || b.dialogs.Waiting() {
		t.Fatal("Cancel ended the program, or left a question")
	}
	b.quit()
	answerWith(t, b, "Discard")
	b.quit()
	if !b.program.ended || b.dialogs.Waiting() {
		t.Errorf("finished %v, question %v, want the end and none", b.program.ended, b.dialogs.Waiting())
	}
}

// The toolkit's last act is taken out of its queue: of another version of the
// toolkit, see whether it is still to be.
func TestTheToolkitsLastActIsFound(t *testing.T) {
	if _, ok := uitest.NewApp(t).Lifecycle().(interface {
		OnStopped() func()
		SetOnStoppedHookExecuted(func())
	}); !ok {
		t.Error("ShowAndRun cannot keep the toolkit's end from hanging")
	}
}

// The window has the size of the environment, else the one it had at its last end.
func TestFirstSize(t *testing.T) {
	b := stand(t)
	for env, want := range map[string][2]float32{"1280x800": {1280, 800}, "": {1400, 900}, "wide": {1400, 900}, "-1x5": {1400, 900}} {
		t.Setenv(sizeEnv, env)
		if got := firstSize(b.program.set); got.Width != want[0] || got.Height != want[1] {
			t.Errorf("%q: %v, want %v", env, got, want)
		}
	}
	t.Setenv(sizeEnv, "")
	b.window.Resize(fyne.NewSize(1111, 777))
	b.Quit()
	if got := firstSize(b.program.set); got != fyne.NewSize(1111, 777) {
		t.Errorf("the next start has %v, want the size at the end", got)
	}
}

// A plan that was saved opens again at the next start. Once its file is gone the empty
// bench offers other ways to begin, and the start after that asks no more.
func TestLastPlanReopens(t *testing.T) {
	b, path := saved(t)
	trusted(t, b, path)
	if got := b.files.Settings.Last(); got != path {
		t.Fatalf("the next start opens %q, want %q", got, path)
	}
	next := newBench(b.program.app, planfile.NewStore(), nil, queueOf(b).Later, &opening.Source{Opener: scan.NewOpener()})
	t.Cleanup(next.window.Close)
	next.begin(files.Begin(nil, next.files.Settings, false))
	until(t, b, "the plan of last time", func() bool { return next.s.Path() == path })
	if next.frame.start.body.Visible() {
		t.Error("ways to begin are offered over a plan")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	last := newBench(b.program.app, planfile.NewStore(), nil, queueOf(b).Later, &opening.Source{Opener: scan.NewOpener()})
	t.Cleanup(last.window.Close)
	last.files.Settings.Remember(path)
	last.begin(files.Begin(nil, last.files.Settings, false))
	until(t, b, "the ways to begin", func() bool { return last.frame.start.gone == path })
	if !last.frame.start.body.Visible() || last.dialogs.Waiting() || last.files.Settings.Last() != "" || slices.Contains(last.files.Settings.Recent(), path) {
		t.Errorf("offered %v, dialog %v, last %q, recent %v", last.frame.start.body.Visible(), last.dialogs.Waiting(), last.files.Settings.Last(), last.files.Settings.Recent())
	}
	test.Tap(last.frame.start.demo)
	until(t, b, "the demo", func() bool { return len(last.s.Plan().Legs) == 6 })
	if last.frame.start.body.Visible() {
		t.Error("ways to begin are offered over the demo")
	}
}

// A bench on which nothing was opened offers the ways to begin, and is named.
func TestAnEmptyBenchOffersToBegin(t *testing.T) {
	b := stand(t)
	if !b.frame.start.body.Visible() || !strings.HasPrefix(b.window.Title(), "new plan") {
		t.Errorf("offered %v, title %q", b.frame.start.body.Visible(), b.window.Title())
	}
}

// A long name of a recent file stays within the card.
func TestLongRecentNamesFitTheCard(t *testing.T) {
	b := stand(t)
	b.files.Settings.Remember("/maps/" + strings.Repeat("a map with a long name ", 6) + ".png")
	b.frame.start.refresh()
	b.window.Resize(fyne.NewSize(1280, 800))
	if tool := b.frame.start.recent.tool[0]; !tool.Visible() || tool.MinSize().Width > b.frame.start.body.Size().Width-28 {
		t.Errorf("seen %v, a name %.0f wide on a card %.0f wide", tool.Visible(), tool.MinSize().Width, b.frame.start.body.Size().Width)
	}
}

// The ledger begins as it was left: its fold comes back with the other choices of the
// person.
func TestTheLedgerBeginsAsItWasLeft(t *testing.T) {
	b := stand(t)
	b.ledger.ToggleFold()
	folded := b.ledger.Folded()
	b.finish()
	again := newBench(b.program.app, planfile.NewStore(), nil, queueOf(b).Later, &opening.Source{Opener: scan.NewOpener()})
	t.Cleanup(again.window.Close)
	if again.ledger.Folded() != folded || stand(t).ledger.Folded() == folded {
		t.Errorf("folded %v, left folded %v", again.ledger.Folded(), folded)
	}
}
