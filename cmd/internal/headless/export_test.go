package headless

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
	if len(d.Routes) != 1 || len(d.Routes[0].Points) != 7 || len(d.Marks) != 8 || len(d.Tracks) != 1 {
		t.Fatalf("the file holds %d routes, %d marks, %d tracks", len(d.Routes), len(d.Marks), len(d.Tracks))
	}
	for _, want := range []string{"grid 059°", "magnetic 056°", "28 November 2026"} {
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
