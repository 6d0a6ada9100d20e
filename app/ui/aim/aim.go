// Package aim is the fine aim of the Sheet panel: a square enlargement of the
// picture with hairlines, by which a grid intersection is hit to a fraction of a
// pixel. It shows and calls back; it keeps no control points.
package aim

import (
	"image"
	"image/color"
	"image/draw"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/math/f64"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// Zoom is how many units of the window one picture pixel measures here, alone and
// beside another sheet's picture.
const (
	Zoom       = 8
	ZoomBeside = 2
)

// Steps of the arrow keys in picture pixels: alone, with Shift and with Alt held.
const (
	FineStep   = 0.1
	CoarseStep = 1.0
	FarStep    = 10.0
)

// Help says how the enlargement is worked.
const Help = "Click a point to centre it.  Arrow keys move 0.1 pixel, with Shift 1, with Alt 10.  Return goes to the reference."

// Sides of the square in units of the window, alone and beside another.
const (
	side       = 192
	sideBeside = 146
)

// Aim is the enlargement. Arrow keys move the aim by a tenth of a pixel, with Shift by
// one, with Alt by ten; a click moves it to where it hits; Return accepts; letters go
// to the reference.
type Aim struct {
	widget.BaseWidget
	source  *pyramid.Pyramid
	at      view.PicPt
	on      bool
	focused bool
	shared  bool // another sheet's picture stands beside
	low     bool // the window has little height
	moved   func(view.PicPt)
	accept  func()
	typed   func(rune)
	escape  func()
	hint    func(string)
	raster  *canvas.Raster
	ring    *canvas.Rectangle
}

// New returns an empty aim. moved hears each new position, accept the Return key.
func New(moved func(view.PicPt), accept func()) *Aim {
	a := &Aim{moved: moved, accept: accept, hint: func(string) {}}
	a.raster = canvas.NewRaster(a.paint)
	a.ring = canvas.NewRectangle(color.Transparent)
	a.ring.StrokeWidth = 1
	a.ExtendBaseWidget(a)
	return a
}

// Look aims at a position of the picture.
func (a *Aim) Look(source *pyramid.Pyramid, at view.PicPt) {
	if a.on && a.source == source && a.at == at {
		return
	}
	a.source, a.at, a.on = source, at, source != nil
	a.Refresh()
}

// Clear shows nothing.
func (a *Aim) Clear() {
	if !a.on {
		return
	}
	a.on = false
	a.Refresh()
}

// Share makes room beside the enlargement for another sheet's picture, and shows more
// ground in it; off ends that.
func (a *Aim) Share(on bool) {
	if a.shared != on {
		a.shared = on
		a.Refresh()
	}
}

// Low makes the enlargement smaller where the window has little height.
func (a *Aim) Low(low bool) {
	if a.low != low {
		a.low = low
		a.Refresh()
	}
}

// Shared reports whether another sheet's picture stands beside.
func (a *Aim) Shared() bool { return a.shared }

func (a *Aim) zoom() float64 {
	if a.shared {
		return ZoomBeside
	}
	return Zoom
}

// MinSize is a square.
func (a *Aim) MinSize() fyne.Size {
	if a.shared || a.low {
		return fyne.NewSquareSize(sideBeside)
	}
	return fyne.NewSquareSize(side)
}

// CreateRenderer is Fyne's.
func (a *Aim) CreateRenderer() fyne.WidgetRenderer { return &renderer{a} }

type renderer struct{ a *Aim }

func (r *renderer) Destroy()           {}
func (r *renderer) MinSize() fyne.Size { return r.a.MinSize() }
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
	r.a.ring.StrokeColor = p[look.Edge]
	if r.a.focused {
		r.a.ring.StrokeColor = p[look.Accent]
	}
	r.a.ring.Refresh()
	r.a.raster.Refresh()
}

// paint makes the enlargement of w × h physical pixels.
func (a *Aim) paint(w, h int) image.Image {
	widgets.Crisp(a.raster)
	if !a.on {
		return enlarged(w, h, nil, f64.Aff3{}, pyramid.Nearest)
	}
	step := 1 / (a.zoom() * density(a.raster, w))
	return enlarged(w, h, a.source, Around([4]float64{1, 0, 0, 1}, step, a.at, w, h), pyramid.Nearest)
}

// density is how many physical pixels a unit of the window measures, given the width
// of the raster.
func density(r *canvas.Raster, w int) float64 {
	if dip := float64(r.Size().Width); dip > 0 {
		return float64(w) / dip
	}
	return 1
}

// enlarged is a part of a picture with hairlines over it; without a source, or once
// that is closed, nothing is in it.
func enlarged(w, h int, source *pyramid.Pyramid, m f64.Aff3, f pyramid.Filter) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	p := look.Current()
	if source == nil || source.Region(img, m, f) != nil {
		fill(img, img.Bounds(), p[look.Well])
		return img
	}
	hairlines(img, w/2, h/2, p[look.Accent], p[look.Well])
	return img
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
	draw.Draw(img, r, image.NewUniform(c), image.Point{}, draw.Src)
}

// Tapped moves the aim to where it is clicked.
func (a *Aim) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(a); c != nil {
		c.Focus(a)
	}
	size := a.raster.Size()
	origin := a.raster.Position()
	a.shift(float64(e.Position.X-origin.X-size.Width/2)/a.zoom(), float64(e.Position.Y-origin.Y-size.Height/2)/a.zoom())
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
func (a *Aim) FocusGained() { a.focused = true; a.hint(Help); a.Refresh() }

// FocusLost is Fyne's.
func (a *Aim) FocusLost() { a.focused = false; a.hint(""); a.Refresh() }

// MouseIn says how the enlargement is worked; Fyne calls it.
func (a *Aim) MouseIn(*desktop.MouseEvent) { a.hint(Help) }

// MouseMoved is part of desktop.Hoverable and does nothing.
func (a *Aim) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began.
func (a *Aim) MouseOut() { a.hint("") }

// OnHint says who hears how the enlargement is worked, while the pointer or the
// keyboard is on it.
func (a *Aim) OnHint(f func(string)) { a.hint = f }

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
	step := a.step()
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

// step is how far an arrow key moves the aim, in picture pixels.
func (a *Aim) step() float64 {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	switch {
	case !ok:
	case d.CurrentKeyModifiers()&fyne.KeyModifierAlt != 0:
		return FarStep
	case d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0:
		return CoarseStep
	}
	return FineStep
}
