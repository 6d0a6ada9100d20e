package part

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
	upright bool
}

// NewHair returns a level hairline.
func NewHair() *Hair { return newHair(false) }

// NewUprightHair returns an upright hairline.
func NewUprightHair() *Hair { return newHair(true) }

func newHair(upright bool) *Hair {
	h := &Hair{upright: upright}
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
			if h.upright {
				line.Move(fyne.NewPos((s.Width-t)/2, 0))
				line.Resize(fyne.NewSize(t, s.Height))
				return
			}
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
