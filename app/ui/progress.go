package ui

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
	"legwright/mapio/scan"
)

// progressView shows how far an opening has come, with a way to give it up: a
// dialog while there is nothing to see yet, and a quiet strip over the sheet
// once there is a picture to work on.
type progressView struct {
	b       *Bench
	giveUp  func()
	shown   bool // the dialog is
	settled bool // the strip has taken its place
	closed  bool
	dialog  *dialog.CustomDialog
	bar     *widget.ProgressBar
	words   *widget.Label
}

// progressDelay keeps quick openings from flashing a dialog or a strip.
const progressDelay = 250 * time.Millisecond

// newProgressView prepares the view. giveUp is called by its button and by
// Escape.
func newProgressView(b *Bench, name string, giveUp func()) *progressView {
	return newProgress(b, "Opening "+name, giveUp)
}

// newProgress is newProgressView for other work, under a title.
func newProgress(b *Bench, title string, giveUp func()) *progressView {
	v := &progressView{b: b, giveUp: giveUp, bar: widget.NewProgressBar(), words: widget.NewLabel("Reading the header…")}
	stop := widget.NewButton("Cancel", v.stop)
	v.dialog = dialog.NewCustomWithoutButtons(title, container.NewVBox(v.words, v.bar, container.NewCenter(stop)), b.window)
	v.dialog.Resize(fyne.NewSize(420, 170))
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

// ticks is how often the view wants to be told.
func (v *progressView) ticks() *time.Ticker { return time.NewTicker(80 * time.Millisecond) }

// tell shows how far the opening is.
func (v *progressView) tell(at step) {
	switch {
	case v.closed || at.total <= 0:
	case v.settled:
		v.b.opening.tell(progressWords(at))
	default:
		v.words.SetText(progressWords(at))
		v.bar.SetValue(float64(at.done) / float64(at.total))
	}
}

func progressWords(at step) string {
	if at.stage == scan.StageStart {
		return "Starting what draws pages; the first time this takes some seconds…"
	}
	if at.stage == scan.StageRead {
		return fmt.Sprintf("Reading: %.1f of %.1f MB", float64(at.done)/1e6, float64(at.total)/1e6)
	}
	return fmt.Sprintf("Decoding: row %d of %d", at.done, at.total)
}

// settle takes the dialog away: there is a picture to work on.
func (v *progressView) settle() {
	v.hideDialog()
	v.settled = true
}

// stop gives the opening up.
func (v *progressView) stop() { v.giveUp() }

// close takes the view away, and keeps it away.
func (v *progressView) close() {
	if v == nil {
		return
	}
	v.closed = true
	v.hideDialog()
	if v.settled {
		v.b.opening.hide()
	}
}

func (v *progressView) hideDialog() {
	if d := v.dialog; d != nil {
		v.dialog, v.shown = nil, false
		d.Hide()
	}
}

// openingStrip says over the sheet how far the rest of a picture has come that
// can be worked on already.
type openingStrip struct {
	b     *Bench
	body  *widgets.Surface
	words *widget.Label
	stop  *widgets.Tool
}

func newOpeningStrip(b *Bench) *openingStrip {
	s := &openingStrip{b: b, words: widget.NewLabel("")}
	s.stop = widgets.NewTextTool("", "Cancel", "Cancel opening and return to the picture before", b.giveUpOpening)
	s.stop.OnHint = b.hintTo
	s.body = widgets.NewStrip(container.NewHBox(s.words, s.stop))
	s.body.Hide()
	return s
}

// tell shows the strip with its words.
func (s *openingStrip) tell(words string) {
	s.words.SetText(words)
	if !s.body.Visible() {
		s.body.Show()
		s.b.root.Refresh()
	}
}

func (s *openingStrip) hide() { s.body.Hide() }
