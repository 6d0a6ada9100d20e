package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
)

// SetText writes a text on a label, with the letters that no font has as their codes.
func SetText(l interface{ SetText(string) }, text string) { l.SetText(lettering.Shown(text)) }

// NewWrapped returns a label whose words wrap.
func NewWrapped(text string) *widget.Label {
	l := widget.NewLabel(lettering.Shown(text))
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
