package widgets

import (
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// EscapeEntry is a text field that Return submits and Escape leaves. The
// toolkit's own field keeps Escape for itself.
type EscapeEntry struct {
	widget.Entry
	// OnDown, where it is set, is called by the Down key, such as to go on into a
	// list below the field.
	OnDown func()
	// TakeKey, where it is set, is asked first of all whether it takes a key.
	TakeKey func(*fyne.KeyEvent) bool
	// Figures says that the field is for figures: while it is empty, a letter goes to the
	// window, for none begins with one.
	Figures bool
	// OnFocus, where it is set, is called when the field gains the focus.
	OnFocus func()
	escape  func()
}

// NewEscapeEntry returns an empty field. submit may be nil.
func NewEscapeEntry(placeholder string, submit, escape func()) *EscapeEntry {
	e := &EscapeEntry{escape: escape}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(placeholder)
	if submit != nil {
		e.OnSubmitted = func(string) { submit() }
	}
	return e
}

// Fill puts a text into a field, with nothing selected in it. Fyne keeps a selection when
// the text changes, and the second letter typed would then replace the first.
func Fill(e *widget.Entry, text string) {
	selected := e.SelectedText() != ""
	if e.SetText(text); selected {
		e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	}
}

// SetText is Fill.
func (e *EscapeEntry) SetText(text string) { Fill(&e.Entry, text) }

// FocusGained begins the typing; Fyne calls it.
func (e *EscapeEntry) FocusGained() {
	e.Entry.FocusGained()
	if e.OnFocus != nil {
		e.OnFocus()
	}
}

// TypedRune types a letter, or leaves it to the window; Fyne calls it.
func (e *EscapeEntry) TypedRune(r rune) {
	if e.Figures && e.Text == "" && unicode.IsLetter(r) {
		RuneToWindow(e, r)
		return
	}
	e.Entry.TypedRune(r)
}

// TypedKey passes Escape on, and Down; Fyne calls it.
func (e *EscapeEntry) TypedKey(k *fyne.KeyEvent) {
	switch {
	case e.TakeKey != nil && e.TakeKey(k):
	case k.Name == fyne.KeyEscape:
		e.escape()
	case k.Name == fyne.KeyDown && e.OnDown != nil:
		e.OnDown()
	default:
		e.Entry.TypedKey(k)
	}
}
