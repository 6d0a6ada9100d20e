package ui

import (
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

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
		store, err := pyramid.OpenStore(t.TempDir(), c.limit, pyramid.Owner{})
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

// fickle is a folder whose files are another age each time one looks.
type fickle struct {
	fs.FS
	looks int64
}

// Stat gives a file's size and a time that never comes again.
func (f *fickle) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(f.FS, name)
	f.looks++
	return aged{info, f.looks}, err
}

type aged struct {
	fs.FileInfo
	age int64
}

func (a aged) ModTime() time.Time { return time.Unix(a.age, 0) }

// What was read of a file while that changed may be a part of either: it is
// shown with its warning, and never stored under the hash of one of them.
func TestFileChangedMeanwhileIsNotStored(t *testing.T) {
	path := banner(t)
	for name, side := range map[string]int{"with a preview": scan.DefaultSide, "without": 13_000} {
		dir := t.TempDir()
		store, err := pyramid.OpenStore(dir, 0, pyramid.Owner{})
		if err != nil {
			t.Fatal(err)
		}
		o := &opening{
			from: &source{opener: scan.NewOpener(), store: store, flowFrom: 1},
			path: path, side: side, ctx: t.Context(), arrivals: make(chan arrival, 3),
		}
		o.decode(&fickle{FS: os.DirFS(filepath.Dir(path))}, filepath.Base(path), [32]byte{1})
		shown := o.shown()
		if shown == nil || shown.err != nil {
			t.Fatalf("%s: shown %+v", name, shown)
		}
		if err := shown.pyramid.WaitWhole(); err != nil {
			t.Fatal(name, err)
		}
		if left, _ := os.ReadDir(dir); len(left) > 0 || shown.pyramid.Stats().Stored {
			t.Errorf("%s: %d files in the store", name, len(left))
		}
		img, release := tileAt(t, shown.pyramid, pyramid.Key{X: 2, Y: 1})
		if got := img.RGBAAt(0, 0); got != (color.RGBA{200, 200, 200, 255}) {
			t.Errorf("%s: %v is shown, want the picture's grey of 200", name, got)
		}
		release()
		shown.pyramid.Close()
	}
}

// Who leaves in the midst of opening closes all pictures, so that what was
// being stored leaves no unfinished file.
func TestLeavingClosesThePictures(t *testing.T) {
	b := opened(t)
	all := map[string]*pyramid.Pyramid{"shown": b.picture.pyramid}
	o := byHand(b, "/ground/big.jpg", b.useSheet)
	late := pyramid.NewPending(image.Pt(800, 600), pyramid.Options{})
	o.show(loaded{path: o.path, pyramid: late})
	all["on its way"] = late
	ahead := &opening{arrivals: make(chan arrival, 2)}
	ahead.ctx, ahead.cancel = context.WithCancel(t.Context())
	early := pyramid.NewPending(image.Pt(800, 600), pyramid.Options{})
	ahead.show(loaded{pyramid: early})
	b.picture.early, all["begun early"] = ahead, early
	b.picture.leave()
	for name, p := range all {
		if missing := p.Request([]pyramid.Key{{}}, nil); missing != 0 || p.Ready(0) {
			t.Errorf("the picture %s is still open", name)
		}
	}
	if o.ctx.Err() == nil || ahead.ctx.Err() == nil {
		t.Error("an opening goes on")
	}
}
