package opening_test

import (
	"bytes"
	"context"
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
	"sync/atomic"
	"testing"
	"time"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/tiff"

	"legwright/app/plan"
	"legwright/app/ui/opening"
	"legwright/app/ui/opening/openingtest"
	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// banner is a JPEG so wide that it has a preview of 1/8: grey on the left half of it,
// darker on the right.
func banner(t *testing.T) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 13_000, 1200))
	for i := range img.Pix {
		img.Pix[i] = 200
		if i%13_000 >= 6400 {
			img.Pix[i] = 40
		}
	}
	var text bytes.Buffer
	if err := jpeg.Encode(&text, img, nil); err != nil {
		t.Fatal(err)
	}
	return written(t, "banner.jpg", text.Bytes())
}

func written(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// counting is the real opener, and counts what it decodes.
type counting struct {
	*scan.Opener
	opened atomic.Int64
	flowed atomic.Bool
}

func (c *counting) Open(ctx context.Context, fsys fs.FS, name string, opt scan.Options) (*scan.Scan, error) {
	c.opened.Add(1)
	s, err := c.Opener.Open(ctx, fsys, name, opt)
	if err == nil {
		c.flowed.Store(s.Flowed)
	}
	return s, err
}

// onStore is a bench with a store in a folder and the real opener.
func onStore(t *testing.T, dir string, limit int64) (*bench, *counting, *opening.Source) {
	t.Helper()
	store, err := pyramid.OpenStore(dir, limit, pyramid.Owner{})
	if err != nil {
		t.Fatal(err)
	}
	c := &counting{Opener: scan.NewOpener()}
	from := &opening.Source{Opener: c, Store: store, FlowFrom: 1}
	return benchOn(t, from), c, from
}

// tile waits for a tile of the picture that is shown and returns its first pixel.
func tile(b *bench, at pyramid.Key) color.RGBA {
	b.t.Helper()
	p := b.desk.Pyramid()
	p.Request([]pyramid.Key{at}, nil)
	for limit := time.Now().Add(openingtest.Patience); time.Now().Before(limit); time.Sleep(time.Millisecond) {
		if img, ok := p.Tile(at); ok {
			defer p.Release(img)
			return img.RGBAAt(0, 0)
		}
	}
	b.t.Fatal("no tile")
	return color.RGBA{}
}

func (b *bench) isWhole() bool { return b.desk.State() == opening.Whole }

// A large picture goes to the store while it is decoded; one that the store cannot take
// is opened all the same. Both show the same.
func TestLargePicturesFlow(t *testing.T) {
	t.Parallel()
	path := banner(t)
	for name, c := range map[string]struct {
		limit int64
		flows bool
	}{"room": {0, true}, "no room": {1000, false}} {
		b, opener, _ := onStore(t, t.TempDir(), c.limit)
		b.desk.Open(path)
		b.until("the end", b.isWhole)
		p := b.desk.Pyramid()
		if err := p.WaitWhole(); err != nil || opener.flowed.Load() != c.flows || p.Stats().Stored != c.flows {
			t.Errorf("%s: %v, flowed %v, stored %v, want %v", name, err, opener.flowed.Load(), p.Stats().Stored, c.flows)
		}
		for at, want := range map[pyramid.Key]uint8{{Level: 0, X: 2, Y: 1}: 200, {Level: 0, X: 20, Y: 2}: 40, {Level: 2, X: 1, Y: 0}: 200} {
			if got := tile(b, at); got != (color.RGBA{want, want, want, 255}) {
				t.Errorf("%s: tile %v begins with %v, want grey of %d", name, at, got, want)
			}
		}
		b.desk.Close()
	}
}

// fickle is a drive whose files are another age each time one looks.
type fickle struct {
	fs.FS
	looks *atomic.Int64
}

// Stat gives a file's size and a time that never comes again.
func (f fickle) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(f.FS, name)
	return aged{info, f.looks.Add(1)}, err
}

