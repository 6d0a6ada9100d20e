package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// fieldEntry is a field of something that is there already, such as the name
// of a mark. It hands over what was typed when Return is pressed and when the
// focus leaves it, so that nothing typed is lost. Escape takes the typing
// back.
type fieldEntry struct {
	widget.Entry
	of     string // what the field belongs to
	shown  string // what the plan says
	commit func(string) bool
}

// newFieldEntry returns a field. commit reports whether the text was taken;
// leave is called after Return where it was, and after Escape.
func newFieldEntry(placeholder string, commit func(string) bool, leave func()) *fieldEntry {
	e := &fieldEntry{commit: commit}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(placeholder)
	e.OnSubmitted = func(string) {
		if e.handOver() {
			leave()
		}
	}
	return e
}

// show shows what the plan says of a thing. What is being typed for the same
// thing stays.
func (e *fieldEntry) show(of, text string) {
	typing := e.Text != e.shown && of == e.of && e.focused()
	e.of, e.shown = of, text
	if !typing && e.Text != text {
		e.SetText(text)
	}
}

func (e *fieldEntry) focused() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(e)
	return c != nil && c.Focused() == e
}

// handOver commits what was typed, if it is news, and reports whether it now
// stands in the plan.
func (e *fieldEntry) handOver() bool {
	before := e.shown
	if e.Text == before {
		return true
	}
	e.shown = e.Text // so that it is committed once
	if e.commit(e.Text) {
		return true
	}
	e.shown = before
	return false
}

// FocusLost hands over what was typed; what is refused is taken back.
func (e *fieldEntry) FocusLost() {
	e.Entry.FocusLost()
	if !e.handOver() {
		e.SetText(e.shown)
	}
}

// TypedKey takes the typing back with Escape.
func (e *fieldEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.SetText(e.shown)
		e.OnSubmitted("")
		return
	}
	e.Entry.TypedKey(k)
}

// takeTyping hands over what is being typed into a field of the plan, before
// something is done with the plan as a whole. It reports false where the text
// was refused, which has been told.
func (b *Bench) takeTyping() bool {
	if e, ok := b.window.Canvas().Focused().(*fieldEntry); ok && !e.handOver() {
		return false
	}
	return b.ledger.TakeTyping()
}
