package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// wrapped is a label whose words wrap.
func wrapped(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// button is a button, the main one of its group where strong.
func button(text string, tapped func(), strong bool) *widget.Button {
	b := widget.NewButton(text, tapped)
	if strong {
		b.Importance = widget.HighImportance
	}
	return b
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
	d := dialog.NewCustom(title, "Close", wrapped(text), b.window)
	d.Resize(fyne.NewSize(520, 200))
	d.Show()
}

// ask asks a question and does what yes means. Escape is no.
func (b *Bench) ask(title, text string, yes func()) {
	d := dialog.NewCustomWithoutButtons(title, wrapped(text), b.window)
	d.SetButtons([]fyne.CanvasObject{
		button("No", func() { d.Hide() }, false),
		button("Yes", func() { d.Hide(); yes() }, true),
	})
	d.Resize(fyne.NewSize(520, 230))
	d.Show()
}
