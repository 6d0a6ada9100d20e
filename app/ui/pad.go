package ui

import (
	"strings"

	"fyne.io/fyne/v2"
)

// padLayout gives one object room at its sides, in units of the window.
type padLayout struct{ left, top, right, bottom float32 }

// MinSize is the object's with the room.
func (l *padLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	return fyne.NewSize(m.Width+l.left+l.right, m.Height+l.top+l.bottom)
}

// Layout places the object.
func (l *padLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	put(objects[0], l.left, l.top, size.Width-l.left-l.right, size.Height-l.top-l.bottom)
}

// figureOnly takes the uncertainty off a figure as the ledger shows it, so
// that a cell opened and closed is read as what it says.
func figureOnly(text string) string {
	figure, _, _ := strings.Cut(text, " ±")
	return figure
}
