package headless

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/mapio/gpx"
)

func TestExportDemo(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "demo.gpx")
	got := run(t, "", "export", "demo", "--gpx", out, "--track", "--name-limit", "10")
	wantCode(t, got, exitDone)
	if !strings.Contains(got.out, "6 legs in 1 route, 8 marks") {
		t.Errorf("said %q, want 6 legs in 1 route, 8 marks", got.out)
	}
	raw, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	d, err := gpx.Read(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Routes) != 2 || len(d.Routes[0].Points) != 7 || len(d.Marks) != 8 || len(d.Tracks) != 2 {
		t.Fatalf("the file holds %d routes, %d marks, %d tracks", len(d.Routes), len(d.Marks), len(d.Tracks))
	}
	if off := d.Routes[1].Name; !strings.HasPrefix(off, "!") {
		t.Errorf("the escape is called %q, and is a draft", off)
	}
	for _, want := range []string{"059° grid", "056° mag", "28 November 2026"} {
		if desc := d.Routes[0].Points[0].Desc; !strings.Contains(desc, want) {
			t.Errorf("description %q lacks %q", desc, want)
		}
	}
}

func TestExportLeavesTheOldFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	missing := filepath.Join(dir, "no", "such", "folder", "x.gpx")
	if got := run(t, "", "export", "demo", "--gpx", missing); got.code != exitFailed || !strings.Contains(got.err, "not written") {
		t.Errorf("into a folder that is not there: exit %d, %q", got.code, got.err)
	}
	old := filepath.Join(dir, "old.gpx")
	if err := os.WriteFile(old, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "", "export", filepath.Join(dir, "no.legplan"), "--gpx", old); got.code != exitFailed {
		t.Errorf("a plan that is not there: exit %d, want %d", got.code, exitFailed)
	}
	if raw, err := os.ReadFile(old); err != nil || string(raw) != "old" {
		t.Errorf("the old file is %q, %v, want it untouched", raw, err)
	}
}

// TestExportOverAReadOnlyFile wants --force.
func TestExportOverAReadOnlyFile(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "x.gpx")
	if err := os.WriteFile(out, []byte("old"), 0o400); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "", "export", "demo", "--gpx", out); got.code != exitFailed || !strings.Contains(got.err, "x.gpx is read-only: name another file, or overwrite it with --force") {
		t.Errorf("exit %d, %q", got.code, got.err)
	}
	if raw, err := os.ReadFile(out); err != nil || string(raw) != "old" {
		t.Errorf("the file is %q, %v, want it untouched", raw, err)
	}
	wantCode(t, run(t, "", "export", "demo", "--gpx", out, "--force"), exitDone)
	if info, err := os.Stat(out); err != nil || info.Size() < 100 || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("%v, %v: want a GPX with the permissions of the file before", info, err)
	}
}

// TestExportRefusals: the plan is not written over, an empty plan writes
// nothing, and a folder's name is not a file's.
func TestExportRefusals(t *testing.T) {
	t.Parallel()
	whole := savePlan(t, routePlan(t, outing))
	before, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	empty := savePlan(t, plan.New(outing))
	for _, c := range []struct{ name, file, out, says string }{
		{"over itself", whole, whole, "the plan itself"},
		{"over itself by another way", whole, filepath.Join(filepath.Dir(whole), ".", filepath.Base(whole)), "the plan itself"},
		{"over another plan", whole, filepath.Join(filepath.Dir(whole), "other.LEGPLAN"), "the name of a plan"},
		{"empty plan", empty, filepath.Join(t.TempDir(), "x.gpx"), "nothing to export"},
		{"onto a folder", whole, t.TempDir(), "is a folder"},
	} {
		got := run(t, "", "export", c.file, "--gpx", c.out)
		if got.code != exitFailed || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: got %d %q %q, want code 1, no output, %q", c.name, got.code, got.out, got.err, c.says)
		}
	}
	if after, err := os.ReadFile(whole); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the plan changed (%v)", err)
	}
}

// TestExportSaysWhatCannotBeTrusted: a plan without a date has no magnetic
// bearing, on the standard error and in the file.
func TestExportSaysWhatCannotBeTrusted(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "x.gpx")
	got := run(t, "", "export", savePlan(t, routePlan(t, plan.Date{})), "--gpx", out)
	wantCode(t, got, exitDone)
	raw, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for where, text := range map[string]string{"standard error": got.err, "file": string(raw)} {
		if !strings.Contains(text, "There is no magnetic bearing because no date is set") {
			t.Errorf("%s does not say that there is no magnetic bearing: %s", where, text)
		}
	}
	if strings.Contains(string(raw), "magnetic 2") {
		t.Errorf("the file has a magnetic bearing: %s", raw)
	}
}
