package ui

import (
	"crypto/sha256"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// byHand is an opening whose arrivals a test makes itself.
func byHand(b *Bench, path string, then func(loaded)) *opening {
	b.picture.giveUp()
	o := &opening{from: b.picture.source, path: path, arrivals: make(chan arrival, 2), cancel: func() {}}
	b.picture.now, b.picture.then = o, then
	b.picture.view = newProgressView(b, pictureName(path), b.giveUpOpening)
	return o
}

// preview lets an opening show a picture of 800 × 600 pixels at half its size.
func preview(b *Bench, o *opening) {
	key := sha256.Sum256([]byte(o.path))
	p := pyramid.NewPending(image.Pt(800, 600), o.options(key))
	p.Preview(1, image.NewGray(image.Rect(0, 0, 400, 300)))
	h := scan.Header{Format: "JPEG", Width: 800, Height: 600}
	o.show(loaded{path: o.path, header: h, key: key, pyramid: p})
	b.arrived(o, <-o.arrivals)
}

// finish lets an opening end.
func finish(b *Bench, o *opening, e ending) {
	o.end(e)
	b.arrived(o, <-o.arrivals)
}

// A picture can be worked on from its preview; when the rest has come, what
// was done stands.
func TestWorkBeginsOnThePreview(t *testing.T) {
	b := stand(t)
	o := byHand(b, "/ground/big.jpg", b.useSheet)
	preview(b, o)
	if b.dialogOpen() || b.picture.pyramid == nil || b.picture.pyramid.Size() != image.Pt(800, 600) {
		t.Fatal("the sheet is not there with its preview")
	}
	o.at.Store(&step{scan.StageDecode, 30, 600})
	b.picture.view.tell(*o.at.Load())
	if !b.opening.Visible() || b.opening.Words() != "Decoding: row 30 of 600" {
		t.Errorf("strip %q, visible %v, want how far it is", b.opening.Words(), b.opening.Visible())
	}
	point(b, 100, 500, "NL 22 47")
	if points(b) != 1 {
		t.Fatalf("%d points set on the preview, want 1", points(b))
	}
	clickAt(b, view.PicPt{X: 600, Y: 500})
	if got := b.sheetP.Hint(); !strings.Contains(got, "still being read") {
		t.Errorf("there is no enlargement yet, and the post says %q", got)
	}
	b.picture.pyramid.Fill(image.NewGray(image.Rect(0, 0, 800, 600)))
	if err := b.picture.pyramid.WaitWhole(); err != nil {
		t.Fatal(err)
	}
	finish(b, o, ending{})
	if got := b.sheetP.Hint(); !strings.Contains(got, "Bring the hairlines") {
		t.Errorf("the enlargement is there, and the post says %q", got)
	}
	if b.opening.Visible() || b.picture.now != nil || points(b) != 1 || b.picture.pyramid == nil {
		t.Errorf("strip %v, %d points, want the strip away and the point kept", b.opening.Visible(), points(b))
	}
}

// When the rest of a picture cannot be read, or is given up, the plan and the
// picture that were there before come back.
func TestFailedOpeningBringsBackWhatWasThere(t *testing.T) {
	for name, end := range map[string]func(*Bench, *opening){
		"fails":    func(b *Bench, o *opening) { finish(b, o, ending{err: errors.New("the drive was pulled")}) },
		"given up": func(b *Bench, _ *opening) { b.giveUpOpening() },
	} {
		b := calibrated(t)
		before, sha := b.s.Plan(), b.picture.sha
		o := byHand(b, "/ground/big.jpg", b.useSheet)
		preview(b, o)
		if points(b) != 0 || b.picture.sha == sha {
			t.Fatalf("%s: the new sheet is not there", name)
		}
		end(b, o)
		if b.s.Plan() != before {
			t.Errorf("%s: the plan is not the one before", name)
		}
		until(t, "the picture before", func() bool { return b.picture.sha == sha && b.picture.pyramid != nil })
		if name == "fails" && !b.dialogOpen() {
			t.Error("the failure was not told")
		}
		b.escape()
	}
}

// A picture that turns out damaged after one has worked on its preview goes,
// and the work stays; so does the plan whose own picture is damaged.
func TestDamageTakesThePictureNotThePlan(t *testing.T) {
	damaged := ending{err: errors.New("big.jpg: picture file is damaged; copy it again from where it came")}
	for name, begin := range map[string]func(b *Bench) *opening{
		"a new sheet": func(b *Bench) *opening {
			o := byHand(b, "/ground/big.jpg", b.useSheet)
			preview(b, o)
			point(b, 100, 500, "NL 22 47")
			point(b, 700, 100, "NL 28 51")
			return o
		},
		"the plan's own": func(b *Bench) *opening {
			o := byHand(b, b.picture.path, func(l loaded) { b.show(l) })
			preview(b, o)
			return o
		},
	} {
		b := calibrated(t)
		o := begin(b)
		before := b.s.Plan()
		if points(b) != 2 || b.picture.pyramid == nil {
			t.Fatalf("%s: %d points, the test tries nothing", name, points(b))
		}
		finish(b, o, damaged)
		if b.s.Plan() != before || points(b) != 2 {
			t.Errorf("%s: the plan is not what it was", name)
		}
		if b.picture.pyramid != nil || b.Pyramid() != nil || b.picture.now != nil {
			t.Errorf("%s: the picture is still on the sheet", name)
		}
		if got := b.foot.Message(); !b.foot.Failed() || !b.dialogOpen() ||
			!strings.Contains(got, "again from where it came") || !strings.Contains(got, "the calibration and the legs are kept") {
			t.Errorf("%s: told %q, in a dialog %v", name, got, b.dialogOpen())
		}
		b.escape()
	}
}

// What comes of an opening that was given up changes nothing.
func TestLateArrivalsAreLetGo(t *testing.T) {
	b := opened(t)
	sha := b.picture.sha
	o := byHand(b, "/ground/big.jpg", b.useSheet)
	b.giveUpOpening()
	preview(b, o)
	finish(b, o, ending{})
	if b.picture.sha != sha || b.opening.Visible() {
		t.Error("a picture that was given up came in")
	}
}

// stored is a bench with a store of pictures in a folder.
func stored(t *testing.T, dir string) *Bench {
	t.Helper()
	b := stand(t)
	store, err := pyramid.OpenStore(dir, 0, pyramid.Owner{})
	if err != nil {
		t.Fatal(err)
	}
	b.picture.source.store = store
	t.Cleanup(func() {
		if p := b.picture.pyramid; p != nil {
			p.Close() // before its folder goes
		}
	})
	return b
}

// known opens a picture until the store knows it.
func known(t *testing.T, dir, path string) {
	t.Helper()
	b := stored(t, dir)
	b.openSheet(path)
	mark, err := scan.Mark(os.DirFS(filepath.Dir(path)), filepath.Base(path))
	if err != nil {
		t.Fatal(err)
	}
	until(t, "the picture in the store", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.later(func() {})
		_, _, ok := b.picture.source.store.Find(mark)
		return ok && b.picture.pyramid != nil && b.picture.pyramid.Stats().Stored
	})
	b.clearPicture()
}

