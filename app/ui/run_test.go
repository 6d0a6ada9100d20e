package ui

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
	"legwright/app/session"
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
	b := newBench(uitest.NewApp(t), planfile.NewStore(), session.Journal(j), waiting.later, &opening.Source{Opener: scan.NewOpener()})
	b.keepIn(j, []string{dir})
	t.Cleanup(b.window.Close)
	return b
}

// pending lists the journals of crashed benches in the bench's folders.
func pending(t *testing.T, b *Bench) []planfile.Recovery {
	t.Helper()
	list, err := planfile.Pending(b.journal.dirs)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestUnsavedWorkIsRestored(t *testing.T) {
	b := risen(t, crash(t))
	b.begin(beginning{demo: true})
	if !b.dialogOpen() || b.restore == nil {
		t.Fatal("the unsaved work was not offered")
	}
	test.Tap(b.restore.Default().(fyne.Tappable))
	if p := b.s.Plan(); len(p.Marks) != 1 || points(b) != 2 || !b.s.Dirty() {
		t.Errorf("%d marks, %d points, dirty %v, want 1, 2 and unsaved", len(p.Marks), points(b), b.s.Dirty())
	}
	until(t, "its picture", func() bool { return whole(b) })
	until(t, "the end of the old journal", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.later(func() {})
		return len(pending(t, b)) == 0
	})
}

// All unsaved work is offered, one after the other: the newest is kept for
// later, the next discarded, the oldest restored. What is kept is offered again.
func TestAllUnsavedWorkIsOffered(t *testing.T) {
	dir := t.TempDir()
	for _, title := range []string{"oldest", "middle", "newest"} {
		j := planfile.OpenJournal([]string{dir}, "")
		j.Append("name the outing", plan.New(plan.Date{Year: 2026, Month: 11, Day: 28}).SetTitle(title))
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	}
	b := risen(t, dir)
	b.begin(beginning{demo: true})
	answerWith(t, b, "Not now")
	answerWith(t, b, "Discard…")
	answerWith(t, b, "Discard")
	answerWith(t, b, "Restore")
	if got := b.s.Plan().Title; got != "oldest" || b.dialogOpen() {
		t.Errorf("%q is on the bench, a question open %v, want the oldest and none", got, b.dialogOpen())
	}
	until(t, "the end of the restored one's journal", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.later(func() {})
		return len(pending(t, b)) == 1
	})
	if got := pending(t, b)[0].Plan.Title; got != "newest" {
		t.Errorf("%q is kept, want the newest", got)
	}
	b.askUnsaved()
	answerWith(t, b, "Discard") // what is on the bench
	answerWith(t, b, "Restore")
	if got := b.s.Plan().Title; got != "newest" {
		t.Errorf("the menu offered %q, want the newest", got)
	}
}

// Work that is restored over an open plan does not stand on the picture of that
// plan, even where its own cannot be opened.
func TestRestoredWorkNeverStandsOnAnotherPicture(t *testing.T) {
	b := risen(t, crash(t))
	b.desk.Open(otherPicture(t))
	until(t, "the picture of the open plan", func() bool { return whole(b) })
	if err := os.Remove(pending(t, b)[0].Plan.Sheets[0].Picture); err != nil {
		t.Fatal(err)
	}
	b.askUnsaved()
	answerWith(t, b, "Discard")
	answerWith(t, b, "Restore")
	if len(b.s.Plan().Marks) != 1 || b.desk.Pyramid() != nil {
		t.Errorf("%d marks, another picture shown %v, want the one mark and no picture", len(b.s.Plan().Marks), b.desk.Pyramid() != nil)
	}
}

// Unsaved work that the person discards does not stop the command line.
func TestUnsavedWorkIsDiscarded(t *testing.T) {
	file := otherPicture(t)
	b := risen(t, crash(t))
	b.begin(beginning{files: []string{file}})
	answerWith(t, b, "Discard…")
	answerWith(t, b, "Discard")
	until(t, "the file of the command line", func() bool { return b.pictures.shown.Path == file })
	if len(pending(t, b)) != 0 {
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
		b.say("Something else.")
		b.try(b.s.SetTitle(title), "Named.")
		if !b.unsafe.Visible() {
			t.Fatal("nothing says that crash protection is off")
		}
	}
	b.tellUnsafe()
	if !b.dialogOpen() {
		t.Error("no reason is shown")
	}
	b.escape()
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	b.journal.file.Retry()
	until(t, "the end of the caution", func() bool { return !b.unsafe.Visible() })
	if err := b.journal.file.Close(); err != nil {
		t.Fatal(err)
	}
	if list := pending(t, b); len(list) != 1 || list[0].Plan.Title != "two" {
		t.Errorf("kept %v, want the plan as it is now", list)
	}
}

