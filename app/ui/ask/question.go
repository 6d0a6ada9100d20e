package ask

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// Answer is one way out of a question. Its text is a verb: what Do does.
type Answer struct {
	Text    string
	Do      func() // nil does nothing
	Default bool   // Return gives it: the harmless one where the question warns
	Stays   bool   // the question stays open
}

// Question is a dialog that waits for its answer.
type Question struct {
	d           *Dialogs
	dialog      *dialog.CustomDialog
	over        fyne.CanvasObject // what the dialog is on the canvas
	at          int               // when it was put, as Dialogs counts
	otherwise   func()
	answered    bool
	defaultDoes *keyButton
	buttons     map[string]*keyButton // of the answers, by their text
	keys        func(fyne.KeyName) bool
	scroll      *container.Scroll // its body, if that can be scrolled
}

// Question asks with one or more answers. Escape does otherwise, which may be
// nil.
func (d *Dialogs) Question(title, text string, otherwise func(), answers ...Answer) *Question {
	return d.QuestionOver(title, widgets.NewWrapped(text), otherwise, answers...)
}

// QuestionOver is Question with more than a text in its middle.
func (d *Dialogs) QuestionOver(title string, body fyne.CanvasObject, otherwise func(), answers ...Answer) *Question {
	return d.Ask(title, body, fyne.NewSize(540, 230), otherwise, answers...)
}

// Warn asks before an act that does harm: Return and Escape cancel it, and only
// the button with the verb does it.
func (d *Dialogs) Warn(title, text, verb string, do, cancelled func()) *Question {
	return d.Question(title, text, cancelled, Answer{Text: "Cancel", Do: cancelled, Default: true}, Answer{Text: verb, Do: do})
}

// Ask shows a body of a size, in DIP, over the window until one of the answers closes it. Escape does
// otherwise, which may be nil.
func (d *Dialogs) Ask(title string, body fyne.CanvasObject, size fyne.Size, otherwise func(), answers ...Answer) *Question {
	q := &Question{d: d, otherwise: otherwise, buttons: map[string]*keyButton{}}
	var row []fyne.CanvasObject
	for _, a := range answers {
		b := q.button(a.Text, a.Default, func() {
			if !a.Stays {
				q.answered = true
				q.hide()
			}
			if a.Do != nil {
				a.Do()
			}
		})
		row = append(row, b)
		q.buttons[a.Text] = b
	}
	q.show(title, body, size, row)
	return q
}

func (q *Question) button(text string, isDefault bool, do func()) *keyButton {
	b := newKeyButton(text, isDefault, q.d.escape, do)
	b.other = func(k fyne.KeyName) bool { return q.keys != nil && q.keys(k) || q.scrollBy(k) }
	if isDefault {
		q.defaultDoes = b
	}
	return b
}

func (q *Question) show(title string, body fyne.CanvasObject, size fyne.Size, buttons []fyne.CanvasObject) {
	d := q.d
	q.scroll, _ = body.(*container.Scroll)
	q.dialog = dialog.NewCustomWithoutButtons(title, body, d.window)
	q.dialog.SetButtons(buttons)
	d.open, q.at = append(d.open, q), d.next()
	q.dialog.SetOnClosed(func() {
		d.open = slices.DeleteFunc(d.open, func(o *Question) bool { return o == q })
		if !q.answered && q.otherwise != nil {
			q.answered = true
			q.otherwise()
		}
	})
	q.dialog.Resize(d.fit(size))
	q.dialog.Show()
	q.over = d.window.Canvas().Overlays().Top()
	if q.defaultDoes != nil {
		d.window.Canvas().Focus(q.defaultDoes)
	}
}

// hide takes the dialog away. The toolkit takes with it whatever lies over it, such as a
// question that the dialog's own answer asked: that is put back, with its focus.
func (q *Question) hide() {
	c := q.d.window.Canvas()
	focused, all := c.Focused(), slices.Clone(c.Overlays().List())
	q.dialog.Hide()
	at := slices.Index(all, q.over)
	if at < 0 || at == len(all)-1 {
		return
	}
	for _, o := range all[at+1:] {
		if _, menu := o.(*widget.PopUpMenu); !menu { // a list that was open in it goes with it
			c.Overlays().Add(o)
		}
	}
	if focused != nil {
		c.Focus(focused)
	}
}

// scrollBy scrolls the body by a key, and reports whether that was one for it.
func (q *Question) scrollBy(k fyne.KeyName) bool {
	const line = 32
	if q.scroll == nil {
		return false
	}
	page, end := q.scroll.Size().Height-line, q.scroll.Content.MinSize().Height
	by, ok := map[fyne.KeyName]float32{
		fyne.KeyUp: -line, fyne.KeyDown: line, fyne.KeyPageUp: -page, fyne.KeyPageDown: page, fyne.KeyHome: -end, fyne.KeyEnd: end,
	}[k]
	if ok {
		to := min(max(q.scroll.Offset.Y+by, 0), max(end-q.scroll.Size().Height, 0))
		q.scroll.ScrollToOffset(fyne.NewPos(0, to))
	}
	return ok
}

// Enable lets the answer of a text act, or not.
func (q *Question) Enable(text string, on bool) {
	if on {
		q.buttons[text].Enable()
	} else {
		q.buttons[text].Disable()
	}
}

// TakeKeys gives keys to a function that no field with the focus takes, before they scroll the
// body. It reports which were for it.
func (q *Question) TakeKeys(keys func(fyne.KeyName) bool) { q.keys = keys }

// Open reports whether the question still waits.
func (q *Question) Open() bool { return q != nil && slices.Contains(q.d.open, q) }

// Close takes the question away as Escape does.
func (q *Question) Close() { q.hide() }

// Take takes the question away without an answer and without what Escape does,
// because it no longer concerns anything.
func (q *Question) Take() {
	if q != nil {
		q.answered = true
		q.hide()
	}
}

// Default returns the button of the default answer, nil where there is no question
// or no default.
func (q *Question) Default() fyne.CanvasObject {
	if q == nil || q.defaultDoes == nil {
		return nil
	}
	return q.defaultDoes
}

// keyButton is a button that Return presses as Space does, and that passes
// Escape on. The toolkit's own button ignores Return and keeps Escape.
type keyButton struct {
	widget.Button
	escape func()
	other  func(fyne.KeyName) bool // a key of the question; nil for none
}

func newKeyButton(text string, isDefault bool, escape, tapped func()) *keyButton {
	k := &keyButton{escape: escape}
	k.Text, k.OnTapped = text, tapped
	if isDefault {
		k.Importance = widget.HighImportance
	}
	k.ExtendBaseWidget(k)
	return k
}

// TypedKey is Fyne's.
func (k *keyButton) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		k.escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		k.Tapped(nil)
	default:
		if k.other != nil && k.other(e.Name) {
			return
		}
		k.Button.TypedKey(e)
	}
}
