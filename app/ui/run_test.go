package ui_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/ui/benchtest"
	"legwright/app/ui/files"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/mapio/planfile"
)

// crash leaves unsaved work of a plan in a folder of journals, as a bench does
// that dies, and returns the folder.
func crash(t *testing.T) string {
	t.Helper()
	b := benchtest.Calibrated(t)
	b.Mouse.NewMark(100, 100)
	dir := t.TempDir()
	j := planfile.OpenJournal([]string{dir}, "")
	j.Append("set mark", b.Plan())
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// risen is a bench that starts with a folder of journals.
func risen(t *testing.T, dir string) *benchtest.Bench {
	t.Helper()
	j := planfile.OpenJournal([]string{dir}, "")
	t.Cleanup(func() { _ = j.Close() })
	b := benchtest.Start(t, benchtest.Given{Journal: j, Journals: []string{dir}})
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
	b.Begin(files.Beginning{Demo: true})
	if !b.Asks() {
		t.Fatal("the unsaved work was not offered")
	}
	b.Answer("Restore")
	if p := b.Plan(); len(p.Marks) != 1 || b.Points() != 2 || !b.Session().Dirty() {
		t.Errorf("%d marks, %d points, dirty %v, want 1, 2 and unsaved", len(p.Marks), b.Points(), b.Session().Dirty())
	}
	b.Until("its picture", func() bool { return b.Whole() })
	b.Until("the end of the old journal", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.App.Queue.Later(func() {})
		return len(pending(t, dir)) == 0
	})
}

// Work that is restored over an open plan does not stand on the picture of that
// plan, even where its own cannot be opened.
func TestRestoredWorkNeverStandsOnAnotherPicture(t *testing.T) {
	dir := crash(t)
	b := risen(t, dir)
	b.Files.Drop(benchtest.OtherPicture(t))
	b.Until("the picture of the open plan", func() bool { return b.Whole() })
	if err := os.Remove(pending(t, dir)[0].Plan.Sheets[0].Picture); err != nil {
		t.Fatal(err)
	}
	b.Choose("Restore unsaved work…")
	b.Answer("Discard")
	b.Answer("Restore")
	if len(b.Plan().Marks) != 1 || b.Shown().Pyramid != nil {
		t.Errorf("%d marks, another picture shown %v, want the one mark and no picture", len(b.Plan().Marks), b.Shown().Pyramid != nil)
	}
}

// Unsaved work that is restored does not swallow the command line.
func TestTheCommandLineIsOfferedAfterRestoring(t *testing.T) {
	file, dir := benchtest.OtherPicture(t), crash(t)
	b := risen(t, dir)
	b.Begin(files.Beginning{Files: []string{file}})
	b.Answer("Restore")
	b.Answer("Open")
	b.Answer("Add as another sheet")
	b.Until("the file of the command line", func() bool { return b.Shown().Path == file })
	if p := b.Plan(); len(p.Marks) != 1 || len(p.Sheets) != 2 {
		t.Errorf("%d marks on %d sheets, want the restored mark and both pictures", len(p.Marks), len(p.Sheets))
	}
}

// Unsaved work that the person discards does not stop the command line.
func TestUnsavedWorkIsDiscarded(t *testing.T) {
	file, dir := benchtest.OtherPicture(t), crash(t)
	b := risen(t, dir)
	b.Begin(files.Beginning{Files: []string{file}})
	b.Answer("Discard…")
	b.Answer("Discard")
	b.Until("the file of the command line", func() bool { return b.Shown().Path == file })
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
	j := planfile.OpenJournal([]string{dir}, "")
	b := benchtest.Start(t, benchtest.Given{Journal: j, Journals: []string{dir}})
	off := func() bool { return b.Shows("Crash protection is off") }
	for _, title := range []string{"one", "two"} {
		b.Foot.Say("Something else.")
		b.Foot.Try(b.Session().SetTitle(title), "Named.")
		if !off() {
			t.Fatal("nothing says that crash protection is off")
		}
	}
	b.Tap(t, "Why…")
	if !b.Asks() {
		t.Error("no reason is shown")
	}
	b.Escape()
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	j.Retry()
	b.Until("the end of the caution", func() bool { return !off() })
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	if list := pending(t, dir); len(list) != 1 || list[0].Plan.Title != "two" {
		t.Errorf("kept %v, want the plan as it is now", list)
	}
}

