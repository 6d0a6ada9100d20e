package ui

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/tiff"

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
// refused, and never stored under the hash of one of them.
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
			path: path, side: side, arrivals: make(chan arrival, 3),
		}
		o.decode(t.Context(), &fickle{FS: os.DirFS(filepath.Dir(path))}, filepath.Base(path), [32]byte{1})
		close(o.arrivals)
		if err := refusal(o); !errors.Is(err, scan.ErrChanged) {
			t.Errorf("%s: %v, want that the file changed", name, err)
		}
		if left, _ := os.ReadDir(dir); len(left) > 0 {
			t.Errorf("%s: %d files in the store", name, len(left))
		}
	}
}

// refusal reads an opening to its end, closes what it showed, and gives the
// error that it ended with.
func refusal(o *opening) (err error) {
	var shown []*pyramid.Pyramid
	for a := range o.arrivals {
		switch {
		case a.first != nil && a.first.err != nil:
			err = a.first.err
		case a.first != nil:
			shown = append(shown, a.first.pyramid)
		case a.end != nil:
			err = a.end.err
		}
	}
	for _, p := range shown {
		p.Close()
	}
	return err
}

// A picture that is damaged or cut off is refused, in words that say what to do,
// whether it was shown meanwhile or not, and nothing of it is stored.
func TestDamagedPicturesAreRefused(t *testing.T) {
	wide, err := os.ReadFile(banner(t))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	store, err := pyramid.OpenStore(dir, 0, pyramid.Owner{})
	if err != nil {
		t.Fatal(err)
	}
	from := &source{opener: scan.NewOpener(), store: store, flowFrom: 1}
	cut := cutPictures(t)
	cut["flows.jpg"] = wide[:len(wide)*3/4]
	for name, data := range cut {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		err := refusal(from.open(path, plan.Page{}, 400, true))
		if err == nil || !strings.Contains(err.Error(), "again from where it came") {
			t.Errorf("%s: ended with %v, want a refusal that says what to do", name, err)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%d files in the store", len(left))
	}
}

// cutPictures are pictures of every format, of which a quarter is missing.
func cutPictures(t *testing.T) map[string][]byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 600, 400))
	for i := range m.Pix {
		m.Pix[i] = uint8(i*i>>7) | 3
	}
	out := map[string][]byte{}
	for name, encode := range map[string]func(io.Writer) error{
		"a.png": func(w io.Writer) error { return png.Encode(w, m) },
		"a.jpg": func(w io.Writer) error { return jpeg.Encode(w, m, nil) },
		"progressive.jpg": func(w io.Writer) error {
			return jpegn.Encode(w, m, &jpegn.EncodeOptions{Quality: 90, Progressive: true})
		},
		"a.tif": func(w io.Writer) error { return tiff.Encode(w, m, nil) },
	} {
		var b bytes.Buffer
		if err := encode(&b); err != nil {
			t.Fatal(err)
		}
		out[name] = b.Bytes()[:b.Len()*3/4]
	}
	webp, err := os.ReadFile("../../mapio/scan/testdata/address_lossy.webp")
	if err != nil {
		t.Fatal(err)
	}
	out["a.webp"] = webp[:len(webp)*3/4]
	return out
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
	ended := map[*opening]bool{}
	ahead := &opening{arrivals: make(chan arrival, 2)}
	for _, one := range []*opening{o, ahead} {
		one.cancel = func() { ended[one] = true }
	}
	early := pyramid.NewPending(image.Pt(800, 600), pyramid.Options{})
	ahead.show(loaded{pyramid: early})
	b.picture.early, all["begun early"] = ahead, early
	b.picture.leave()
	for name, p := range all {
		if missing := p.Request([]pyramid.Key{{}}, nil); missing != 0 || p.Ready(0) {
			t.Errorf("the picture %s is still open", name)
		}
	}
	if !ended[o] || !ended[ahead] {
		t.Error("an opening goes on")
	}
}
