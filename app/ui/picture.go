package ui

import (
	"bytes"
	"context"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// openPicture is the picture that is shown, and the opening that is under way.
type openPicture struct {
	pyramid  *pyramid.Pyramid
	path     string
	sha      string
	opener   *scan.Opener
	cancel   context.CancelFunc // of the opening under way, or nil
	progress *progressView      // of the opening under way, or nil
	early    *early             // begun before the window, until the first opening
}

// giveUp ends the opening under way, if there is one, without a word.
func (p *openPicture) giveUp() {
	if p.cancel != nil {
		p.cancel()
	}
	p.cancel, p.progress = nil, nil
}

// pictureEndings are what the open dialog shows.
func pictureEndings() []string {
	return []string{".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp", ".bmp", ".gif"}
}

// loaded is a picture that has come in, and what is to happen with it.
type loaded struct {
	scan *scan.Scan
	path string
	err  error
}

func (l loaded) sha() string { return hex.EncodeToString(l.scan.SHA256[:]) }

// loadPicture opens a picture away from the window, shows how far it is, and
// calls then on the main thread. Whatever was being opened before is given up.
func (b *Bench) loadPicture(path string, then func(loaded)) {
	b.picture.giveUp()
	if b.picture.opener == nil {
		b.picture.opener = scan.NewOpener()
	}
	ctx, cancel := context.WithCancel(context.Background())
	name := filepath.Base(strings.TrimPrefix(path, plan.EmbeddedPrefix))
	view := newProgressView(b, name, func() {
		b.picture.giveUp()
		b.say("Opening " + name + " was given up.")
	})
	b.picture.cancel, b.picture.progress = cancel, view
	opener, ahead := b.picture.opener, b.picture.early
	b.picture.early = nil
	go func() {
		l, took := ahead.take(ctx, path)
		if !took {
			fsys, name := pictureFS(path)
			l.path = path
			l.scan, l.err = opener.Open(ctx, fsys, name, scan.Options{Progress: view.tell})
		}
		b.later(func() {
			view.close()
			if ctx.Err() != nil {
				return
			}
			b.picture.giveUp() // the context's resources; it has done its work
			then(l)
		})
	}()
}

// pictureFS is the file system that a picture and its world file are in.
func pictureFS(path string) (fs.FS, string) {
	if strings.HasPrefix(path, embeddedScan) {
		return oneFile{name: demo.ScanName, data: demo.Scan()}, demo.ScanName
	}
	return os.DirFS(filepath.Dir(path)), filepath.Base(path)
}

// show puts a picture on the sheet and closes the one before it.
func (b *Bench) show(l loaded) {
	old := b.picture.pyramid
	b.picture.pyramid = pyramid.New(l.scan.Image, pyramid.Options{})
	b.picture.path, b.picture.sha = l.path, l.sha()
	b.sheet.SetPicture(b.picture.pyramid)
	if old != nil {
		go old.Close()
	}
	b.sheetP.forget()
	b.verify(l)
}

// verify looks for damage that the quick decoder passes over in silence, away
// from the window: slipped blocks would put the ground in the wrong place.
func (b *Bench) verify(l loaded) {
	go func() {
		found, err := l.scan.Verify(context.Background())
		if err != nil || len(found) == 0 {
			return
		}
		b.later(func() {
			if b.picture.path == l.path {
				b.tell("The picture may be damaged", sentenceText(strings.Join(found, "; ")))
			}
		})
	}()
}

// clearPicture shows the empty state. A picture that is on its way was meant
// for what stood here before, and is given up.
func (b *Bench) clearPicture() {
	b.picture.giveUp()
	old := b.picture.pyramid
	b.picture.pyramid, b.picture.path, b.picture.sha = nil, "", ""
	b.sheet.SetPicture(nil)
	if old != nil {
		go old.Close()
	}
	b.sheetP.forget()
}

// openSheet opens a picture as the plan's sheet.
func (b *Bench) openSheet(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	b.loadPicture(path, func(l loaded) {
		if l.err != nil {
			b.refuse("This picture cannot be opened", l.err)
			return
		}
		h := l.scan.Header
		if err := b.s.OpenSheet(l.path, h.Width, h.Height, l.sha(), h.DPI); err != nil {
			b.refuse("This picture cannot be opened", err)
			return
		}
		b.show(l)
		b.set.remember(path)
		b.goTo(postSheet)
		b.say(fmt.Sprintf("Opened %s, %d × %d pixels.", filepath.Base(path), h.Width, h.Height))
		b.tellWarnings(l.scan)
		b.offerWorld(l.scan)
	})
}

// tellWarnings says what is missing of a picture that opened all the same.
func (b *Bench) tellWarnings(s *scan.Scan) {
	if len(s.Warnings) > 0 {
		b.tell("The picture opened, but", sentenceText(strings.Join(s.Warnings, "; ")))
	}
}

// offerWorld offers the calibration of a world file once its grid is named.
func (b *Bench) offerWorld(s *scan.Scan) {
	if s.World == nil {
		return
	}
	if sheet, ok := b.s.Plan().Sheet(); ok && (len(sheet.Points) > 0 || sheet.World != nil) {
		return
	}
	text := fmt.Sprintf("%s lies beside the picture and gives its place, but not on which grid. Name the grid to use it.", s.WorldFile)
	b.chooseGrid("A world file was found", text, func(epsg int) {
		b.try(b.s.OfferWorld(s.World.Matrix(), epsg), "Calibrated from "+s.WorldFile+". The sheet stays unproved until a feature agrees.")
	})
}

// refuse shows an error in the middle of the window: what was asked for did
// not happen.
func (b *Bench) refuse(title string, err error) {
	b.fail(err)
	b.tell(title, sentence(err))
}

// progressView shows how far an opening has come, with a way to give it up.
type progressView struct {
	b      *Bench
	giveUp func()
	shown  bool
	dialog *dialog.CustomDialog
	bar    *widget.ProgressBar
	words  *widget.Label
	last   time.Time
}

// progressDelay keeps quick openings from flashing a dialog.
const progressDelay = 250 * time.Millisecond

// newProgressView prepares the view. giveUp is called by its button and by
// Escape.
func newProgressView(b *Bench, name string, giveUp func()) *progressView {
	v := &progressView{b: b, giveUp: giveUp, bar: widget.NewProgressBar(), words: widget.NewLabel("Reading the header…")}
	stop := widget.NewButton("Give up", v.stop)
	v.dialog = dialog.NewCustomWithoutButtons("Opening "+name, container.NewVBox(v.words, v.bar, container.NewCenter(stop)), b.window)
	v.dialog.Resize(fyne.NewSize(420, 170))
	v.last = time.Now()
	time.AfterFunc(progressDelay, func() {
		b.later(func() {
			if v.dialog != nil {
				v.shown = true
				v.dialog.Show()
			}
		})
	})
	return v
}

// tell is called from the opening's goroutine, often: it passes on a few.
func (v *progressView) tell(stage string, done, total int64) {
	if now := time.Now(); now.Sub(v.last) > 60*time.Millisecond && total > 0 {
		v.last = now
		v.b.later(func() {
			v.words.SetText(progressWords(stage, done, total))
			v.bar.SetValue(float64(done) / float64(total))
		})
	}
}

func progressWords(stage string, done, total int64) string {
	if stage == scan.StageRead {
		return fmt.Sprintf("Reading: %.1f of %.1f MB", float64(done)/1e6, float64(total)/1e6)
	}
	return fmt.Sprintf("Decoding: row %d of %d", done, total)
}

// stop gives the opening up.
func (v *progressView) stop() {
	v.close()
	v.giveUp()
}

// close takes the view away, and keeps it away.
func (v *progressView) close() {
	if d := v.dialog; d != nil {
		v.dialog, v.shown = nil, false
		d.Hide()
	}
}

// oneFile is a file system that holds one file in memory.
type oneFile struct {
	name string
	data []byte
}

// Open opens the one file.
func (o oneFile) Open(name string) (fs.File, error) {
	if name != o.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &memoryFile{Reader: bytes.NewReader(o.data), of: o}, nil
}

type memoryFile struct {
	*bytes.Reader
	of oneFile
}

func (f *memoryFile) Close() error               { return nil }
func (f *memoryFile) Stat() (fs.FileInfo, error) { return memoryInfo{f.of}, nil }

type memoryInfo struct{ of oneFile }

func (i memoryInfo) Name() string       { return i.of.name }
func (i memoryInfo) Size() int64        { return int64(len(i.of.data)) }
func (i memoryInfo) Mode() fs.FileMode  { return 0o444 }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) IsDir() bool        { return false }
func (i memoryInfo) Sys() any           { return nil }
