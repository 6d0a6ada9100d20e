package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestCheckTarget(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "x.gpx"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ path, says string }{
		{filepath.Join(dir, "walk"), ""},
		{filepath.Join(dir, "walk.gpx"), ""},
		{"", "type the name"},
		{"walk.gpx", "whole path"},
		{dir + string(filepath.Separator), "type the name"},
		{filepath.Join(dir, "no", "walk.gpx"), "no folder"},
		{filepath.Join(dir, "x"), "is a folder"},
	} {
		err := (pathAsk{ending: ".gpx"}).check(c.path)
		if (err == nil) != (c.says == "") || (err != nil && !strings.Contains(err.Error(), c.says)) {
			t.Errorf("check(%q) = %v, want %q", c.path, err, c.says)
		}
	}
	for in, want := range map[string]string{"a": "a.gpx", "a.GPX": "a.GPX", "a.b": "a.b.gpx", " a ": "a.gpx"} {
		if got := withEnding(in, ".gpx"); got != want {
			t.Errorf("withEnding(%q) = %q, want %q", in, got, want)
		}
	}
	if got := fileName(`Càrn: "Mòr" / day 1?`); got != "Càrn Mòr  day 1" {
		t.Errorf("fileName = %q", got)
	}
}
