package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/assets/release"
)

func TestWithoutWindow(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		args []string
		code int
		done bool
		says string
	}{
		{nil, 0, false, ""},
		{[]string{"main.go"}, 0, false, ""}, // a file that exists is the bench's to open
		{[]string{"main.go", "main_test.go"}, 0, false, ""},
		{[]string{"main.go", "not-there.png"}, 1, true, "there is no file \"not-there.png\""},
		{[]string{"--version"}, 0, true, release.Program},
		{[]string{"--help"}, 0, true, "legwright PICTURE"},
		{[]string{"demo"}, 0, false, ""},
		{[]string{"demo", "--help"}, 0, true, "a plan on an invented island"},
		{[]string{"demo", "-h"}, 0, true, "usage: legwright demo"},
		{[]string{"demo", "main.go"}, 2, true, "unexpected argument \"main.go\""},
		{[]string{"no-such-thing"}, 2, true, "neither a subcommand nor a file"},
		{[]string{"--nonsense"}, 2, true, "neither a subcommand nor a file"},
		{[]string{"field", "--nonsense"}, 2, true, ""},
	} {
		var out, errw bytes.Buffer
		code, done := withoutWindow(c.args, strings.NewReader(""), &out, &errw)
		if code != c.code || done != c.done {
			t.Errorf("%q: exit %d, done %v, want %d, %v", c.args, code, done, c.code, c.done)
		}
		if said := out.String() + errw.String(); !strings.Contains(said, c.says) {
			t.Errorf("%q said %q, want %q in it", c.args, said, c.says)
		}
	}
}

func TestScreenless(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		goos, display, wayland string
		want                   bool
	}{
		{"linux", "", "", true},
		{"linux", ":0", "", false},
		{"linux", "", "wayland-0", false},
		{"freebsd", "", "", true},
		{"windows", "", "", false},
		{"darwin", "", "", false},
	} {
		env := map[string]string{"DISPLAY": c.display, "WAYLAND_DISPLAY": c.wayland}
		if got := screenless(c.goos, func(k string) string { return env[k] }); got != c.want {
			t.Errorf("%s, DISPLAY %q, WAYLAND_DISPLAY %q: got %v, want %v", c.goos, c.display, c.wayland, got, c.want)
		}
	}
}

// What the program writes names the version of FyneApp.toml, to which assets/release is compared.
func TestEveryFileNamesTheVersion(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	const points = "col,row,easting,northing\n400,300,21000,748000\n4400,300,31000,748000\n4400,3500,31000,740000\n400,3500,21000,740000\n" // from assets/demo/truth.json
	for name, args := range map[string][]string{
		"plan.gpx":      {"export", "demo", "--gpx"},
		"card.pdf":      {"card", "demo", "--pdf"},
		"rectified.png": {"rectify", "--picture", "../../assets/demo/halvasay-sheet.png", "--grid", "EPSG:27700", "--points", "-", "--metres-per-pixel", "50", "--out"},
	} {
		file := filepath.Join(dir, name)
		var out, errw bytes.Buffer
		if code, _ := withoutWindow(append(args, file), strings.NewReader(points), &out, &errw); code != 0 {
			t.Errorf("%s: exit %d, %s", name, code, errw.String())
			continue
		}
		if data, err := os.ReadFile(file); err != nil || !bytes.Contains(data, []byte(release.Program)) {
			t.Errorf("%s does not name %s (%v)", name, release.Program, err)
		}
	}
}
