package benchtest

import (
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/widgets"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
)

// Files are the acts on files: dropped on the window, or named in its dialogs.
type Files struct{ b *Bench }

// Picture writes a small grey picture of 400 by 300 pixels and returns its path.
func Picture(t testing.TB) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = uint8(200 + i%7)
	}
	img.SetGray(0, 0, color.Gray{Y: 10})
	path := filepath.Join(t.TempDir(), "ground.png")
	WritePNG(t, path, img)
	return path
}

// OtherPicture writes a picture of 320 by 240 pixels that is not that of Picture.
func OtherPicture(t testing.TB) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 320, 240))
	img.SetGray(5, 5, color.Gray{Y: 99})
	path := filepath.Join(t.TempDir(), "other.png")
	WritePNG(t, path, img)
	return path
}

// WritePNG writes a picture to a file.
func WritePNG(t testing.TB, path string, img image.Image) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// Drop drops files on the window.
func (f *Files) Drop(paths ...string) { f.b.Drop(fyne.NewPos(300, 300), paths...) }

// TypePath types a path into the dialog that asks for one, and submits it.
func (f *Files) TypePath(path string) {
	f.b.t.Helper()
	field, ok := f.b.Canvas().Focused().(*widgets.EscapeEntry)
	if !ok {
		f.b.t.Fatal("no path is asked for")
	}
	field.SetText(path)
	f.b.Key(fyne.KeyReturn)
}

// SaveAs saves the plan to a file by the menu.
func (f *Files) SaveAs(path string) {
	f.b.t.Helper()
	f.b.Choose("Save plan as…")
	f.TypePath(path)
	f.b.Until("the save", func() bool { return f.b.Session().Path() == path && !f.b.Session().Dirty() })
}

// Save saves the plan to its file.
func (f *Files) Save() {
	f.b.t.Helper()
	f.b.Foot.Say("")
	f.b.Choose("Save plan")
	f.b.Until("the save", func() bool { return strings.HasPrefix(f.b.Foot.Message(), "Saved") || f.b.Foot.Failed() || f.b.Asks() })
}

// Export exports the plan to a file, whose ending says in which format.
func (f *Files) Export(path string) {
	f.b.t.Helper()
	f.b.Foot.Say("")
	f.b.Choose("Export…")
	f.TypePath(path)
	f.b.Until("the export", func() bool { return strings.HasPrefix(f.b.Foot.Message(), "Exported") || f.b.Foot.Failed() })
}

// Import imports a file of tracks, and waits for what comes of it.
func (f *Files) Import(path string) {
	f.b.t.Helper()
	f.b.Foot.Say("")
	f.Drop(path)
	f.b.Until("the import", func() bool {
		return strings.HasPrefix(f.b.Foot.Message(), "Imported") || f.b.Foot.Failed() || f.b.Asks()
	})
}

// Trust lets a plan open its pictures unasked, as one that was saved here.
func (f *Files) Trust(path string) {
	f.b.t.Helper()
	_, stamp, err := planfile.NewStore().Load(path)
	if err == nil {
		err = f.b.Known.Saved(path, stamp)
	}
	if err != nil {
		f.b.t.Fatal(err)
	}
}

// Open opens a plan that was saved here, up to where its picture is on its way.
func (f *Files) Open(path string) {
	f.b.t.Helper()
	f.Trust(path)
	before := f.b.Plan()
	f.Drop(path)
	f.b.Until("the plan", func() bool { return f.b.Plan() != before || f.b.Foot.Failed() })
}

// Show opens a picture and waits until it is shown.
func (f *Files) Show(path string) {
	f.b.t.Helper()
	f.Drop(path)
	f.b.Until("the picture", func() bool { return f.b.Whole() && f.b.Shown().Path == path })
}

// Overwrite writes a picture of 400 by 300 pixels, other than that of Picture, over a file
// and returns its hash.
func Overwrite(t testing.TB, path string) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	draw.Draw(img, img.Rect, image.NewUniform(color.Gray{Y: 60}), image.Point{}, draw.Src)
	WritePNG(t, path, img)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return Hash(raw)
}

// Hash is a hash of a file's bytes as plans write it.
func Hash(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// TwoPages is the path of a document made for tests: a drawing of invented ground that says
// where it lies, and a picture of 100 × 40 pixels that does not.
func TwoPages(t testing.TB) string {
	t.Helper()
	path, err := filepath.Abs(filepath.FromSlash("../testdata/two-pages.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// TypePage types a page and a resolution into the dialog that asks for them, which it opens
// if need be, and submits them.
func (f *Files) TypePage(number, dpi string) {
	f.b.t.Helper()
	if !f.b.Asks() {
		f.b.Choose("Choose page and resolution…")
	}
	if dpi != "" {
		f.b.FocusOn(f.b.t, "to suit the page")
		f.b.Replace(dpi)
	}
	f.b.FocusOn(f.b.t, "1")
	f.b.Replace(number)
	f.b.Key(fyne.KeyReturn)
}

// Stored is a bench with a store of pictures in a folder.
func Stored(t testing.TB, dir string) *Bench {
	t.Helper()
	store, err := pyramid.OpenStore(dir, 0, pyramid.Owner{})
	if err != nil {
		t.Fatal(err)
	}
	b := Start(t, Given{Store: store})
	t.Cleanup(func() { // the picture is closed before its folder goes
		for b.Asks() {
			b.Escape()
		}
		if b.RequestClose(); b.Asks() {
			b.Answer("Discard")
		}
	})
	return b
}

// Know opens a picture until the store in a folder has it.
func Know(t testing.TB, dir, path string) {
	t.Helper()
	b := Stored(t, dir)
	b.Files.Show(path)
	b.Until("the picture in the store", func() bool {
		go b.App.Queue.Later(func() {}) // Until looks again
		return b.Shown().Pyramid.Stats().Stored
	})
	b.Choose("New plan")
}
