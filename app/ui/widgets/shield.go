package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// shield keeps the pointer's presses, drags and wheel from what lies under a strip.
type shield struct{ widget.BaseWidget }

func newShield() *shield { s := &shield{}; s.ExtendBaseWidget(s); return s }

// CreateRenderer makes a shield that is not seen; Fyne calls it.
func (s *shield) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}

// Tapped, Dragged, DragEnd, Scrolled and the three of the pointer do nothing.
func (s *shield) Tapped(*fyne.PointEvent)        {}
func (s *shield) Dragged(*fyne.DragEvent)        {}
func (s *shield) DragEnd()                       {}
func (s *shield) Scrolled(*fyne.ScrollEvent)     {}
func (s *shield) MouseIn(*desktop.MouseEvent)    {}
func (s *shield) MouseMoved(*desktop.MouseEvent) {}
func (s *shield) MouseOut()                      {}
