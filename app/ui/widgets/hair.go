package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Hair is a dividing line of one hair's thickness.
type Hair struct {
	widget.BaseWidget
}

// NewHair returns a level hairline.
func NewHair() *Hair {
	h := &Hair{}
	h.ExtendBaseWidget(h)
	return h
}

// CreateRenderer makes the line; Fyne calls it.
func (h *Hair) CreateRenderer() fyne.WidgetRenderer {
	line := canvas.NewRectangle(theme.Color(theme.ColorNameSeparator))
	return &renderer{
		objects: []fyne.CanvasObject{line},
		layout: func(s fyne.Size) {
			t := theme.Size(look.SizeHair)
			line.Move(fyne.NewPos(0, (s.Height-t)/2))
			line.Resize(fyne.NewSize(s.Width, t))
		},
		min: func() fyne.Size { t := theme.Size(look.SizeHair); return fyne.NewSize(t, t) },
		refresh: func() {
			line.FillColor = theme.Color(theme.ColorNameSeparator)
			line.Refresh()
		},
	}
}
