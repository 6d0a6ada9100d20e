package projector

import (
	"image"
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// Board shows the dial and the figures of a lesson as one picture. It changes
// in one step with the drawing on the sheet, and is drawn beside the main thread as that is,
// so that a line dragged on the bench stays quick.
type Board struct {
	widget.BaseWidget
	raster *canvas.Raster
	high   func() float32         // of the window
	menu   func(at fyne.Position) // opens the menu of the window

	told   *told // what it says
	wanted *told // what it will say once the sheet shows its drawing; nil until that is known
	brush  *brush
	shown  *picture
}

func newBoard(high func() float32) *Board {
	t := &told{}
	b := &Board{high: high, told: t, wanted: t, brush: &brush{}, shown: &picture{}}
	b.raster = canvas.NewRaster(b.paint)
	b.ExtendBaseWidget(b)
	return b
}

// Written returns what stands on the board.
func (b *Board) Written() []Written { return b.shown.page.words }

// Face returns the side of the dial's face in units of the window, 0 for none.
func (b *Board) Face() float32 { return b.shown.page.side }

// prepare returns what draws, away from the main thread, the picture of what the board will
// say; nil where its size is not known yet.
func (b *Board) prepare(t *told) (draw func() *picture) {
	b.wanted = t
	o := b.order(t)
	return func() *picture {
		if o.px == (image.Point{}) {
			return nil
		}
		return b.brush.draw(o)
	}
}

// show has the board say something else, with the picture that was drawn for it.
func (b *Board) show(t *told, drawn *picture) {
	b.told = t
	if drawn != nil && drawn.of.px == b.shown.of.px {
		b.shown = drawn
	}
	b.raster.Refresh()
}

// order is the picture that is wanted of what is told, at the size of the one that is shown.
func (b *Board) order(t *told) order {
	s := b.Size()
	return order{told: t, px: b.shown.of.px, wide: s.Width, high: max(b.high(), 1), ink: look.Current()}
}

func same(a, b order) bool { return reflect.DeepEqual(a, b) }

// Settled reports whether the next frame shows the last thing that the board was to say.
func (b *Board) Settled() bool { return b.told == b.wanted }

// paint gives the picture for a size in physical pixels; Fyne calls it. One that was drawn
// for another size, or in the colours of another theme, is drawn again at once.
func (b *Board) paint(w, h int) image.Image {
	widgets.Crisp(b.raster)
	o := b.order(b.told)
	o.px = image.Pt(w, h)
	if w > 0 && h > 0 && !same(o, b.shown.of) {
		b.shown = b.brush.draw(o)
	}
	if b.shown.img == nil {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	return b.shown.img
}

// TappedSecondary opens the menu.
func (b *Board) TappedSecondary(e *fyne.PointEvent) { b.menu(e.AbsolutePosition) }

// CreateRenderer makes the board; Fyne calls it.
func (b *Board) CreateRenderer() fyne.WidgetRenderer { return &boardRenderer{b} }

type boardRenderer struct{ b *Board }

func (r *boardRenderer) Destroy()                     {}
func (r *boardRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *boardRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.b.raster} }
func (r *boardRenderer) Layout(size fyne.Size)        { r.b.raster.Resize(size) }

// Refresh draws the board anew where the theme is another one.
func (r *boardRenderer) Refresh() { r.b.raster.Refresh() }