type aged struct {
	fs.FileInfo
	age int64
}

func (a aged) ModTime() time.Time { return time.Unix(a.age, 0) }

// What was read of a file while that changed may be a part of either: it is refused, and
// never stored under the hash of one of them.
func TestFileChangedMeanwhileIsNotStored(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	b, _, from := onStore(t, dir, 0)
	looks := new(atomic.Int64)
	from.OnDrive(func(fsys fs.FS) fs.FS { return fickle{fsys, looks} })
	b.desk.Open(banner(t))
	b.until("the refusal", func() bool { return b.told(opening.Refused) })
	if err := b.last().Err; !errors.Is(err, scan.ErrChanged) {
		t.Errorf("%v, want that the file changed", err)
	}
	b.desk.Close()
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%d files in the store", len(left))
	}
}

// A picture that is damaged or cut off is refused, in words that say what to do, whether
// it was shown meanwhile or not, and nothing of it is stored.
func TestDamagedPicturesAreRefused(t *testing.T) {
	t.Parallel()
	wide, err := os.ReadFile(banner(t))
	if err != nil {
		t.Fatal(err)
	}
	cut := cutPictures(t)
	cut["flows.jpg"] = wide[:len(wide)*3/4]
	for name, data := range cut {
		dir := t.TempDir()
		b, _, _ := onStore(t, dir, 0)
		b.desk.Open(written(t, name, data))
		b.until("the refusal", func() bool { return b.told(opening.Refused) })
		if err := b.last().Err; !strings.Contains(err.Error(), "again from the original") {
			t.Errorf("%s: ended with %v, want a refusal that says what to do", name, err)
		}
		b.want(opening.Empty)
		b.desk.Close()
		if left, _ := os.ReadDir(dir); len(left) > 0 {
			t.Errorf("%s: %d files in the store", name, len(left))
		}
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
	webp, err := os.ReadFile("../../../mapio/scan/testdata/address_lossy.webp")
	if err != nil {
		t.Fatal(err)
	}
	out["a.webp"] = webp[:len(webp)*3/4]
	return out
}

// A known picture comes from the store without being decoded, and so does the page of a
// document; another resolution of it does not.
func TestKnownPicturesComeFromTheStore(t *testing.T) {
	t.Parallel()
	pdf, err := filepath.Abs("../testdata/two-pages.pdf")
	if err != nil {
		t.Fatal(err)
	}
	for path, page := range map[string]plan.Page{
		openingtest.Picture(t, t.TempDir(), "ground.png", 10): {},
		pdf: {Number: 2, DPI: 400},
	} {
		dir := t.TempDir()
		open := func(page plan.Page) (b *bench, decoded int64) {
			b, c, _ := onStore(t, dir, 0)
			stored(b, path)
			if page != (plan.Page{}) {
				b.wantQuestion(opening.WhichPage)
				before := c.opened.Load()
				b.desk.Answer(b.asked, opening.Answer{Choice: opening.Agree, Page: page})
				b.until("the page", b.isWhole)
				b.until("it in the store", func() bool {
					go func() { b.main <- func() {} }()
					return b.desk.Pyramid().Stats().Stored
				})
				return b, c.opened.Load() - before
			}
			return b, c.opened.Load()
		}
		b, n := open(page)
		if n != 1 {
			t.Errorf("%s: decoded %d times at first, want once", path, n)
		}
		b.desk.Close()
		b, n = open(page)
		if p, _ := b.desk.Picture(); n != 0 || p.Page != page || p.Copy {
			t.Errorf("%s: decoded %d times, page %+v, a copy %v, want %+v from the store", path, n, p.Page, p.Copy, page)
		}
		b.desk.Close()
		if page == (plan.Page{}) {
			continue
		}
		if b, n = open(plan.Page{Number: 2, DPI: 200}); n != 1 {
			t.Errorf("%s: another resolution was decoded %d times, want once", path, n)
		}
		b.desk.Close()
	}
}

// A page that is chosen without a resolution is drawn at the one that suits it, and the
// page that is shown at another resolution keeps its calibration.
func TestPagesHaveTheirOwnResolution(t *testing.T) {
	t.Parallel()
	path, err := filepath.Abs("../testdata/two-pages.pdf")
	if err != nil {
		t.Fatal(err)
	}
	b := benchOn(t, &opening.Source{Opener: scan.NewOpener()})
	b.desk.Open(path)
	b.until("the first page", b.isWhole)
	first, _ := b.desk.Picture()
	if first.Page.DPI != scan.DefaultPageDPI {
		t.Fatalf("the first page is %+v: the test tries nothing", first.Page)
	}
	choose := func(p plan.Page) {
		t.Helper()
		if b.asked.Kind != opening.WhichPage && !b.desk.AskPage() {
			t.Fatal("there is no page to choose")
		}
		q := b.asked
		b.asked = opening.Question{}
		b.desk.Answer(q, opening.Answer{Choice: opening.Agree, Page: p})
		b.until("the page", b.isWhole)
	}
	b.calibrate()
	sheet, _ := b.s.Sheet()
	choose(plan.Page{Number: 1, DPI: 2 * first.Page.DPI})
	fine, _ := b.s.Sheet()
	if len(fine.Points) != 2 || fine.ID != sheet.ID || fine.Width != 2*sheet.Width || fine.Points[1].At.Col != 2*sheet.Points[1].At.Col {
		t.Errorf("at twice the resolution: %d × %d, points %+v, want those of %d × %d, scaled", fine.Width, fine.Height, fine.Points, sheet.Width, sheet.Height)
	}
	choose(plan.Page{Number: 2})
	second, _ := b.desk.Picture()
	if second.Page.Number != 2 || second.Page.DPI == 2*first.Page.DPI || second.Header.Width > 1000 {
		t.Errorf("the second page is %+v, %d pixels wide, want its own resolution", second.Page, second.Header.Width)
	}
}

func TestPagesAreDrawnSmall(t *testing.T) {
	t.Parallel()
	b := benchOn(t, &opening.Source{Opener: scan.NewOpener()})
	pages := opening.NewPages(b.desk.Source(), func(f func()) { b.main <- f })
	for name, number := range map[string]int{"two-pages.pdf": 1, "two-pages.tif": 2} {
		path, err := filepath.Abs("../testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		var got image.Image
		var why error
		drawn := false
		pages.Draw(path, number, 60, func(m image.Image, err error) { got, why, drawn = m, err, true })
		b.until("the page", func() bool { return drawn })
		if why != nil || max(got.Bounds().Dx(), got.Bounds().Dy()) > 60 || max(got.Bounds().Dx(), got.Bounds().Dy()) < 50 {
			t.Errorf("%s: %v, %v, want 60 pixels on the longer side", name, got, why)
		}
	}
}

// The picture that is read ahead of the desk is the one that it opens, and is read once.
func TestReadAhead(t *testing.T) {
	t.Parallel()
	reads := openingtest.NewOpener()
	path := openingtest.Picture(t, t.TempDir(), "ground.png", 1)
	from := &opening.Source{Opener: reads}
	from.ReadAhead(path)
	r := reads.Next(t)
	r.Tell(scan.StageStart, 0, 1) // before there is a window
	b := benchOn(t, from)
	b.desk.Open(path)
	b.until("the stage that it is in", func() bool {
		j, _ := b.desk.Job()
		return j.Progress.Stage == scan.StageStart
	})
	b.heard("the end", func() { r.Finish() })
	b.until("the end", b.isWhole)

	from = &opening.Source{Opener: reads}
	from.ReadAhead(path)
	r = reads.Next(t)
	b = benchOn(t, from)
	b.reads = reads
	b.desk.Open(b.picture("other.png", 2))
	r.WaitCancelled(t)
	b.finish()
}
