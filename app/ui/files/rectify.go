package files

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
	"legwright/mapio/rectify"
)

// Rectifier exports the picture of the sheet with grid north up.
type Rectifier struct {
	Needs
	saver *Saver
	job   *jobs.Slot
}

func newRectifier(n Needs, saver *Saver) *Rectifier {
	r := &Rectifier{Needs: n, saver: saver, job: jobs.NewSlot(n.Later)}
	n.showJob(r.job, rectifyStage, r.Cancel)
	return r
}

// Export asks for the file and the scale of a rectified map.
func (r *Rectifier) Export() {
	if !r.Host.TakeTyping() {
		return
	}
	sheet, err := r.Sheet()
	var reach rectify.Reach
	if err == nil {
		reach, err = rectify.ReachOf(sheet.Calibration, sheet.Width, sheet.Height)
	}
	if err != nil {
		r.Foot.Fail(err)
		return
	}
	scale := r.Dialogs.Entry("metres per pixel")
	size := widgets.NewSentence("", widgets.Note)
	tell := func(text string) { size.Set(sizeWords(reach, text)) }
	scale.OnChanged = tell
	scale.SetText(usualScale(reach))
	tell(scale.Text)
	r.Dialogs.SavePath(ask.Path{
		Title: "Export a rectified map, grid north up", Verb: "Export", Start: r.suggest(), Endings: []string{".png", ".jpg", ".jpeg"},
		Files: func(path string) []string { return rectifyFiles(path, sheet) },
		Extra: container.NewVBox(container.NewBorder(nil, nil, widget.NewLabel("Metres per pixel"), nil, scale), size),
		Done: func(path string) {
			frame, err := frameAt(reach, scale.Text)
			if err != nil {
				r.Dialogs.Refuse(notRectified, err)
				return
			}
			r.write(path, sheet, frame, false)
		},
	})
}

const notRectified = "The rectified map was not exported"

// sizeWords say how large the picture will be at the scale that was typed, or what is
// wrong with the scale.
func sizeWords(reach rectify.Reach, scale string) (string, widgets.Tone) {
	f, err := frameAt(reach, scale)
	if err != nil {
		return foot.Sentence(err), widgets.Caution
	}
	return fmt.Sprintf("%d × %d pixels. A band below the map says how good the calibration is and whether the sheet is checked.", f.Cols, f.Rows), widgets.Note
}

// Sheet is the sheet that is shown, ready to be rectified, or why it cannot be.
func (r *Rectifier) Sheet() (rectify.Sheet, error) {
	r.Session.Settle()
	p := r.Desk.Pyramid()
	sheet, ok := r.Session.Sheet()
	_, busy := r.job.Now()
	switch {
	case busy:
		return rectify.Sheet{}, errors.New("another rectified map is still being exported: wait for it, or cancel it")
	case p == nil || !ok:
		return rectify.Sheet{}, errors.New("open the picture of a map first")
	case !p.Ready(0):
		return rectify.Sheet{}, errors.New("the picture is still being opened: wait until it is sharp")
	}
	c, err := r.Session.Calibration()
	if err != nil {
		return rectify.Sheet{}, err
	}
	sys := r.Session.Reader().System()
	if sys == nil {
		return rectify.Sheet{}, errors.New("choose the grid of the sheet first")
	}
	return rectify.Sheet{
		Workers: max(1, runtime.GOMAXPROCS(0)-2), // one is for what writes, and one is the window's
		Name:    pictureName(sheet.Picture), Width: sheet.Width, Height: sheet.Height, Cut: cutOf(p), Grey: p.Grey(),
		System: sys, Calibration: c, Verdict: r.Session.Judged().Verdict(sheet.ID), FileCautions: sheet.FileCautions, DPI: sheet.DPI,
	}, nil
}

// pictureName is what a picture is called in sentences.
func pictureName(path string) string {
	return filepath.Base(strings.TrimPrefix(path, plan.EmbeddedPrefix))
}

