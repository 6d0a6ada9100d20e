package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
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
		{[]string{"--version"}, 0, true, version},
		{[]string{"--help"}, 0, true, "legwright PICTURE"},
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

func TestVersionIsThatOfThePackage(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("../../FyneApp.toml")
	if err != nil {
		t.Fatal(err)
	}
	if want := `Version = "` + version + `"`; !strings.Contains(string(raw), want) {
		t.Errorf("FyneApp.toml lacks %s", want)
	}
}
