// Package aim is the fine aim of the Sheet post: a square enlargement of the
// picture with hairlines, in the panel, on which a crossing is hit to a
// fraction of a pixel. It shows and calls back; it keeps no control points.
package aim

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/math/f64"

	"legwright/app/ui/look"
	"legwright/app/ui/part"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// Zoom is how many units of the window one picture pixel measures here.
const Zoom = 8

// Steps of the arrow keys in picture pixels: alone, and with Shift held.
const (
	FineStep   = 0.1
	CoarseStep = 1.0
)

// Side of the square in units of the window.
const side = 192

// Aim is the enlargement. Arrow keys move the aim by a tenth of a pixel, with
// Shift by one; a click moves it to the place clicked; Return accepts; letters
// go to the reference.
type Aim struct {
	widget.BaseWidget
	source  *pyramid.Pyramid
	at      view.PicPt
	on      bool
	focused bool
	moved   func(view.PicPt)
	accept  func()
	typed   func(rune)
	escape  func()
	raster  *canvas.Raster
	ring    *canvas.Rectangle
}

// New returns an empty aim. moved hears each new place, accept the Return key.
func New(moved func(view.PicPt), accept func()) *Aim {
	a := &Aim{moved: moved, accept: accept}
	a.raster = canvas.NewRaster(a.paint)
	a.ring = canvas.NewRectangle(color.Transparent)
	a.ring.StrokeWidth = 1
	a.ExtendBaseWidget(a)
	return a
}

// Look aims at a place of the picture.
func (a *Aim) Look(source *pyramid.Pyramid, at view.PicPt) {
	a.source, a.at, a.on = source, at, source != nil
	a.Refresh()
}

// Clear shows nothing.
func (a *Aim) Clear() {
	a.on = false
	a.Refresh()
}

// MinSize is a square.
func (a *Aim) MinSize() fyne.Size { return fyne.NewSquareSize(side) }

// CreateRenderer is Fyne's.
func (a *Aim) CreateRenderer() fyne.WidgetRenderer { return &renderer{a} }

type renderer struct{ a *Aim }

func (r *renderer) Destroy()           {}
func (r *renderer) MinSize() fyne.Size { return fyne.NewSquareSize(side) }
func (r *renderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.a.raster, r.a.ring}
}

// Layout keeps the enlargement square and in the middle.
func (r *renderer) Layout(size fyne.Size) {
	s := fyne.NewSquareSize(min(size.Width, size.Height))
	at := fyne.NewPos((size.Width-s.Width)/2, (size.Height-s.Height)/2)
	for _, o := range r.Objects() {
		o.Move(at)
		o.Resize(s)
	}
}

// Refresh paints the enlargement again.
func (r *renderer) Refresh() {
	p := look.Current()
	r.a.ring.StrokeColor = p.Edge
	if r.a.focused {
		r.a.ring.StrokeColor = p.Accent
	}
	r.a.ring.Refresh()
	r.a.raster.Refresh()
}

// paint makes the enlargement of w × h physical pixels.
func (a *Aim) paint(w, h int) image.Image {
	part.Crisp(a.raster)
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	p := look.Current()
	fill(img, img.Bounds(), p.Well)
	if !a.on {
		return img
	}
	step := 1 / a.pixel(w)
	m := f64.Aff3{step, 0, a.at.X - step*float64(w)/2, 0, step, a.at.Y - step*float64(h)/2}
	if err := a.source.Region(img, m, pyramid.Nearest); err != nil {
		return img // the picture was closed under us; the next Look brings another
	}
	hairlines(img, w/2, h/2, p.Accent, p.Well)
	return img
}

// pixel is the number of physical pixels a picture pixel measures, given the
// width of the raster.
func (a *Aim) pixel(w int) float64 {
	dip := float64(a.raster.Size().Width)
	if dip <= 0 {
		dip = side
	}
	return Zoom * float64(w) / dip
}

// hairlines draws a cross with an open middle, cased so that it is seen on
// any ground.
func hairlines(img *image.RGBA, x, y int, line, casing color.Color) {
	b := img.Bounds()
	const open = 5
	for _, c := range []struct {
		wide int
		col  color.Color
	}{{1, casing}, {0, line}} {
		fill(img, image.Rect(0, y-c.wide, x-open, y+1+c.wide), c.col)
		fill(img, image.Rect(x+open+1, y-c.wide, b.Max.X, y+1+c.wide), c.col)
		fill(img, image.Rect(x-c.wide, 0, x+1+c.wide, y-open), c.col)
		fill(img, image.Rect(x-c.wide, y+open+1, x+1+c.wide, b.Max.Y), c.col)
	}
	fill(img, image.Rect(x, y, x+1, y+1), line)
}

func fill(img *image.RGBA, r image.Rectangle, c color.Color) {
	r = r.Intersect(img.Bounds())
	rgba := color.RGBAModel.Convert(c).(color.RGBA)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			img.SetRGBA(x, y, rgba)
		}
	}
}

// Tapped moves the aim to the place clicked.
func (a *Aim) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(a); c != nil {
		c.Focus(a)
	}
	size := a.raster.Size()
	origin := a.raster.Position()
	a.shift(float64(e.Position.X-origin.X-size.Width/2)/Zoom, float64(e.Position.Y-origin.Y-size.Height/2)/Zoom)
}

func (a *Aim) shift(cols, rows float64) {
	if !a.on {
		return
	}
	a.at.X, a.at.Y = a.at.X+cols, a.at.Y+rows
	a.Refresh()
	a.moved(a.at)
}

// FocusGained is Fyne's.
func (a *Aim) FocusGained() { a.focused = true; a.Refresh() }

// FocusLost is Fyne's.
func (a *Aim) FocusLost() { a.focused = false; a.Refresh() }

// OnRune says who hears the letters that are typed while the aim has the
// focus: the field of the reference.
func (a *Aim) OnRune(f func(rune)) { a.typed = f }

// OnEscape says who hears the Escape key while the aim has the focus.
func (a *Aim) OnEscape(f func()) { a.escape = f }

// TypedRune passes letters on.
func (a *Aim) TypedRune(r rune) {
	if a.typed != nil {
		a.typed(r)
	}
}

// TypedKey moves the aim by the arrow keys and accepts with Return.
func (a *Aim) TypedKey(e *fyne.KeyEvent) {
	step := FineStep
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		step = CoarseStep
	}
	switch e.Name {
	case fyne.KeyLeft:
		a.shift(-step, 0)
	case fyne.KeyRight:
		a.shift(step, 0)
	case fyne.KeyUp:
		a.shift(0, -step)
	case fyne.KeyDown:
		a.shift(0, step)
	case fyne.KeyReturn, fyne.KeyEnter:
		a.accept()
	case fyne.KeyEscape:
		if a.escape != nil {
			a.escape()
		}
	}
}