// frameAt is the frame at the scale that was typed; an empty one is the sheet's own.
func frameAt(reach rectify.Reach, text string) (rectify.Frame, error) {
	text = strings.TrimSpace(strings.Replace(text, ",", ".", 1))
	mpp := 0.0
	if text != "" {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v > 0) {
			return rectify.Frame{}, fmt.Errorf("%q is not a number of metres: type a number above 0, such as 2.5", text)
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

// suggest offers a name beside the sheet's own picture.
func (r *Rectifier) suggest() string {
	p := r.Session.PicturePath()
	if !filepath.IsAbs(p) {
		return r.saver.suggest(".png")
	}
	return strings.TrimSuffix(p, filepath.Ext(p)) + "-rectified.png"
}

// write exports the rectified map beside the window. Read-only files are overwritten if
// over is true; otherwise the person is asked.
func (r *Rectifier) write(path string, s rectify.Sheet, frame rectify.Frame, over bool) {
	pictures := r.sheetFiles()
	r.job.Start("Exporting "+filepath.Base(path), func(ctx context.Context, tell func(jobs.Progress)) error {
		if err := mayRectify(path, s, pictures, over); err != nil {
			return err
		}
		return rectify.Save(ctx, path, s, frame, over, func(done, all int) {
			tell(jobs.Progress{Stage: stageRows, Done: int64(done), Total: int64(all)})
		})
	}, func(err error) {
		if err != nil {
			r.askReadOnly(notRectified, err, func() { r.write(path, s, frame, true) })
			return
		}
		r.Foot.Say(rectifiedWords(path, s))
	})
}

// stageRows is the part of the export that draws rows.
const stageRows = "rows"

// rectifyStage says how far the export is, and how long the rest may take.
func rectifyStage(j jobs.Job) string {
	p := j.Progress
	if p.Stage != stageRows {
		return "Drawing…"
	}
	return fmt.Sprintf("Drawing: row %d of %d%s", p.Done, p.Total, timeLeft(time.Since(j.Begun), p))
}

// timeLeft says how long the rest of some work will take by what it took so far, once
// that can be estimated.
func timeLeft(took time.Duration, p jobs.Progress) string {
	const enough = time.Second
	if took < enough || p.Done <= 0 || p.Done >= p.Total {
		return ""
	}
	left := time.Duration(float64(took) * float64(p.Total-p.Done) / float64(p.Done))
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

// rectifiedWords name the files of the export, say whether the sheet is checked and
// how good its fit is.
func rectifiedWords(path string, s rectify.Sheet) string {
	fit := "positioned by its file"
	if !s.Calibration.Given() {
		fit = fmt.Sprintf("typical residual %.1f m", s.Calibration.RMSM())
	}
	grid := ""
	if file := rectify.GridFile(path, s.System); file != "" {
		grid = " with " + filepath.Base(file)
	}
	return fmt.Sprintf("Exported %s and %s%s: sheet %s; %s.", filepath.Base(path), filepath.Base(rectify.WorldName(path)), grid,
		s.Verdict.Short(s.Calibration), fit)
}

// mayRectify returns why the files of a rectified map cannot be written, or nil. It
// never overwrites the picture of a sheet.
func mayRectify(path string, s rectify.Sheet, pictures []string, over bool) error {
	if err := NoPicture(path, pictures); err != nil {
		return err
	}
	for _, name := range rectifyFiles(path, s) {
		if err := atomicfile.Check(name, atomicfile.Options{ReadOnly: over}); err != nil {
			return err
		}
	}
	return nil
}

// Exporting reports whether an export is under way.
func (r *Rectifier) Exporting() bool { _, on := r.job.Now(); return on }

// Cancel cancels the export.
func (r *Rectifier) Cancel() {
	if r.job.Cancel() {
		r.Foot.Say("Export cancelled. No rectified map was written.")
	}
}