// Each start looks in every folder and finds earlier work in whichever it was left.
func TestStateFolders(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home)
	t.Setenv("XDG_STATE_HOME", "")
	config, err := os.UserConfigDir()
	if err != nil {
		t.Fatal(err)
	}
	config = filepath.Join(config, "legwright", "journal")
	usual := filepath.Join(home, ".local", "state")
	if got := stateDirs(); !slices.Equal(got, []string{config}) {
		t.Errorf("without a state folder: %v", got)
	}
	if err := os.MkdirAll(usual, 0o700); err != nil {
		t.Fatal(err)
	}
	if got := stateDirs(); !slices.Equal(got, []string{filepath.Join(usual, "legwright"), config}) {
		t.Errorf("with the usual one: %v", got)
	}
	t.Setenv("XDG_STATE_HOME", filepath.Join(home, "state"))
	if got := stateDirs(); len(got) != 3 || got[0] != filepath.Join(home, "state", "legwright") {
		t.Errorf("with one of the environment: %v", got)
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
	if b.finished || b.dialogOpen() {
		t.Fatal("Cancel ended the program, or left a question")
	}
	b.quit()
	answerWith(t, b, "Discard")
	b.quit()
	if !b.finished || b.dialogOpen() {
		t.Errorf("finished %v, question %v, want the end and none", b.finished, b.dialogOpen())
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
		if got := firstSize(b.set); got.Width != want[0] || got.Height != want[1] {
			t.Errorf("%q: %v, want %v", env, got, want)
		}
	}
	t.Setenv(sizeEnv, "")
	b.window.Resize(fyne.NewSize(1111, 777))
	b.Quit()
	if got := firstSize(b.set); got != fyne.NewSize(1111, 777) {
		t.Errorf("the next start has %v, want the size at the end", got)
	}
}

// The very first run opens the demo, a later one the plan that was open last, and one
// without such a plan nothing. The command line goes before all of them.
func TestWhatAStartOpens(t *testing.T) {
	set := stand(t).set
	for _, c := range []struct {
		name     string
		welcomed bool
		last     string
		args     []string
		want     beginning
	}{
		{"first run", false, "", nil, beginning{demo: true}},
		{"second run without a plan", true, "", nil, beginning{}},
		{"second run", true, "/walk.legplan", nil, beginning{plan: "/walk.legplan"}},
		{"the demo asked for", true, "/walk.legplan", []string{DemoArgument}, beginning{demo: true}},
		{"a file", false, "/walk.legplan", []string{"map.png"}, beginning{files: []string{"map.png"}}},
	} {
		set.setLast(c.last)
		set.prefs.SetBool(keyWelcomed, c.welcomed)
		if got := beginWithWhat(c.args, set); got.demo != c.want.demo || got.plan != c.want.plan || !slices.Equal(got.files, c.want.files) {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

// A plan that was saved opens again at the next start. Once its file is gone the empty
// bench offers other ways to begin, and the start after that asks no more.
func TestLastPlanReopens(t *testing.T) {
	b, path := saved(t)
	trusted(t, b, path)
	if got := b.set.last(); got != path {
		t.Fatalf("the next start opens %q, want %q", got, path)
	}
	next := newBench(b.app, planfile.NewStore(), nil, waiting.later, &opening.Source{Opener: scan.NewOpener()})
	t.Cleanup(next.window.Close)
	next.begin(beginWithWhat(nil, next.set))
	until(t, "the plan of last time", func() bool { return next.s.Path() == path })
	if next.start.body.Visible() {
		t.Error("ways to begin are offered over a plan")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	last := newBench(b.app, planfile.NewStore(), nil, waiting.later, &opening.Source{Opener: scan.NewOpener()})
	t.Cleanup(last.window.Close)
	last.set.remember(path)
	last.begin(beginWithWhat(nil, last.set))
	until(t, "the ways to begin", func() bool { return last.start.gone == path })
	if !last.start.body.Visible() || last.dialogOpen() || last.set.last() != "" || slices.Contains(last.set.recent(), path) {
		t.Errorf("offered %v, dialog %v, last %q, recent %v", last.start.body.Visible(), last.dialogOpen(), last.set.last(), last.set.recent())
	}
	test.Tap(last.start.demo)
	until(t, "the demo", func() bool { return len(last.s.Plan().Legs) == 6 })
	if last.start.body.Visible() {
		t.Error("ways to begin are offered over the demo")
	}
}
