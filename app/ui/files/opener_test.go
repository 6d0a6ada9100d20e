package files_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/ui/files"
	"legwright/mapio/planfile"
)

// The command line goes first, then the plan of last time, and only the very first run
// opens the demo.
func TestWhatAStartOpens(t *testing.T) {
	set := stand(t).settings
	for _, c := range []struct {
		name  string
		first bool
		last  string
		args  []string
		want  files.Beginning
	}{
		{"first run", true, "", nil, files.Beginning{Demo: true}},
		{"second run without a plan", false, "", nil, files.Beginning{}},
		{"second run", false, "/walk.legplan", nil, files.Beginning{Plan: "/walk.legplan"}},
		{"the demo asked for", false, "/walk.legplan", []string{files.DemoArgument}, files.Beginning{Demo: true}},
		{"a file", true, "/walk.legplan", []string{"map.png"}, files.Beginning{Files: []string{"map.png"}}},
	} {
		set.SetLast(c.last)
		got := files.Begin(c.args, set, c.first)
		if got.Demo != c.want.Demo || got.Plan != c.want.Plan || !slices.Equal(got.Files, c.want.Files) {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

// The plan that was saved last reopens; once its file is gone, the bench says so, and the
// next start does not ask again.
func TestTheLastPlanReopens(t *testing.T) {
	b, path := saved(t)
	if got := b.settings.Last(); got != path {
		t.Fatalf("the next start opens %q, want %q", got, path)
	}
	b.s.NewPlan()
	if got := b.settings.Last(); got != "" {
		t.Errorf("after a new plan the next start opens %q", got)
	}
	gone := ""
	note := func(path string) { gone = path }
	b.Opener.Begin(files.Beginning{Plan: path}, note)
	b.until("the plan", func() bool { return b.s.Path() == path })
	do(t, os.Remove(path))
	b.Opener.Begin(files.Beginning{Plan: path}, note)
	b.until("the word that it is gone", func() bool { return gone == path })
	if b.dialogs.Waiting() || b.settings.Last() != "" || slices.Contains(b.settings.Recent(), path) {
		t.Errorf("dialog %v, last %q, recent %v", b.dialogs.Waiting(), b.settings.Last(), b.settings.Recent())
	}
	b.Opener.Begin(files.Beginning{Demo: true}, note)
	if len(b.s.Plan().Legs) == 0 || b.s.Dirty() {
		t.Errorf("the demo has %d legs, unsaved %v", len(b.s.Plan().Legs), b.s.Dirty())
	}
}

// A plan opens after the unsaved work before it has been asked about; a picture is
// somebody else's to open.
func TestOpen(t *testing.T) {
	b, path := saved(t)
	b.Opener.Open(path)
	if !b.Saver.Asking() || len(b.s.Plan().Marks) != 1 {
		t.Fatal("the unsaved mark was not asked about")
	}
	b.answer("Discard")
	b.until("the plan", func() bool { return b.shown == 1 })
	if len(b.s.Plan().Marks) != 0 || b.settings.Recent()[0] != path {
		t.Errorf("%d marks, recent %v", len(b.s.Plan().Marks), b.settings.Recent())
	}
}

// Of files that are dropped together each is spoken of, whichever can be opened.
func TestDropTellsOfAll(t *testing.T) {
	place := `<wpt lat="56.5" lon="-8"><name>Cairn</name></wpt>`
	for name, c := range map[string]struct{ first string }{
		"a good one first": {gpxOf(t, "walk.gpx", place)}, "a bad one first": {gpxOf(t, "bad.gpx", "")},
	} {
		b := calibrated(t)
		b.Opener.Drop([]string{c.first, "notes.txt"})
		b.asked(name)
		if says := b.foot.Message(); !strings.Contains(says, "notes.txt") {
			t.Errorf("%s: nothing is said of notes.txt: %q", name, says)
		}
	}
}

// A damaged plan, or one that is gone, leaves the open one as it is.
func TestPlansThatCannotBeOpened(t *testing.T) {
	b := calibrated(t)
	do(t, b.s.SaveAs(filepath.Join(t.TempDir(), "good"+planfile.Ext)))
	before := b.s.Plan()
	bad, lost := filepath.Join(t.TempDir(), "bad"+planfile.Ext), filepath.Join(t.TempDir(), "lost"+planfile.Ext)
	write(t, bad, "{")
	b.settings.Remember(lost)
	for _, path := range []string{bad, lost} {
		b.Opener.Open(path)
		b.foot.Say("")
		b.until("the refusal", b.foot.Failed)
		if !b.foot.Failed() || b.s.Plan() != before || b.Opener.Reading() {
			t.Errorf("%s: refused %v, plan changed %v", path, b.foot.Failed(), b.s.Plan() != before)
		}
	}
	if slices.Contains(b.settings.Recent(), lost) {
		t.Error("a file that is gone is still offered")
	}
}

// What is changed while a plan is read is asked about before the plan takes its place.
func TestChangesWhileAPlanIsReadAreAskedAbout(t *testing.T) {
	b, path := saved(t)
	do(t, b.s.Save())
	b.Opener.Open(path)
	b.mark("Ford", 70, 70)
	b.asked("the question about the mark")
	if !b.Saver.Asking() || len(b.s.Plan().Marks) != 2 {
		t.Errorf("asked %v, %d marks", b.Saver.Asking(), len(b.s.Plan().Marks))
	}
	b.answer("Save")
	b.until("the plan", func() bool { return b.shown == 1 })
	if len(b.s.Plan().Marks) != 2 {
		t.Errorf("%d marks, want those that were saved just now", len(b.s.Plan().Marks))
	}
}

// Reading can be cancelled.
func TestReadingCancelled(t *testing.T) {
	b, path := saved(t)
	do(t, b.s.Save())
	before := b.s.Plan()
	b.Opener.Open(path)
	if !b.Opener.Cancel() || b.Opener.Cancel() || b.Opener.Reading() {
		t.Error("it was not cancelled once")
	}
	for len(b.queue) > 0 {
		(<-b.queue)()
	}
	if b.s.Plan() != before || b.shown != 0 {
		t.Error("the plan was opened all the same")
	}
}