// A known picture comes from the store, and its file is compared after.
func TestKnownPictureComesFromTheStore(t *testing.T) {
	dir, path := t.TempDir(), picture(t)
	known(t, dir, path)
	b := stored(t, dir)
	var first loaded
	b.loadPicture(path, plan.Page{}, func(l loaded) { first = l; b.useSheet(l) })
	until(t, "the end of the opening", func() bool { return b.picture.now == nil })
	if !first.stored || b.picture.pyramid != first.pyramid || b.picture.kept {
		t.Errorf("stored %v, kept %v, want the picture from the store", first.stored, b.picture.kept)
	}
	img, release := tileOf(t, b)
	defer release()
	if got := img.RGBAAt(0, 0); got != (color.RGBA{10, 10, 10, 255}) {
		t.Errorf("first pixel %v, want the picture's 10", got)
	}
}

func tileOf(t *testing.T, b *Bench) (*image.RGBA, func()) {
	t.Helper()
	return tileAt(t, b.picture.pyramid, pyramid.Key{})
}

// tileAt waits for a tile.
func tileAt(t *testing.T, p *pyramid.Pyramid, k pyramid.Key) (*image.RGBA, func()) {
	t.Helper()
	p.Request([]pyramid.Key{k}, nil)
	for range 400 {
		if img, ok := p.Tile(k); ok {
			return img, func() { p.Release(img) }
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatal("no tile")
	return nil, nil
}

// A file that was changed behind its mark is opened anew, and the plan carries
// the hash of what the file holds now.
func TestChangedFileIsOpenedAnew(t *testing.T) {
	dir, path := t.TempDir(), picture(t)
	known(t, dir, path)
	now := otherOfSize(t, path)
	mark, err := scan.Mark(os.DirFS(filepath.Dir(path)), filepath.Base(path))
	if err != nil {
		t.Fatal(err)
	}
	b := stored(t, dir)
	store := b.picture.source.store
	old := storedKey(t, dir)
	store.Note(mark, old) // as if the mark had not changed with the file
	b.openSheet(path)
	until(t, "the changed picture", func() bool { return b.picture.now == nil && b.picture.pyramid != nil })
	until(t, "its note", func() bool {
		time.Sleep(5 * time.Millisecond)
		b.later(func() {})
		key, _, ok := store.Find(mark)
		return ok && key != old
	})
	sheet, _ := b.s.Plan().Sheet()
	if sheet.SHA256 != now || b.picture.sha != now {
		t.Errorf("sheet %.8s, shown %.8s, want %.8s", sheet.SHA256, b.picture.sha, now)
	}
}

// storedKey is the hash of the one picture in a store.
func storedKey(t *testing.T, dir string) (key [32]byte) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if name, ok := strings.CutSuffix(d.Name(), ".v1.sheet"); ok && err == nil {
			for i := range key {
				var v int
				for _, c := range name[2*i : 2*i+2] {
					v = v<<4 | strings.IndexRune("0123456789abcdef", c)
				}
				key[i] = byte(v)
			}
		}
		return err
	})
	if err != nil || key == ([32]byte{}) {
		t.Fatalf("no picture in the store: %v", err)
	}
	return key
}

