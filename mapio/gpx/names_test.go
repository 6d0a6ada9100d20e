package gpx

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"legwright/app/geodesy"
)

// Letters keep their accents and joined symbols stay whole when a name is cut.
func TestCutKeepsCharactersWhole(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text    string
		letters int
		want    string
	}{
		{"Càrn Mòr", 8, "Càrn Mòr"},
		{"Càrn Mòr", 7, "Càrn Mò"},
		{"Càrn Mòr", 5, "Càrn"},
		{"Ca\u0301rn", 2, "C"}, // accent beyond the cut: the letter goes with it
		{"Ca\u0301rn", 3, "Ca\u0301"},
		{"a👩\u200d🚒b", 3, "a"},
		{"a👩\u200d🚒b", 4, "a👩\u200d🚒"},
		{"山小屋の東", 3, "山小屋"},
		{"x", 0, ""},
	} {
		if got := cut(c.text, c.letters); got != c.want {
			t.Errorf("cut(%q, %d) = %q, want %q", c.text, c.letters, got, c.want)
		}
	}
	if got := clean("Ca\u0300rn"); got != "C\u00e0rn" {
		t.Errorf("clean composes to %q, want %q", got, "C\u00e0rn")
	}
}

// A route back to its start names the same mark twice; another position of the
// same name gets a number; routes and tracks keep to the limit too.
func TestOneNameForOnePlace(t *testing.T) {
	t.Parallel()
	at := geodesy.DegLatLon
	quay := Point{Name: "Skelvig quay", At: at(56.5, -8)}
	cairn := Point{Name: "Skelvig quay", At: at(56.6, -8)}
	d := &Document{
		Marks: []Point{quay},
		Routes: []Route{
			{Name: "Skelvig round", Points: []Point{quay, cairn, quay}},
			{Name: "Skelvig round", Points: []Point{cairn, quay}},
		},
	}
	got, err := Read(bytes.NewReader(written(t, d, Options{NameLimit: 10, Track: true})))
	if err != nil {
		t.Fatal(err)
	}
	a, b := got.Marks[0].Name, got.Routes[0].Points[1].Name
	if a == b || len([]rune(a)) > 10 || len([]rune(b)) > 10 {
		t.Errorf("two positions are named %q and %q", a, b)
	}
	for i, name := range []string{got.Routes[0].Points[0].Name, got.Routes[0].Points[2].Name, got.Routes[1].Points[1].Name} {
		if name != a {
			t.Errorf("visit %d of the mark is named %q, want %q", i, name, a)
		}
	}
	for _, list := range [][]Route{got.Routes, got.Tracks} {
		if x, y := list[0].Name, list[1].Name; x == y || len([]rune(x)) > 10 || len([]rune(y)) > 10 {
			t.Errorf("routes or tracks are named %q and %q, want two names of at most 10 letters", x, y)
		}
	}
}

// Values at the edge of what the schema allows stay valid: the date line,
// poles, letters that are none.
func TestEdgesAreValid(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("needs xmllint of libxml2-utils")
	}
	d := &Document{Title: "\x01edge\ufffe\u202e", Marks: []Point{
		{At: geodesy.DegLatLon(90, 180)},
		{At: geodesy.DegLatLon(-90, -180)},
		{At: geodesy.DegLatLon(0, 179.9999999999)},
		{Name: "\xff\x00", Desc: "]]>"},
	}}
	file := filepath.Join(t.TempDir(), "edge.gpx")
	text := written(t, d, Options{NameLimit: 4})
	if err := os.WriteFile(file, text, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, "--noout", "--schema", filepath.Join("testdata", "gpx11.xsd"), file).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s\n%s", err, out, text)
	}
	back, err := Read(bytes.NewReader(text))
	if err != nil || len(back.Marks) != len(d.Marks) {
		t.Fatalf("read back: %v, %+v", err, back)
	}
	if lon := back.Marks[0].At.Lon.Deg(); math.Abs(lon+180) > 1e-9 {
		t.Errorf("the date line came back as %v, want -180", lon)
	}
}

// A long route of nameless points must not take the square of its length.
func TestManyAlikeNames(t *testing.T) {
	t.Parallel()
	names := newNamer(10)
	seen := map[string]bool{}
	for range 50_000 {
		seen[names.name("")] = true
	}
	if len(seen) != 50_000 {
		t.Errorf("got %d names, want 50000", len(seen))
	}
}
