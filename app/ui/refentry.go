package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// refEntry is a field from which Return and Escape lead out.
type refEntry struct {
	widget.Entry
	escape func()
}

func newRefEntry(submit, escape func()) *refEntry {
	e := &refEntry{escape: escape}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder("grid reference, such as NN 123 456")
	e.OnSubmitted = func(string) { submit() }
	return e
}

// TypedKey lets Escape out.
func (e *refEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.escape()
		return
	}
	e.Entry.TypedKey(k)
}
