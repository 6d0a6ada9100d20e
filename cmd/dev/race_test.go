package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// TestRoomsBelow finds each way to start a goroutine, and neither tests nor texts that
// only look like one; the raced rooms whose tests are shorter there run plain too; and a
// folder of tests alone is raced where what it tests starts goroutines.
func TestRoomsBelow(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	for name, code := range map[string]string{
		"a/a.go":                "package a\nfunc f() { go f() }",
		"a/b.go":                "package a\nfunc g() { go f() }",
		"a/a_test.go":           "package a",
		"a/aa/aa.go":            "package aa\nfunc g() { go g() }",
		"a/aa/aa_test.go":       "package aa\nimport \"testing\"\nvar short = testing.Short()",
		"b/b.go":                "package b\nimport \"sync\"\nfunc f() { var w sync.WaitGroup; w.Go(f) }",
		"b/b_test.go":           "package b_test",
		"c/c.go":                "package c\nimport \"time\"\nfunc f() { time.AfterFunc(1, f) }",
		"c/c_test.go":           "package c\n// testing.Short()\nvar short = units.Short()",
		"d/d.go":                "package d\n// go f()\nconst goes = \"go f()\"",
		"d/d_test.go":           "package d\nfunc f() { go f() }",
		"e/e.go":                "package e\nfunc f() { go f() }",
		"f/f_test.go":           "package f\nimport \"testing\"\nvar short = testing.Short()",
		"g/g_test.go":           "package g\nimport _ \"legwright/a\"",
		"h/h_test.go":           "package h\nimport _ \"legwright/d\"\nimport _ \"elsewhere/a\"",
		"i/i_test.go":           "package i\nimport (\n\t\"testing\"\n\t_ \"legwright/canvas/deep\"\n)\nvar short = testing.Short()",
		"j/j.go":                "package j",
		"j/j_test.go":           "package j\nimport _ \"legwright/a\"",
		"testdata/e/e.go":       "package e\nfunc f() { go f() }",
		"testdata/e/e_test.go":  "package e",
		"canvas/deep/deep.go":   "package deep\nfunc f() { func() { go f() }() }",
		"canvas/deep/d_test.go": "package deep",
	} {
		file := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(code), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := roomsBelow(root)
	raced, plain := []string{"./a", "./a/aa", "./b", "./c", "./canvas/deep", "./g", "./i"}, []string{"./a/aa", "./d", "./f", "./h", "./i", "./j"}
	if err != nil || !slices.Equal(got.raced, raced) || !slices.Equal(got.plain, plain) {
		t.Errorf("got %v, %v, want raced %v, plain %v", got, err, raced, plain)
	}
	if err := os.WriteFile(filepath.Join(root, "bad.go"), []byte("package"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := roomsBelow(root); err == nil {
		t.Error("a file that is no Go: no error")
	}
}

// TestEveryTestRunsWhole: of this module the rooms known to start goroutines are raced, and
// every room with tests runs, whole at least once.
func TestEveryTestRunsWhole(t *testing.T) {
	t.Parallel()
	own, err := roomsBelow(moduleRoot())
	if err != nil || !slices.Contains(own.raced, "./canvas/pyramid") || !slices.Contains(own.raced, "./app/ui") || slices.Contains(own.raced, "./app/units") {
		t.Errorf("raced: %v, %v; want canvas/pyramid and app/ui in it, app/units not", own.raced, err)
	}
	for _, dir := range testFolders(t) {
		if !slices.Contains(own.raced, dir) && !slices.Contains(own.plain, dir) {
			t.Errorf("the tests of %s run in no pass", dir)
		}
	}
	for _, dir := range []string{"./app/ui", "./app/ui/lessontest", "./app/ui/sheettest"} {
		if !slices.Contains(own.raced, dir) || slices.Contains(own.plain, dir) {
			t.Errorf("%s runs raced %v, plain %v; want once, raced", dir, slices.Contains(own.raced, dir), slices.Contains(own.plain, dir))
		}
	}
	for _, dir := range []string{"./app/calib/lattice", "./app/ui/hidetest", "./app/ui/menutest", "./mapio/planfile"} {
		if !slices.Contains(own.plain, dir) || !slices.Contains(own.raced, dir) {
			t.Errorf("%s, whose tests are shorter when raced, does not run whole, or not raced", dir)
		}
	}
}

// testFolders are the folders that hold tests, as the file system lists them.
func testFolders(t *testing.T) (dirs []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(moduleRoot(), "*", "*_test.go"))
	for deeper := "*/*"; err == nil && len(deeper) < 12; deeper += "/*" {
		var more []string
		more, err = filepath.Glob(filepath.Join(moduleRoot(), filepath.FromSlash(deeper), "*_test.go"))
		files = append(files, more...)
	}
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		dir, _ := filepath.Rel(moduleRoot(), filepath.Dir(f))
		dirs = append(dirs, "./"+filepath.ToSlash(dir))
	}
	slices.Sort(dirs)
	return slices.Compact(dirs)
}
