package ask

import (
	"fmt"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// progressDelay keeps quick work from flashing a dialog.
const progressDelay = 250 * time.Millisecond

// Progress is a dialog that shows how far long work has come, with a button that
// cancels it. It appears once the work has taken a quarter of a second.
type Progress struct {
	d      *Dialogs
	cancel func()
	dialog *dialog.CustomDialog // nil once closed
	at     int                  // when it was shown, as Dialogs counts; 0 while it is not
	bar    *widget.ProgressBar
	words  *widget.Label
	wait   string    // the words of work whose share is not known, else ""
	since  time.Time // when that began
}

// Progress shows the progress of work under a title. cancel is called by its
// button and by Escape; it must see that Close is called.
func (d *Dialogs) Progress(title string, cancel func()) *Progress {
	p := &Progress{d: d, cancel: cancel, bar: widget.NewProgressBar(), words: widget.NewLabel("")}
	p.bar.Hide()
	stop := newKeyButton("Cancel", false, d.escape, cancel)
	p.dialog = dialog.NewCustomWithoutButtons(title, container.NewVBox(p.words, p.bar, container.NewCenter(stop)), d.window)
	p.dialog.Resize(d.fit(fyne.NewSize(420, 170)))
	d.working = append(d.working, p)
	time.AfterFunc(progressDelay, func() { d.later(p.Show) })
	return p
}

// Show shows the dialog without waiting any longer, unless it is closed.
func (p *Progress) Show() {
	if p.dialog != nil && !p.Shown() {
		p.at = p.d.next()
		p.dialog.Show()
	}
}

// Tell shows what is being done and which share of it is done, 0 to 1. A negative
// share is not known: instead of the bar the seconds are counted, which shows that the work goes on.
func (p *Progress) Tell(words string, share float64) {
	if share < 0 && words == p.wait {
		return
	}
	widgets.SetText(p.words, words)
	p.wait, p.since = "", time.Time{}
	if share < 0 {
		p.bar.Hide()
		p.wait, p.since = words, time.Now()
		p.count(p.since)
		return
	}
	p.bar.Show()
	p.bar.SetValue(min(share, 1))
}

// count writes every second how long the wait that began then has lasted.
func (p *Progress) count(began time.Time) {
	time.AfterFunc(time.Second, func() {
		p.d.later(func() {
			if p.dialog != nil && p.since == began {
				widgets.SetText(p.words, fmt.Sprintf("%s %.0f s", p.wait, time.Since(began).Seconds()))
				p.count(began)
			}
		})
	})
}

// Words returns what Tell showed last.
func (p *Progress) Words() string { return p.words.Text }

// Shown reports whether the dialog is over the window.
func (p *Progress) Shown() bool { return p.at > 0 }

// Close takes the progress away. A nil or closed progress stays as it is.
func (p *Progress) Close() {
	if p == nil || p.dialog == nil {
		return
	}
	p.d.working = slices.DeleteFunc(p.d.working, func(o *Progress) bool { return o == p })
	gone := p.dialog
	p.dialog, p.at = nil, 0
	gone.Hide()
}

// Strip says over the sheet how far work has come that leaves the window free,
// with a button that cancels it.
type Strip struct {
	*widgets.Surface
	words *widget.Label
}

// NewStrip returns a hidden strip. hint says what its button does.
func NewStrip(line *foot.Line, hint string, cancel func()) *Strip {
	s := &Strip{words: widget.NewLabel("")}
	stop := widgets.NewTextTool("", "Cancel", hint, cancel)
	stop.OnHint = line.Hint
	s.Surface = widgets.NewStrip(container.NewHBox(s.words, stop))
	s.Hide()
	return s
}

// Tell shows the strip with its words, and reports whether it was hidden before,
// so that it has to be given its place.
func (s *Strip) Tell(words string) bool {
	widgets.SetText(s.words, words)
	hidden := !s.Visible()
	if hidden {
		s.Show()
	}
	return hidden
}

// Words returns what the strip says.
func (s *Strip) Words() string { return s.words.Text }
