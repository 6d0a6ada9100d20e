package ui

import (
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"legwright/app/plan"
	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// banner is a JPEG so wide that it has a preview of 1/8: grey on the left half
// of it, darker on the right.
func banner(t *testing.T) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 13_000, 1200))
	for i := range img.Pix {
		img.Pix[i] = 200
		if i%13_000 >= 6400 {
			img.Pix[i] = 40
		}
	}
	path := filepath.Join(t.TempDir(), "banner.jpg")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(f, img, nil); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// A large picture goes to the store while it is decoded; one that the store
// cannot take is opened all the same. Both show the same.
func TestLargePicturesFlow(t *testing.T) {
	path := banner(t)
	for name, c := range map[string]struct {
		limit int64
		flows bool
	}{"room": {0, true}, "no room": {1000, false}} {
		store, err := pyramid.OpenStore(t.TempDir(), c.limit)
		if err != nil {
			t.Fatal(err)
		}
		from := &source{opener: scan.NewOpener(), store: store, flowFrom: 1}
		var shown *loaded
		var end *ending
		for a := range from.open(path, plan.Page{}, scan.DefaultSide, true).arrivals {
			switch {
			case a.first != nil:
				shown = a.first
			case a.end != nil:
				end = a.end
			}
		}
		if shown == nil || shown.err != nil || end == nil || end.err != nil || end.scan.Flowed != c.flows {
			t.Fatalf("%s: shown %+v, end %+v", name, shown, end)
		}
		p := shown.pyramid
		if err := p.WaitWhole(); err != nil || p.Stats().Stored != c.flows {
			t.Errorf("%s: %v, stored %v, want %v", name, err, p.Stats().Stored, c.flows)
		}
		for at, want := range map[pyramid.Key]uint8{{Level: 0, X: 2, Y: 1}: 200, {Level: 0, X: 20, Y: 2}: 40, {Level: 2, X: 1, Y: 0}: 200} {
			img, release := tileAt(t, p, at)
			if got := img.RGBAAt(0, 0); got != (color.RGBA{want, want, want, 255}) {
				t.Errorf("%s: tile %v begins with %v, want grey of %d", name, at, got, want)
			}
			release()
		}
		p.Close()
	}
}
