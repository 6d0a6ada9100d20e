package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// NewWrapped returns a label whose words wrap.
func NewWrapped(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// NewQuiet returns a label in the quiet colour, for what is said beside the
// point.
func NewQuiet(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Importance = widget.LowImportance
	return l
}

// NewWrappedQuiet returns a quiet label whose words wrap.
func NewWrappedQuiet(text string) *widget.Label {
	l := NewQuiet(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// NewField returns a text field that calls submit with its text on Return.
func NewField(placeholder string, submit func(string)) *widget.Entry {
	e := widget.NewEntry()
	e.SetPlaceHolder(placeholder)
	e.OnSubmitted = submit
	return e
}
