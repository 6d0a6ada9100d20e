package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// wheel lies over a field and passes the wheel on.
type wheel struct {
	widget.BaseWidget
	scrolled func(*fyne.ScrollEvent)
}

// NewWheeled returns a field over which the wheel scrolls what the field stands in. The
// toolkit gives it to a scroll area inside the field, which has no use for it.
func NewWheeled(field fyne.CanvasObject, scrolled func(*fyne.ScrollEvent)) fyne.CanvasObject {
	w := &wheel{scrolled: scrolled}
	w.ExtendBaseWidget(w)
	return container.NewStack(field, w)
}

// Scrolled passes the wheel on; Fyne calls it.
func (w *wheel) Scrolled(e *fyne.ScrollEvent) { w.scrolled(e) }

// CreateRenderer makes what shows nothing; Fyne calls it.
func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}
