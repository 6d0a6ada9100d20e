package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// NewLabelled puts what a field is for before it: a filled one does not say so.
func NewLabelled(text string, field fyne.CanvasObject) fyne.CanvasObject {
	return container.New(&labelLayout{}, NewQuiet(text), field)
}

// labelLayout gives all labels one width.
type labelLayout struct{}

// labelWidth is that of the widest label, in units of the window.
const labelWidth = float32(108)

// MinSize is that of the field and the label's width.
func (*labelLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(labelWidth+60, o[1].MinSize().Height)
}

// Layout places the label beside the field.
func (*labelLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	h := o[0].MinSize().Height
	Put(o[0], -6, (size.Height-h)/2, labelWidth, h)
	Put(o[1], labelWidth-6, 0, size.Width-labelWidth+6, size.Height)
}
