// Package ask puts questions to the person over one window: questions with
// verbs on their buttons, forms, dialogs for the path of a file and for a grid,
// and the progress of long work. A question that warns has the harmless answer
// as its default, which Return gives; Escape gives the harmless answer too. The
// room knows no plan and no session; what an answer does is a function it is
// given.
package ask

import (
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// Dialogs asks over one window. Its methods belong to Fyne's main thread.
type Dialogs struct {
	window  fyne.Window
	line    *foot.Line
	later   func(func())
	open    []*Question // that wait for an answer, oldest first
	working []*Progress // not closed, oldest first
	count   int         // of what was put over the window: what came later lies on top
	share   func(path string) string
	touch   func(path string) error
}

// New returns the dialogs of a window. line is its foot line; later runs a
// function on the main thread.
func New(w fyne.Window, line *foot.Line, later func(func())) *Dialogs {
	return &Dialogs{window: w, line: line, later: later, share: shareOf, touch: touch}
}

// Window returns the window that the dialogs lie over.
func (d *Dialogs) Window() fyne.Window { return d.window }

// Tell shows a text until the person closes it.
func (d *Dialogs) Tell(title, text string) *Question {
	return d.Question(title, text, nil, Answer{Text: "Close", Default: true})
}

// Show shows a body of a size, in DIP, until the person closes it or gives one of the
// answers, if there are any.
func (d *Dialogs) Show(title string, body fyne.CanvasObject, size fyne.Size, answers ...Answer) *Question {
	if len(answers) == 0 {
		answers = []Answer{{Text: "Close", Default: true}}
	}
	return d.Ask(title, body, size, nil, answers...)
}

// Refuse says in the foot line and over the window why an act did not happen.
func (d *Dialogs) Refuse(title string, err error) {
	d.line.Fail(err)
	d.Tell(title, foot.Sentence(err))
}

// Waiting reports whether a dialog or a menu lies over the window.
func (d *Dialogs) Waiting() bool { return d.window.Canvas().Overlays().Top() != nil }

// Open returns how many questions wait for an answer.
func (d *Dialogs) Open() int { return len(d.open) }

// Escape does what the Escape key means to the dialogs: it cancels the work
// whose progress is shown, unless a question lies over it, or else closes the topmost
// dialog or menu. It reports whether there was one.
func (d *Dialogs) Escape() bool {
	asked := 0
	if n := len(d.open); n > 0 {
		asked = d.open[n-1].at
	}
	for _, p := range slices.Backward(d.working) {
		if p.at > asked {
			p.cancel()
			return true
		}
	}
	if !d.Waiting() {
		return false
	}
	if n := len(d.open); n > 0 {
		d.open[n-1].Close()
		return true
	}
	d.window.Canvas().Overlays().Top().Hide()
	return true
}

func (d *Dialogs) escape() { d.Escape() }

// next numbers what is put over the window.
func (d *Dialogs) next() int { d.count++; return d.count }

// Key does what a key means to the dialogs where no widget with the focus takes it.
func (d *Dialogs) Key(k fyne.KeyName) {
	switch n := len(d.open); {
	case k == fyne.KeyReturn || k == fyne.KeyEnter:
		d.Return()
	case n > 0 && d.open[n-1].keys != nil:
		d.open[n-1].keys(k)
	}
}

// Return does what the Return key means to the dialogs in a field, and where no widget
// has the focus, such as after a click beside the buttons: it gives the default answer
// of the newest question, if that can act.
func (d *Dialogs) Return() {
	if len(d.open) == 0 {
		return
	}
	if b := d.open[len(d.open)-1].defaultDoes; b != nil && !b.Disabled() {
		b.OnTapped() // a click would take the focus from a field whose entry is refused
	}
}

// Entry returns a text field for the body of a question. In it, as in a Select and a
// Check, Return gives the question's default answer and Escape closes the question.
func (d *Dialogs) Entry(placeholder string) *widgets.EscapeEntry {
	return widgets.NewEscapeEntry(placeholder, d.Return, d.escape)
}

// Select returns a list to choose from for the body of a question.
func (d *Dialogs) Select(options []string, changed func(string)) *widgets.Select {
	return widgets.NewSelect(options, changed, d.Return, d.escape)
}

// Check returns a box to tick for the body of a question.
func (d *Dialogs) Check(text string, changed func(bool)) *widgets.Check {
	return widgets.NewCheck(text, changed, d.Return, d.escape)
}

// fit returns the size of a dialog that leaves the edge of the window visible.
func (d *Dialogs) fit(size fyne.Size) fyne.Size {
	const margin = 24
	w := d.window.Canvas().Size()
	return fyne.NewSize(min(size.Width, w.Width-margin), min(size.Height, w.Height-margin))
}
