package overlay

import (
	"image"

	"legwright/canvas/view"
)

// Painter draws scenes.
type Painter struct{ img *image.RGBA }

// NewPainter returns a painter.
func NewPainter() *Painter { return &Painter{} }

// Paint draws.
func (p *Painter) Paint(w, h int, v view.View, px float64, s Scene) *image.RGBA {
	return image.NewRGBA(image.Rect(0, 0, w, h))
}
