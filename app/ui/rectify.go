package ui

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
	"legwright/mapio/rectify"
)

// rectifyState is the export of a rectified map beside the window.
type rectifyState struct {
	cancel context.CancelFunc // nil while no export runs
	ended  chan struct{}      // closed when its files are complete or removed
	view   *ask.Progress
}

// askRectify asks for the file and the scale of a rectified map.
func (b *Bench) askRectify() {
	if !b.takeTyping() {
		return
	}
	sheet, err := b.rectifySheet()
	var reach rectify.Reach
	if err == nil {
		reach, err = rectify.ReachOf(sheet.Calibration, sheet.Width, sheet.Height)
	}
	if err != nil {
		b.fail(err)
		return
	}
	scale := widgets.NewEscapeEntry("", nil, b.escape)
	scale.SetPlaceHolder("metres a pixel")
	size := widgets.NewSentence("", widgets.Note)
	tell := func(text string) { size.Set(sizeWords(reach, text)) }
	scale.OnChanged = tell
	scale.SetText(usualScale(reach))
	tell(scale.Text)
	row := container.NewBorder(nil, nil, widget.NewLabel("Metres a pixel"), nil, scale)
	b.dialogs.SavePath(pathAsk{
		Title: "Export a rectified map, grid north up", Verb: "Export", Endings: []string{".png", ".jpg", ".jpeg"},
		Files: func(path string) []string { return rectifyFiles(path, sheet) },
		Start: b.suggestRectify(),
		Extra: container.NewVBox(row, size),
		Done: func(path string) {
			frame, err := frameAt(reach, scale.Text)
			b.writeRectified(path, sheet, frame, err, false)
		},
	})
}

// sizeWords say how large the picture will be at the scale that was typed, or why
// that cannot be.
func sizeWords(reach rectify.Reach, scale string) (string, widgets.Tone) {
	f, err := frameAt(reach, scale)
	if err != nil {
		return foot.Sentence(err), widgets.Caution
	}
	return fmt.Sprintf("%d × %d pixels. A band below the map states the fit, its error and whether the sheet is checked.", f.Cols, f.Rows), widgets.Note
}

// rectifySheet is the sheet in hand, ready to be rectified.
func (b *Bench) rectifySheet() (rectify.Sheet, error) {
	p := b.desk.Pyramid()
	sheet, ok := b.s.Sheet()
	switch {
	case b.rectified.cancel != nil:
		return rectify.Sheet{}, errors.New("another rectified map is still being exported: wait for it, or cancel it")
	case p == nil || !ok:
		return rectify.Sheet{}, errors.New("open the picture of a map first")
	case !p.Ready(0):
		return rectify.Sheet{}, errors.New("the picture is still being opened: wait until it is sharp")
	}
	c, err := b.s.Calibration()
	if err != nil {
		return rectify.Sheet{}, err
	}
	sys := b.s.Reader().System()
	if sys == nil {
		return rectify.Sheet{}, errors.New("choose the grid of the sheet first")
	}
	return rectify.Sheet{
		Workers: max(1, runtime.GOMAXPROCS(0)-1), // one is for what writes, and the window comes first
		Name:    opening.Name(b.s.PicturePath()), Width: sheet.Width, Height: sheet.Height, Cut: cutOf(p), Grey: p.Grey(),
		System: sys, Calibration: c, Verdict: b.s.Verdict(), FileCautions: sheet.FileCautions, DPI: sheet.DPI, Version: b.app.Metadata().Version,
	}, nil
}

// frameAt is the frame at the scale that was typed; none is the sheet's own.
func frameAt(reach rectify.Reach, text string) (rectify.Frame, error) {
	text = strings.TrimSpace(strings.Replace(text, ",", ".", 1))
	mpp := 0.0
	if text != "" {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v > 0) {
			return rectify.Frame{}, fmt.Errorf("%q is not a number of metres: type one above 0, such as 2.5", text)
		}
		mpp = v
	}
	return reach.Frame(mpp)
}

// usualScale is the sheet's own scale, or "" if that gives too large a picture.
func usualScale(reach rectify.Reach) string {
	f, err := frameAt(reach, "")
	if err != nil {
		return ""
	}
	return strconv.FormatFloat(f.MetresPerPixel, 'f', -1, 64)
}

// suggestRectify is a name beside the sheet's own picture.
func (b *Bench) suggestRectify() string {
	p := b.s.PicturePath()
	if !filepath.IsAbs(p) {
		return b.suggest(".png")
	}
	return strings.TrimSuffix(p, filepath.Ext(p)) + "-rectified.png"
}

