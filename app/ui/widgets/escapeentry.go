package widgets

import (
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