// otherOfSize writes another picture of the same size over a file and returns
// its hash.
func otherOfSize(t *testing.T, path string) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	draw.Draw(img, img.Rect, image.NewUniform(color.Gray{Y: 60}), image.Point{}, draw.Src)
	writePNG(t, path, img)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(raw)
	return loaded{key: sum}.sha()
}

// A plan whose picture is gone shows what the store kept, and says so.
func TestKeptPictureIsMarked(t *testing.T) {
	dir, path := t.TempDir(), picture(t)
	known(t, dir, path)
	b := stored(t, dir)
	b.openSheet(path)
	until(t, "the picture", func() bool { return b.picture.now == nil && b.picture.pyramid != nil })
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	again := stored(t, dir)
	reopened(t, again, file)
	if again.picture.pyramid == nil || !again.picture.kept || !again.dialogOpen() {
		t.Fatalf("shown %v, kept %v, asked %v, want all", again.picture.pyramid != nil, again.picture.kept, again.dialogOpen())
	}
	if !strings.Contains(again.foot.Quality().Text, "file not there") {
		t.Errorf("foot line %q, want it to say that the file is not there", again.foot.Quality().Text)
	}
}

// A picture that is replaced while it is open is noticed when the plan is
// saved; the plan keeps the hash of what it was made on.
func TestReplacedPictureIsNoticedOnSaving(t *testing.T) {
	b := calibrated(t)
	sha := b.picture.sha
	otherOfSize(t, b.picture.path)
	if err := b.s.SaveAs(filepath.Join(t.TempDir(), "walk"+planfile.Ext)); err != nil {
		t.Fatal(err)
	}
	b.saved(nil)
	until(t, "the warning", func() bool { return b.foot.Failed() })
	sheet, _ := b.s.Plan().Sheet()
	if !strings.Contains(b.foot.Message(), "changed since it was opened") || sheet.SHA256 != sha {
		t.Errorf("message %q, hash %.8s, want a warning and %.8s", b.foot.Message(), sheet.SHA256, sha)
	}
}

// The file of the sheet with another content asks, rather than throwing the
// control points away.
func TestChangedSheetIsNotAnotherSheet(t *testing.T) {
	b := calibrated(t)
	otherOfSize(t, b.picture.path)
	b.openSheet(b.picture.path)
	until(t, "the question", func() bool { return b.dialogOpen() && b.picture.view == nil })
	if points(b) != 2 {
		t.Errorf("%d points, want the 2 that were there", points(b))
	}
	b.escape()
	if b.dialogOpen() || points(b) != 2 {
		t.Errorf("dialog %v, %d points after no", b.dialogOpen(), points(b))
	}
}

// Return and Escape answer a question, whichever button has the focus.
func TestQuestionsTakeKeys(t *testing.T) {
	for _, c := range []struct {
		key  fyne.KeyName
		want string
	}{{fyne.KeyReturn, "yes"}, {fyne.KeySpace, "yes"}, {fyne.KeyEscape, "no"}} {
		b, got := stand(t), ""
		b.question("Sure", "Are you?", func() { got += "no" }, answer{Text: "No"}, answer{Text: "Yes", Do: func() { got += "yes" }, Default: true})
		b.window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: c.key})
		if got != c.want || b.dialogOpen() {
			t.Errorf("%s: got %q, dialog %v, want %q and none", c.key, got, b.dialogOpen(), c.want)
		}
	}
}
