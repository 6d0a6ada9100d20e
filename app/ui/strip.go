package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/part"
)

// strip is the small offer that appears when a dragged bearing is let go:
// keep it as a leg, keep it as a sight, or let it go.
type strip struct {
	widget.BaseWidget
	ground *canvas.Rectangle
	words  *widget.Label
	leg    *part.Tool
	sight  *part.Tool
	drop   *part.Tool
	body   fyne.CanvasObject
}

// newStrip returns a hidden strip with its three answers.
func newStrip(leg, sight, drop func()) *strip {
	s := &strip{ground: canvas.NewRectangle(color.Transparent), words: widget.NewLabel("")}
	s.ground.CornerRadius = 3
	s.leg = part.NewTextTool("", "Keep as leg  (L)", "Add this line to the route as its next leg", leg)
	s.sight = part.NewTextTool("", "Keep as sight  (S)", "Keep the reading without walking it", sight)
	s.drop = part.NewTextTool("", "Let go  (Esc)", "Forget the reading", drop)
	s.body = container.NewStack(s.ground, container.NewHBox(s.words, s.leg, s.sight, s.drop))
	s.ExtendBaseWidget(s)
	s.Hide()
	return s
}

// offer shows the strip with the reading's figures.
func (s *strip) offer(figures string) {
	s.words.SetText(figures)
	s.Show()
	s.Refresh()
}

// CreateRenderer is Fyne's.
func (s *strip) CreateRenderer() fyne.WidgetRenderer {
	s.paint()
	return &stripRenderer{WidgetRenderer: widget.NewSimpleRenderer(s.body), s: s}
}

func (s *strip) paint() {
	p := look.Current()
	s.ground.FillColor, s.ground.StrokeColor, s.ground.StrokeWidth = p.Board, p.Edge, 1
}

type stripRenderer struct {
	fyne.WidgetRenderer
	s *strip
}

// Refresh takes the palette again.
func (r *stripRenderer) Refresh() {
	r.s.paint()
	r.WidgetRenderer.Refresh()
}