// writeRectified exports the rectified map beside the window, with progress and a
// Cancel button. err is the error of frame, if any. Read-only files are overwritten
// if over is true; otherwise the person is asked.
func (b *Bench) writeRectified(path string, s rectify.Sheet, frame rectify.Frame, err error, over bool) {
	if err == nil {
		err = b.mayRectify(path, s, over)
	}
	if err != nil {
		b.askReadOnly("The rectified map was not exported", err, func() { b.writeRectified(path, s, frame, nil, true) })
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	view := b.dialogs.Progress("Exporting "+filepath.Base(path), b.cancelRectify)
	view.Tell("Drawing…", 0)
	ended := make(chan struct{})
	b.rectified = rectifyState{cancel, ended, view}
	tell := b.tellRectify(ctx, view)
	go func() {
		err := rectify.Save(ctx, path, s, frame, over, tell)
		close(ended)
		b.later(func() {
			if ctx.Err() != nil && err != nil {
				return // cancelled, and said so
			}
			if b.rectified.view == view {
				b.endRectify()
			}
			if err != nil {
				b.refuse("The rectified map was not exported", err)
				return
			}
			b.say(wroteRectified(path, s))
		})
	}()
}

// mayRectify returns why the files of a rectified map cannot be written, or nil.
func (b *Bench) mayRectify(path string, s rectify.Sheet, over bool) error {
	err := b.spareSheets(path)
	for _, name := range rectifyFiles(path, s) {
		if err == nil {
			err = atomicfile.Check(name, atomicfile.Options{ReadOnly: over})
		}
	}
	return err
}

// rectifyEvery is the time between two updates of the progress: each repaints the
// whole window and holds up the export.
const rectifyEvery = 300 * time.Millisecond

// tellRectify shows the progress of the export and the time left.
func (b *Bench) tellRectify(ctx context.Context, view *ask.Progress) func(done, all int) {
	begun, last := time.Now(), time.Now()
	return func(done, all int) {
		if time.Since(last) < rectifyEvery {
			return
		}
		last = time.Now()
		words := fmt.Sprintf("Drawing: row %d of %d%s", done, all, timeLeft(time.Since(begun), done, all))
		b.later(func() {
			if ctx.Err() == nil {
				view.Tell(words, float64(done)/float64(all))
			}
		})
	}
}

// timeLeft says how long the rest of some work will take by what it took so far,
// once that can be told.
func timeLeft(took time.Duration, done, all int) string {
	const enough = time.Second
	if took < enough || done <= 0 || done >= all {
		return ""
	}
	left := time.Duration(float64(took) * float64(all-done) / float64(done))
	if left >= 100*time.Second {
		return fmt.Sprintf(", about %.0f minutes left", math.Ceil(left.Minutes()))
	}
	return fmt.Sprintf(", about %.0f s left", math.Ceil(left.Seconds()))
}

// rectifyFiles are the files that are written.
func rectifyFiles(path string, s rectify.Sheet) []string {
	files := rectify.Files(path)
	if grid := rectify.GridFile(path, s.System); grid != "" {
		files = append(files, grid)
	}
	return files
}

// wroteRectified names the files of the export, its fit and whether the sheet is
// checked, in one line.
func wroteRectified(path string, s rectify.Sheet) string {
	c, state := s.Calibration, "sheet "+s.Verdict.Short(s.Calibration)
	fit := "placed by its file"
	if !c.Given() {
		fit = fmt.Sprintf("RMS %.1f m", c.RMSM())
	}
	grid := ""
	if file := rectify.GridFile(path, s.System); file != "" {
		grid = " with " + filepath.Base(file)
	}
	return fmt.Sprintf("Exported %s and %s%s: %s; %s.", filepath.Base(path), filepath.Base(rectify.WorldName(path)), grid, state, fit)
}

// spareSheets refuses a file that is the picture of a sheet of the plan.
func (b *Bench) spareSheets(path string) error {
	there, err := os.Stat(path)
	if err != nil {
		return nil // nothing is there, or it will be said when it is written
	}
	paths := []string{b.s.PicturePath()}
	for _, sheet := range b.s.Plan().Sheets {
		paths = append(paths, sheet.Picture)
	}
	for _, p := range paths {
		if b.desk.Withheld(p) {
			continue // not to be touched before the person agrees
		}
		if info, err := os.Stat(p); err == nil && os.SameFile(there, info) {
			return fmt.Errorf("%s is the picture of a sheet of this plan: name another file", filepath.Base(path))
		}
	}
	return nil
}

// cancelRectify cancels the export.
func (b *Bench) cancelRectify() {
	if b.rectified.cancel == nil {
		return
	}
	b.endRectify()
	b.say("Cancelled: no rectified map was exported.")
}

func (b *Bench) endRectify() {
	if b.rectified.cancel != nil {
		b.rectified.cancel()
		b.rectified.view.Close()
	}
	b.rectified.cancel, b.rectified.view = nil, nil
}

// leaveRectify cancels the export before the bench closes, and waits a moment
// until its unfinished file is removed.
func (b *Bench) leaveRectify() {
	if b.rectified.cancel == nil {
		return
	}
	b.endRectify()
	const within = 2 * time.Second
	select {
	case <-b.rectified.ended:
	case <-time.After(within):
	}
}
