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

// Board shows the dial and the figures of a lesson as one picture. It is drawn beside the
// main thread, so that a line dragged on the bench stays quick.
type Board struct {
	widget.BaseWidget
	raster *canvas.Raster
	later  func(func())
	high   func() float32         // of the window
	menu   func(at fyne.Position) // opens the menu of the window

	told  *told
	brush *brush
	shown *picture
	busy  bool
}

func newBoard(later func(func()), high func() float32) *Board {
	b := &Board{later: later, high: high, told: &told{}, brush: &brush{}, shown: &picture{}}
	b.raster = canvas.NewRaster(b.paint)
	b.ExtendBaseWidget(b)
	return b
}

// Written returns what stands on the board.
func (b *Board) Written() []Written { return b.shown.page.words }

// Face returns the side of the dial's face in units of the window, 0 for none.
func (b *Board) Face() float32 { return b.shown.page.side }

// tell has the board say something else.
func (b *Board) tell(t told) {
	b.told = &t
	b.follow()
}

// order is the picture that is wanted now, at the size of the one that is shown.
func (b *Board) order() order {
	s := b.Size()
	return order{told: b.told, px: b.shown.of.px, wide: s.Width, high: max(b.high(), 1), ink: look.Current()}
}

func same(a, b order) bool { return reflect.DeepEqual(a, b) }

// follow draws what is wanted in a goroutine, unless it is shown already.
func (b *Board) follow() {
	o := b.order()
	if b.busy || o.px == (image.Point{}) || same(o, b.shown.of) {
		return
	}
	b.busy = true
	go func() {
		p := b.brush.draw(o)
		b.later(func() {
			b.busy = false
			if o.px == b.shown.of.px { // else another size has been drawn meanwhile
				b.shown = p
				b.raster.Refresh()
			}
			b.follow()
		})
	}()
}

// Settled reports whether the board shows the last order.
func (b *Board) Settled() bool { return !b.busy && same(b.order(), b.shown.of) }

// paint gives the picture for a size in physical pixels; Fyne calls it. At another size it
// is drawn at once, for it must not be seen stretched.
func (b *Board) paint(w, h int) image.Image {
	widgets.Crisp(b.raster)
	o, was := b.order(), b.shown.of
	o.px = image.Pt(w, h)
	if w > 0 && h > 0 && (o.px != was.px || o.ink != was.ink || o.wide != was.wide || o.high != was.high) {
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
func (r *boardRenderer) Refresh() { r.b.follow() }
