package gpx

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// What speaks against a place is read back as it was written; another program's
// source is none of it.
func TestDoubtsComeBack(t *testing.T) {
	t.Parallel()
	text := written(t, made(), Options{Track: true})
	d, err := Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	want := made().Marks[0].Doubts
	if got := d.Marks[0].Doubts; !slices.Equal(got, want) || len(d.Marks[1].Doubts) != 0 {
		t.Errorf("the marks come back with %q and %q, want %q and none", got, d.Marks[1].Doubts, want)
	}
	if got := d.Routes[0].Points[0].Doubts; !slices.Equal(got, want) {
		t.Errorf("the route's start comes back with %q, want %q", got, want)
	}
	other := strings.ReplaceAll(string(text), "Legwright doubts: place-contradicted", "hand-held receiver, sheet-unproved")
	if d, err = Read(strings.NewReader(other)); err != nil || len(d.Marks[0].Doubts) != 0 {
		t.Errorf("another source: %v, %q", err, d.Marks[0].Doubts)
	}
}
