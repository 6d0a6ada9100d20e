package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// answer is one way out of a question; the strong one is what Return means.
type answer struct {
	text   string
	do     func() // nil does nothing
	strong bool
}

// question asks with two or more answers. Closing it by Escape does otherwise,
// which may be nil. It returns the button of the strong answer.
func (b *Bench) question(title, text string, otherwise func(), answers ...answer) fyne.CanvasObject {
	return b.questionOver(title, widgets.NewWrapped(text), otherwise, answers...)
}

// questionOver is question with more than a text in its middle.
func (b *Bench) questionOver(title string, body fyne.CanvasObject, otherwise func(), answers ...answer) fyne.CanvasObject {
	var d *dialog.CustomDialog
	answered := false
	var strong fyne.CanvasObject
	var row []fyne.CanvasObject
	for _, a := range answers {
		button := newKeyButton(a.text, a.strong, b.escape, func() {
			answered = true
			d.Hide()
			if a.do != nil {
				a.do()
			}
		})
		row = append(row, button)
		if a.strong {
			strong = button
		}
	}
	d = dialog.NewCustomWithoutButtons(title, body, b.window)
	d.SetButtons(row)
	b.asked = append(b.asked, d)
	d.SetOnClosed(func() {
		b.asked = slices.DeleteFunc(b.asked, func(q *dialog.CustomDialog) bool { return q == d })
		if !answered && otherwise != nil {
			answered = true
			otherwise()
		}
	})
	d.Resize(fyne.NewSize(540, 230))
	d.Show()
	if f, ok := strong.(fyne.Focusable); ok {
		b.window.Canvas().Focus(f)
	}
	return strong
}

// shutDialog closes what lies over the bench. A question is told that it was
// closed, which the overlay alone would not do.
func (b *Bench) shutDialog() {
	if n := len(b.asked); n > 0 {
		b.asked[n-1].Hide()
		return
	}
	b.window.Canvas().Overlays().Top().Hide()
}

// ask asks a question and does what yes means. Escape is no.
func (b *Bench) ask(title, text string, yes func()) { b.askElse(title, text, yes, nil) }

// askElse asks a question and does what the answer means. Escape is no.
func (b *Bench) askElse(title, text string, yes, no func()) {
	b.question(title, text, no, answer{"No", no, false}, answer{"Yes", yes, true})
}

// keyButton is a button that Return presses as Space does, and that passes
// Escape on: a button with the focus would swallow both.
type keyButton struct {
	widget.Button
	escape func()
}

func newKeyButton(text string, strong bool, escape, tapped func()) *keyButton {
	k := &keyButton{escape: escape}
	k.Text, k.OnTapped = text, tapped
	if strong {
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
		k.Button.TypedKey(e)
	}
}