// A second request to close asks no second time, and none asks after the end.
func TestQuitAsksOnce(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.RequestClose()
	b.RequestClose()
	if n := b.Questions(); n != 1 {
		t.Fatalf("%d questions, want one", n)
	}
	b.Answer("Cancel")
	if b.App.Ended || b.Asks() {
		t.Fatal("Cancel ended the program, or left a question")
	}
	b.RequestClose()
	b.Answer("Discard")
	b.RequestClose()
	if !b.App.Ended || b.Asks() {
		t.Errorf("finished %v, question %v, want the end and none", b.App.Ended, b.Asks())
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
	a := uitest.NewApp(t)
	first := func() fyne.Size {
		return benchtest.Start(t, benchtest.Given{App: a, OwnSize: true}).Canvas().Size()
	}
	for env, want := range map[string][2]float32{"1280x800": {1280, 800}, "": {1400, 900}, "wide": {1400, 900}, "-1x5": {1400, 900}} {
		t.Setenv("LEGWRIGHT_SIZE", env)
		if got := first(); got.Width != want[0] || got.Height != want[1] {
			t.Errorf("%q: %v, want %v", env, got, want)
		}
	}
	t.Setenv("LEGWRIGHT_SIZE", "")
	b := benchtest.Start(t, benchtest.Given{App: a})
	b.Resize(fyne.NewSize(1111, 777))
	b.Quit()
	if got := first(); got != fyne.NewSize(1111, 777) {
		t.Errorf("the next start has %v, want the size at the end", got)
	}
}

// A plan that was saved opens again at the next start. Once its file is gone the empty
// bench offers other ways to begin, and the start after that asks no more.
func TestLastPlanReopens(t *testing.T) {
	b, path := benchtest.Saved(t)
	b.Files.Trust(path)
	settings := files.NewSettings(b.App.Preferences())
	if got := settings.Last(); got != path {
		t.Fatalf("the next start opens %q, want %q", got, path)
	}
	next := benchtest.Start(t, benchtest.Given{App: b.App, Known: b.Known})
	next.Begin(files.Begin(nil, settings, false))
	if !next.Shows("Opening the plan…") || next.Shows("Open the picture") {
		t.Error("the first frame asks for a picture while a plan is being opened")
	}
	b.Until("the plan of last time", func() bool { return next.Session().Path() == path })
	if next.Parts.StartCard().Visible() {
		t.Error("ways to begin are offered over a plan")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	last := benchtest.Start(t, benchtest.Given{App: b.App, Known: b.Known})
	settings.Remember(path)
	last.Begin(files.Begin(nil, settings, false))
	b.Until("the ways to begin", func() bool { return last.Shows(path) })
	if !last.Parts.StartCard().Visible() || last.Asks() || settings.Last() != "" || slices.Contains(settings.Recent(), path) {
		t.Errorf("offered %v, dialog %v, last %q, recent %v", last.Parts.StartCard().Visible(), last.Asks(), settings.Last(), settings.Recent())
	}
	last.Tap(t, "Open the demo")
	b.Until("the demo", func() bool { return len(last.Plan().Legs) == 6 })
	if last.Parts.StartCard().Visible() {
		t.Error("ways to begin are offered over the demo")
	}
}

// A bench that will begin makes no place for the ways to begin before it knows that nothing
// opens.
func TestABenchThatBeginsOffersNothingBefore(t *testing.T) {
	for name, c := range map[string]struct {
		opens files.Beginning
		want  bool
	}{"nothing": {files.Beginning{}, true}, "the demo": {files.Beginning{Demo: true}, false}} {
		b := benchtest.Start(t, benchtest.Given{Begins: true})
		before := b.Parts.StartCard().Visible()
		b.Begin(c.opens)
		if after := b.Parts.StartCard().Visible(); before || after != c.want {
			t.Errorf("%s: offered %v, then %v, want false, then %v", name, before, after, c.want)
		}
	}
}

// A bench on which nothing was opened offers the ways to begin, and is named.
func TestAnEmptyBenchOffersToBegin(t *testing.T) {
	b := benchtest.Open(t)
	if !b.Parts.StartCard().Visible() || !strings.HasPrefix(b.Title(), "new plan") {
		t.Errorf("offered %v, title %q", b.Parts.StartCard().Visible(), b.Title())
	}
}

// A long name of a recent file stays within the card.
func TestLongRecentNamesFitTheCard(t *testing.T) {
	b := benchtest.Open(t)
	settings := files.NewSettings(b.App.Preferences())
	settings.Remember("/maps/" + strings.Repeat("a map with a long name ", 6) + ".png")
	b = benchtest.Start(t, benchtest.Given{App: b.App})
	b.Resize(fyne.NewSize(1280, 800))
	tool, ok := uitest.Find[*widgets.Tool](b.Window, "Open /maps/a map")
	if card := b.Parts.StartCard().Size().Width; !ok || tool.MinSize().Width > card-28 {
		t.Errorf("seen %v, a name %.0f wide on a card %.0f wide", ok, tool.MinSize().Width, card)
	}
}

// The ledger begins as it was left: its fold comes back with the other choices of the
// person.
func TestTheLedgerBeginsAsItWasLeft(t *testing.T) {
	b := benchtest.Open(t)
	b.Ledger.ToggleFold()
	folded := b.Ledger.Folded()
	b.Quit()
	again := benchtest.Start(t, benchtest.Given{App: b.App, Known: b.Known})
	if again.Ledger.Folded() != folded || benchtest.Open(t).Ledger.Folded() == folded {
		t.Errorf("folded %v, left folded %v", again.Ledger.Folded(), folded)
	}
}
