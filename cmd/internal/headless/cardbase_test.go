package headless

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const somePeople = `{"people":[{"name":"Anwen Vossgill","phone":"+00 5550 010"}],"emergency_number":"000"}`

// The base sheet takes its people from a file, has the map behind it, and leaves the plan, and
// all else that is written from it, without them.
func TestCardBase(t *testing.T) {
	t.Parallel()
	name, _ := mapped(t)
	before, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	people := filepath.Join(t.TempDir(), "people.json")
	if err := os.WriteFile(people, []byte(somePeople), 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{"--form", "base", "--scale", "50000", "--people", people, "--due-back", "17:30", "--act-at", "2026-11-28 20:00"}
	_, text := printed(t, name, args...)
	for _, want := range []string{"DUE BACK 17:30", "ACT AT 20:00", "Anwen Vossgill +00 5550 010", "ring 000, and say", "1:50,000: 1 cm is 500 m.", "sheet unchecked"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	if got := run(t, "", "card", name, "--form", "base", "--paper", "a6", "--people", people, "--pdf", filepath.Join(t.TempDir(), "a6.pdf")); got.code != exitFailed || !strings.Contains(got.err, "A5") {
		t.Errorf("a base sheet on A6: %+v", got)
	}
	if strings.Contains(text, "No map is printed") {
		t.Error("the sheet says that it has no map")
	}
	if _, text := printed(t, name, append(args, "--no-map")...); !strings.Contains(text, "No map is printed") {
		t.Error("a sheet without a map does not say so")
	}
	gpx := filepath.Join(t.TempDir(), "walk.gpx")
	wantCode(t, run(t, "", "export", name, "--gpx", gpx), exitDone)
	after, err := os.ReadFile(name)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the plan was changed: %v", err)
	}
	out, err := os.ReadFile(gpx)
	if err != nil || strings.Contains(string(out)+string(after), "Vossgill") {
		t.Errorf("a name stands in GPX or plan: %v", err)
	}
	if left, err := os.ReadDir(filepath.Dir(name)); err != nil || len(left) != 2 {
		t.Errorf("beside the plan lie %v, %v", left, err)
	}
}

// Without people or emergency number there is no base sheet, and its flags go with no other
// form.
func TestCardBaseRefuses(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := func(name, text string) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	good, bare := file("good.json", somePeople), file("bare.json", `{"people":[{"name":"A"}]}`)
	for _, c := range []struct {
		code int
		want string
		args []string
	}{
		{exitUsage, "--people FILE", []string{"--form", "base"}},
		{exitUsage, "only with --form base", []string{"--people", good}},
		{exitUsage, "only with --form base", []string{"--form", "sheet", "--due-back", "17:30"}},
		{exitFailed, "emergency number is missing", []string{"--form", "base", "--people", bare}},
		{exitFailed, "the route ends at 11:42 GMT", []string{"--form", "base", "--people", good, "--due-back", "11:00"}},
		{exitFailed, `"soon" is not a time`, []string{"--form", "base", "--people", good, "--act-at", "soon"}},
	} {
		out := filepath.Join(dir, "out.pdf")
		got := run(t, "", append([]string{"card", "demo", "--no-map", "--pdf", out}, c.args...)...)
		if _, err := os.Stat(out); got.code != c.code || !strings.Contains(got.err, c.want) || err == nil {
			t.Errorf("%q: exit %d, %q, want %q and no file", c.args, got.code, got.err, c.want)
		}
	}
	if got := run(t, "", "card", "demo", "--form", "base", "--people", good, "--pdf", good); got.code != exitFailed || !strings.Contains(got.err, "people file") {
		t.Errorf("exit %d, %q", got.code, got.err)
	}
}
