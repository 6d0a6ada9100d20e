package widgets

import (
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// EditField is a field for one text of a thing that exists already, such as the
// name of a mark. It commits what was typed when Return is pressed and when the
// focus leaves it, so that no typing is lost. Escape restores the old text.
type EditField struct {
	widget.Entry
	// OnAccepted, where it is set, is called instead of leave after Return, such as to go
	// on to the next field.
	OnAccepted func()
	// Figures says that the field is for figures: while it is empty, a letter goes to the
	// window, for none begins with one.
	Figures bool
	of      string // the thing the text belongs to
	shown   string // the text the plan holds
	commit  func(string) bool
	leave   func()
}

// NewEditField returns an empty field. commit reports whether the text was
// accepted; leave is called after Return when it was, and after Escape.
func NewEditField(placeholder string, commit func(string) bool, leave func()) *EditField {
	e := &EditField{commit: commit, leave: leave}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(placeholder)
	e.OnSubmitted = func(string) {
		switch {
		case !e.Commit():
		case e.OnAccepted != nil:
			e.OnAccepted()
		default:
			leave()
		}
	}
	return e
}

// ShowText shows the text that the plan holds for a thing; of names that thing.
// Unfinished typing for the same thing stays.
func (e *EditField) ShowText(of, text string) {
	typing := e.Text != e.shown && of == e.of && e.focused()
	e.of, e.shown = of, text
	if !typing && e.Text != text {
		e.SetText(text)
	}
}

// SetText is Fill.
func (e *EditField) SetText(text string) { Fill(&e.Entry, text) }

// Of is the thing that the text belongs to, as ShowText named it.
func (e *EditField) Of() string { return e.of }

// Begin types a letter over what the field shows, once it has the focus.
func (e *EditField) Begin(r rune) {
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
	e.TypedRune(r)
}

// Changed reports whether the field holds typing that is not committed.
func (e *EditField) Changed() bool { return e.Text != e.shown }

func (e *EditField) focused() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(e)
	return c != nil && c.Focused() == e
}

// Commit commits what was typed, if it differs, and reports whether the plan now
// holds it.
func (e *EditField) Commit() bool {
	before := e.shown
	if e.Text == before {
		return true
	}
	e.shown = e.Text // commit may take the focus away, which would commit again
	if e.commit(e.Text) {
		return true
	}
	e.shown = before
	return false
}

// FocusLost commits what was typed, or restores the old text where it is refused;
// Fyne calls it.
func (e *EditField) FocusLost() {
	e.Entry.FocusLost()
	if !e.Commit() {
		e.SetText(e.shown)
	}
}

// TypedRune types a letter, or leaves it to the window; Fyne calls it.
func (e *EditField) TypedRune(r rune) {
	if e.Figures && e.Text == "" && unicode.IsLetter(r) {
		RuneToWindow(e, r)
		return
	}
	e.Entry.TypedRune(r)
}

// TypedKey restores the old text on Escape, and leaves a presenter's keys to the window;
// Fyne calls it.
func (e *EditField) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		e.SetText(e.shown)
		e.leave()
	case fyne.KeyPageUp, fyne.KeyPageDown:
		KeyToWindow(e, k)
	default:
		e.Entry.TypedKey(k)
	}
}
