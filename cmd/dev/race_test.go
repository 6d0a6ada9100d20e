package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// TestRacedRooms finds each way to start a goroutine, and neither tests nor
// texts that only look like one.
func TestRacedRooms(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	for name, code := range map[string]string{
		"a/a.go":              "package a\nfunc f() { go f() }",
		"a/b.go":              "package a\nfunc g() { go f() }",
		"a/aa/aa.go":          "package aa\nfunc g() { go g() }",
		"b/b.go":              "package b\nimport \"sync\"\nfunc f() { var w sync.WaitGroup; w.Go(f) }",
		"c/c.go":              "package c\nimport \"time\"\nfunc f() { time.AfterFunc(1, f) }",
		"d/d.go":              "package d\n// go f()\nconst goes = \"go f()\"",
		"d/d_test.go":         "package d\nfunc f() { go f() }",
		"testdata/e/e.go":     "package e\nfunc f() { go f() }",
		"canvas/deep/deep.go": "package deep\nfunc f() { func() { go f() }() }",
	} {
		file := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(code), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := racedRooms(root)
	if want := []string{"./a", "./a/aa", "./b", "./c", "./canvas/deep"}; err != nil || !slices.Equal(got, want) {
		t.Errorf("got %v, %v, want %v", got, err, want)
	}
	if err := os.WriteFile(filepath.Join(root, "bad.go"), []byte("package"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := racedRooms(root); err == nil {
		t.Error("a file that is no Go: no error")
	}
	own, err := racedRooms(moduleRoot())
	if err != nil || !slices.Contains(own, "./canvas/pyramid") || !slices.Contains(own, "./app/ui") || slices.Contains(own, "./app/units") {
		t.Errorf("of this module: %v, %v; want canvas/pyramid and app/ui in it, app/units not", own, err)
	}
}
