package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// TestWordsOfATree reads a tree written for it: each text that reaches a person is
// listed once with its file and line, and nothing that only the program reads.
func TestWordsOfATree(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	for name, text := range map[string]string{
		"app/a/a.go": `package a
import "some/path of words"
type row struct { N int ` + "`json:\"grid_bearing,omitempty\" xml:\"not this one\"`" + ` }
const title = "Keys of the sheet"
func f(name string, n int) error {
	if name == "a text compared" { return nil }
	switch name { case "a text in a case": say("Nothing is selected.") }
	x := strings.TrimPrefix(name, "a text cut off")
	os.Getenv("SOME SETTING")
	button("Cancel", "icon-name", "lower")
	fs.Int("depth", 3, "how deep to look")
	say("The mark " + name + " is set" + more("twice over") + ".")
	say("Nothing is selected.")
	help("usage of it\ngoes on here\n\n  --flag  what it does\n          when given\n  --other  what that does")
	return fmt.Errorf("no mark is called %q: %w", name, err)
}`,
		"app/a/a_test.go":              "package a\nconst s = \"a text of a test\"",
		"README.md":                    "# A heading\n\nOne paragraph\non two lines.\n\n- an item\n\n```\ngo run code\n```\n",
		"assets/notices/changes.md":    "## 1.0\n\n- **New.** An item\n",
		"assets/notices/font-face.txt": "Some letters, unmodified.\nUsed under this licence:\n\nThe licence itself.\n",
	} {
		path := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := allTexts(root, []string{"app/a"})
	want := []personText{
		{"README.md", 1, "readme", "# A heading"},
		{"README.md", 3, "readme", "One paragraph on two lines."},
		{"README.md", 6, "readme", "- an item"},
		{"app/a/a.go", 3, "key", "grid_bearing"},
		{"app/a/a.go", 4, "text", "Keys of the sheet"},
		{"app/a/a.go", 7, "text", "Nothing is selected."},
		{"app/a/a.go", 10, "text", "Cancel"},
		{"app/a/a.go", 11, "text", "depth"},
		{"app/a/a.go", 11, "text", "how deep to look"},
		{"app/a/a.go", 12, "text", "The mark … is set…."},
		{"app/a/a.go", 12, "text", "twice over"},
		{"app/a/a.go", 14, "text", "usage of it goes on here"},
		{"app/a/a.go", 14, "text", "--flag  what it does when given"},
		{"app/a/a.go", 14, "text", "--other  what that does"},
		{"app/a/a.go", 15, "text", "no mark is called %q: %w"},
		{"assets/notices/changes.md", 3, "readme", "- **New.** An item"},
		{"assets/notices/font-face.txt", 1, "notice", "Some letters, unmodified. Used under this licence:"},
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v: got\n%v\nwant\n%v", err, got, want)
	}
}

// TestWordsOfTheProgram: texts from all over the program are found, and a draw is
// the same for the same seed and another for another.
func TestWordsOfTheProgram(t *testing.T) {
	t.Parallel()
	dirs, err := shippedRooms(t.Context(), moduleRoot())
	if err != nil {
		t.Fatal(err)
	}
	all, err := allTexts(moduleRoot(), dirs)
	if err != nil || len(all) < 1000 {
		t.Fatalf("%d texts, %v", len(all), err)
	}
	for _, want := range []struct{ kind, text string }{
		{"text", "Cancel"}, {"key", "marks"}, {"text", "sheet unchecked"}, {"readme", "# Legwright"},
	} {
		if !slices.ContainsFunc(all, func(s personText) bool { return s.kind == want.kind && s.text == want.text }) {
			t.Errorf("%q is not listed as %s", want.text, want.kind)
		}
	}
	first := drawn(all, 200, 1)
	if len(first) != 200 || !slices.Equal(first, drawn(all, 200, 1)) || slices.Equal(first, drawn(all, 200, 2)) {
		t.Errorf("%d texts drawn, want 200, the same for one seed and others for another", len(first))
	}
	if n := len(drawn(all, 1<<20, 1)); n != len(all) {
		t.Errorf("more than all: %d drawn of %d", n, len(all))
	}
}
