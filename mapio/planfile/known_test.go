package planfile

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/plan"
)

// naming saves a plan with one sheet for each picture name, as the file has it, and
// reads it again.
func naming(t *testing.T, path string, names ...string) (*plan.Plan, plan.Stamp) {
	t.Helper()
	var sheets []string
	for i, name := range names {
		sheets = append(sheets, `{"id":"sheet-`+string(rune('a'+i))+`","picture":`+quote(t, name)+`}`)
	}
	text := `{"format":"legwright-plan","version":1,"party":{"compass":{},"speed_kmh":4,"run_speed_kmh":8,"double_paces_per_100m":64,"pacing_sigma":0.1},"sheets":[` +
		strings.Join(sheets, ",") + `]}`
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	p, stamp, err := NewStore().Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return p, stamp
}

func quote(t *testing.T, text string) string {
	t.Helper()
	return strings.ReplaceAll(`"`+text+`"`, `\`, `\\`)
}

// Only pictures inside the plan's folder open unasked, and no link leads out.
func TestPicturesOutsideThePlansFolderAreAskedAbout(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	home := filepath.Join(dir, "home")
	if err := os.MkdirAll(filepath.Join(home, "maps"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"secret.png", "home/maps/isle.png"} {
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), []byte("picture"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if os.Symlink(filepath.Join("..", "..", "secret.png"), filepath.Join(home, "maps", "out.png")) != nil ||
		os.Symlink("isle.png", filepath.Join(home, "maps", "in.png")) != nil || os.Symlink("..", filepath.Join(home, "up")) != nil {
		t.Skip("this system makes no symbolic links")
	}
	known, path := KnownIn(filepath.Join(dir, "settings")), filepath.Join(home, "walk.legplan")
	for name, asks := range map[string]bool{
		"isle.png": false, "maps/isle.png": false, "maps/none.png": false, "maps/in.png": false, "../home/maps/isle.png": false,
		plan.EmbeddedPrefix + "demo": false, "": false, "a:b.png": false,
		"../secret.png": true, "maps/../../secret.png": true, filepath.Join(dir, "secret.png"): true, "/etc/hostname": true,
		"maps/out.png": true, "up/secret.png": true, "up/home/maps/isle.png": true,
		"//host/share/x.png": true, `\\host\share\x.png`: true, "http://host/x.png": true, "file:///etc/hostname": true, `D:\maps\x.png`: true,
	} {
		p, stamp := naming(t, path, name)
		r := known.Reach(path, stamp, p)
		if got := len(r.Ask) > 0; got != asks {
			t.Errorf("%q: asks about %q, want it to ask: %v", name, r.Ask, asks)
		}
		if inside := name != "" && !p.Sheets[0].Embedded() && !asks; r.Inside[p.Sheets[0].Picture] != inside || r.Folder != home {
			t.Errorf("%q: opens %v inside %s, want %v inside %s", name, r.Inside, r.Folder, inside, home)
		}
	}
}

func TestAPlanSavedHereIsNotAskedAbout(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	known := KnownIn(filepath.Join(dir, "settings"))
	path, other := filepath.Join(dir, "walk.legplan"), filepath.Join(dir, "other.legplan")
	asks := func(path string, names ...string) []string {
		p, stamp := naming(t, path, names...)
		return known.Reach(path, stamp, p).Ask
	}
	if got := asks(path, "../a.png"); len(got) != 1 {
		t.Fatalf("before it was saved here it asks about %q, want one", got)
	}
	_, stamp := naming(t, path, "../a.png")
	if err := known.Saved(path, stamp); err != nil {
		t.Fatal(err)
	}
	if got := asks(path, "../a.png"); got != nil {
		t.Errorf("saved here, it asks about %q", got)
	}
	for name, got := range map[string][]string{
		"the same in another file": asks(other, "../a.png"), "changed by another program": asks(path, "../b.png"),
	} {
		if len(got) != 1 {
			t.Errorf("%s: it asks about %q, want one", name, got)
		}
	}
	if info, err := os.Stat(filepath.Join(dir, "settings", "known-plans")); err != nil || info.Size() != 65 {
		t.Errorf("%v, %v, want one line", info, err)
	}
}

func TestAnAgreedPictureIsAskedAboutOnce(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	known := KnownIn(filepath.Join(dir, "settings"))
	path := filepath.Join(dir, "walk.legplan")
	p, stamp := naming(t, path, "../a.png", "../b.png")
	a, b := p.Sheets[0].Picture, p.Sheets[1].Picture
	if err := known.Agreed(path, a); err != nil {
		t.Fatal(err)
	}
	if got := known.Reach(path, stamp, p).Ask; !slices.Equal(got, []string{b}) {
		t.Errorf("it asks about %q, want %q alone", got, b)
	}
	if got := known.Reach(filepath.Join(dir, "other.legplan"), stamp, p).Ask; len(got) != 2 {
		t.Errorf("another plan asks about %q, want both", got)
	}
	if got := (Known{}).Reach(path, stamp, p).Ask; len(got) != 2 || (Known{}).Agreed(path, a) == nil {
		t.Errorf("without a folder it asks about %q, want both", got)
	}
}

// The file of what is remembered stays small, and forgets the oldest.
func TestKnownForgetsTheOldest(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	known := KnownIn(dir)
	first, last := entryOf("agreed", "first"), entryOf("agreed", "last")
	if err := os.WriteFile(filepath.Join(dir, "known-plans"), []byte(first+strings.Repeat(entryOf("x"), maxKnown/65)), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := known.add(last); err != nil {
		t.Fatal(err)
	}
	if got := known.read(); len(got) != keepKnown+65 || known.has(first) || !known.has(last) {
		t.Errorf("%d bytes, first %v, last %v; want half of it and the last", len(got), known.has(first), known.has(last))
	}
}
