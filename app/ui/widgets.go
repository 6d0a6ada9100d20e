package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// wrapped is a label whose words wrap.
func wrapped(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// entry is a field with a placeholder that calls submit with what was typed.
func entry(placeholder string, submit func(string)) *widget.Entry {
	e := widget.NewEntry()
	e.SetPlaceHolder(placeholder)
	e.OnSubmitted = submit
	return e
}

// quietLabel is a label of less weight.
func quietLabel(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Importance = widget.LowImportance
	return l
}

// wrappedQuiet is a label of less weight whose words wrap.
func wrappedQuiet(text string) *widget.Label {
	l := quietLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// tell shows a text until it is put away.
func (b *Bench) tell(title, text string) {
	b.question(title, text, nil, answer{"Close", nil, true})
}
