package aim

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/math/f64"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// Beside shows a position of another sheet's picture under hairlines, turned and scaled
// to the picture that is aimed at.
type Beside struct {
	widget.BaseWidget
	source *pyramid.Pyramid
	turn   [4]float64
	at     view.PicPt
	raster *canvas.Raster
	ring   *canvas.Rectangle
}

// NewBeside returns an empty one.
func NewBeside() *Beside {
	b := &Beside{}
	b.raster = canvas.NewRaster(b.paint)
	b.ring = canvas.NewRectangle(color.Transparent)
	b.ring.StrokeWidth = 1
	b.ExtendBaseWidget(b)
	return b
}

// Look shows a position of a picture; nil is nothing. turn takes a displacement in pixels
// of the picture aimed at to one of this picture, row by row.
func (b *Beside) Look(source *pyramid.Pyramid, turn [4]float64, at view.PicPt) {
	b.source, b.turn, b.at = source, turn, at
	b.Refresh()
}

// MinSize is a square.
func (b *Beside) MinSize() fyne.Size { return fyne.NewSquareSize(sideBeside) }

// CreateRenderer is Fyne's.
func (b *Beside) CreateRenderer() fyne.WidgetRenderer { return &besideRenderer{b} }

type besideRenderer struct{ b *Beside }

func (r *besideRenderer) Destroy()           {}
func (r *besideRenderer) MinSize() fyne.Size { return r.b.MinSize() }
func (r *besideRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.b.raster, r.b.ring}
}

// Layout fills the room.
func (r *besideRenderer) Layout(size fyne.Size) {
	for _, o := range r.Objects() {
		o.Resize(size)
	}
}

// Refresh paints the picture again.
func (r *besideRenderer) Refresh() {
	r.b.ring.StrokeColor = look.Current()[look.Edge]
	r.b.ring.Refresh()
	r.b.raster.Refresh()
}

func (b *Beside) paint(w, h int) image.Image {
	widgets.Crisp(b.raster)
	step := 1 / (ZoomBeside * density(b.raster, w))
	m := Around(b.turn, step, b.at, w, h)
	return enlarged(w, h, b.source, m, pyramid.Nearest)
}

// Around is the transform from a picture of w × h pixels, each of which stands for step
// pixels of the picture aimed at, to this picture, with at in the middle.
func Around(turn [4]float64, step float64, at view.PicPt, w, h int) f64.Aff3 {
	a, b, c, d := step*turn[0], step*turn[1], step*turn[2], step*turn[3]
	x, y := float64(w)/2, float64(h)/2
	return f64.Aff3{a, b, at.X - a*x - b*y, c, d, at.Y - c*x - d*y}
}
