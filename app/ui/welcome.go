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

// welcome is the card of the first run: three lines that say what to drag.
type welcome struct {
	widget.BaseWidget
	ground *canvas.Rectangle
	body   fyne.CanvasObject
	begin  *part.Tool
}

func newWelcome(end func()) *welcome {
	w := &welcome{ground: canvas.NewRectangle(color.Transparent)}
	w.ground.CornerRadius = 3
	lines := container.NewVBox()
	for _, t := range []string{
		"1   Press on Skelvig quay, hold, and drag to the trig pillar: read the bearing at the right.",
		"2   Let go, press L to keep the line as a leg, and drag on from its end.",
		"3   Your own map: drop its picture on the window and calibrate it at the post Sheet.",
	} {
		lines.Add(widget.NewLabel(t))
	}
	head := part.NewHeading("Welcome to the bench")
	w.begin = part.NewTextTool(look.IconConfirm, "Begin", "Put this card away", end)
	foot := container.NewHBox(w.begin)
	w.body = container.NewStack(w.ground, container.New(&padLayout{left: 14, top: 10, right: 14, bottom: 8},
		container.NewVBox(head, lines, foot)))
	w.ExtendBaseWidget(w)
	w.Hide()
	return w
}

// CreateRenderer is Fyne's.
func (w *welcome) CreateRenderer() fyne.WidgetRenderer {
	w.paint()
	return &welcomeRenderer{WidgetRenderer: widget.NewSimpleRenderer(w.body), w: w}
}

func (w *welcome) paint() {
	p := look.Current()
	w.ground.FillColor, w.ground.StrokeColor, w.ground.StrokeWidth = p.Paper, p.Edge, 1
}

type welcomeRenderer struct {
	fyne.WidgetRenderer
	w *welcome
}

// Refresh takes the palette again.
func (r *welcomeRenderer) Refresh() {
	r.w.paint()
	r.WidgetRenderer.Refresh()
}

// showWelcome shows the card.
func (b *Bench) showWelcome() {
	b.welcome.Show()
	b.root.Refresh()
}

// endWelcome puts the card away, and at the first run shows the cautions.
func (b *Bench) endWelcome() {
	b.welcome.Hide()
	if !b.set.welcomed() {
		b.set.setWelcomed()
		b.showCautions()
	}
	b.focusSheet()
}
