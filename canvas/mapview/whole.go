package mapview

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/math/f64"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

const (
	// wholeSide is the longer side of the picture of the whole sheet, physical
	// pixels at most.
	wholeSide = 512
	// wholeMin is the least size of the panel, device-independent pixels.
	wholeMin = 120
	// wholeStep is the share of the map area that an arrow key moves the view.
	wholeStep = 0.25
)

// Whole shows the whole sheet, always upright as it lies in the file so that a
// turned view cannot mislead about where a place is on the paper, with a frame
// around what the map area shows. The frame is turned as the view is. Pressing
// or dragging moves the view, and so do the arrow keys while it has the focus.
// The picture is drawn once; a moving view moves the frame alone.
type Whole struct {
	widget.BaseWidget
	m       *MapView
	sheet   *canvas.Raster
	have    *image.RGBA // what sheet shows
	edge    *canvas.Rectangle
	frame   [8]*canvas.Line // four of casing, four of ink
	focus   *canvas.Rectangle
	drawn   *pyramid.Pyramid // what the picture shows
	stale   bool
	drawing bool
	focused bool
}

var (
	_ fyne.Draggable    = (*Whole)(nil)
	_ fyne.Focusable    = (*Whole)(nil)
	_ desktop.Mouseable = (*Whole)(nil)
)

// NewWhole returns the panel that belongs to m. A later one takes its place.
func NewWhole(m *MapView) *Whole {
	w := &Whole{m: m, edge: canvas.NewRectangle(color.Transparent), focus: canvas.NewRectangle(color.Transparent)}
	w.sheet = rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return w.have })
	w.edge.StrokeWidth, w.focus.StrokeWidth = 1, 2
	for i := range w.frame {
		w.frame[i] = canvas.NewLine(color.NRGBA{0xff, 0xff, 0xff, 0xe0})
		w.frame[i].StrokeWidth = 4
		if i >= 4 {
			w.frame[i].StrokeColor, w.frame[i].StrokeWidth = color.NRGBA{0xd5, 0x5e, 0x00, 0xff}, 2
		}
	}
	w.ExtendBaseWidget(w)
	m.whole = w
	w.pictureChanged(0)
	return w
}

// showWhole tells the panel that there is another sheet, or none.
func (m *MapView) showWhole() {
	if m.whole != nil {
		m.whole.pictureChanged(0)
	}
}

// pictureChanged has the picture drawn anew. Levels much finer than the one
// it is drawn from do not matter.
func (w *Whole) pictureChanged(level int) {
	p := w.m.pic
	if p != nil && w.drawn == p && level < w.level(p)-1 {
		return
	}
	w.stale = true
	w.follow(w.m.view)
}

// level is the one whose longer side comes next above wholeSide.
func (w *Whole) level(p *pyramid.Pyramid) int {
	n := 0
	for n+1 < p.Levels() && max(p.LevelSize(n+1).X, p.LevelSize(n+1).Y) >= wholeSide {
		n++
	}
	return n
}

// follow moves the frame to where the view is. It is called with each frame
// of a move and of nothing if there is no panel.
func (w *Whole) follow(v view.View) {
	if w == nil || w.Size().IsZero() || !w.Visible() {
		return
	}
	w.redraw()
	at, size := w.place()
	shown := w.drawn != nil && !v.IsZero()
	setVisible(w.edge, shown)
	for _, n := range w.frame {
		setVisible(n, shown)
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(w)
	if shown {
		place(c, w.sheet, at, size)
		w.placeFrame(v, at, size)
	}
	dirty(c, w.sheet)
}

func setVisible(o fyne.CanvasObject, yes bool) {
	if o.Visible() == yes {
		return
	}
	if yes {
		o.Show()
	} else {
		o.Hide()
	}
}

// placeFrame draws the outline of the map area, kept within the panel.
func (w *Whole) placeFrame(v view.View, at fyne.Position, size fyne.Size) {
	pw, ph := v.Picture()
	vw, vh := v.Viewport()
	k := size.Width / float32(pw)
	kh := size.Height / float32(ph)
	var at4 [4]fyne.Position
	for i, s := range [4]view.ScreenPt{{}, {X: float64(vw)}, {X: float64(vw), Y: float64(vh)}, {Y: float64(vh)}} {
		p := v.ToPicture(s)
		at4[i] = fyne.NewPos(
			min(max(at.X+float32(p.X)*k, 0), w.Size().Width),
			min(max(at.Y+float32(p.Y)*kh, 0), w.Size().Height))
	}
	for i, n := range w.frame {
		n.Position1, n.Position2 = at4[i%4], at4[(i+1)%4]
	}
}

// place is where the sheet lies in the panel: in the middle, as large as it
// fits.
func (w *Whole) place() (fyne.Position, fyne.Size) {
	if w.drawn == nil {
		return fyne.Position{}, fyne.Size{}
	}
	const pad = 2
	s, in := w.drawn.Size(), w.Size()
	k := min((in.Width-2*pad)/float32(s.X), (in.Height-2*pad)/float32(s.Y))
	size := fyne.NewSize(max(k*float32(s.X), 1), max(k*float32(s.Y), 1))
	return fyne.NewPos((in.Width-size.Width)/2, (in.Height-size.Height)/2), size
}

// redraw has the picture drawn in a goroutine if it is out of date.
func (w *Whole) redraw() {
	p := w.m.pic
	if p == nil {
		w.drawn, w.stale = nil, false
		w.set(nil)
		return
	}
	if !w.stale || w.drawing || !p.Ready(w.level(p)) {
		return
	}
	w.stale, w.drawing = false, true
	go func() {
		img := wholePicture(p)
		w.m.later(func() {
			w.drawing = false
			if w.m.pic == p && img != nil {
				w.drawn = p
				w.set(img)
			}
			w.follow(w.m.view)
		})
	}()
}

// set shows another picture.
func (w *Whole) set(img *image.RGBA) {
	if w.have == nil && img == nil {
		return
	}
	w.have = img
	refreshOn(w.m.canvas(), w.sheet)
}

// wholePicture is the sheet at wholeSide, with its look, or nil.
func wholePicture(p *pyramid.Pyramid) *image.RGBA {
	s := p.Size()
	k := float64(wholeSide) / float64(max(s.X, s.Y))
	img := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(k*float64(s.X)))), max(1, int(math.Round(k*float64(s.Y))))))
	x, y := float64(s.X)/float64(img.Rect.Dx()), float64(s.Y)/float64(img.Rect.Dy())
	if p.Region(img, f64.Aff3{x, 0, 0, 0, y, 0}, pyramid.Bilinear) != nil {
		return nil
	}
	return img
}

// look moves the view to what the panel shows at pos, at once.
func (w *Whole) look(pos fyne.Position) {
	at, size := w.place()
	if w.drawn == nil || w.m.pic != w.drawn {
		return
	}
	s := w.drawn.Size()
	w.m.change(func(v view.View) view.View {
		return v.CenterOn(view.PicPt{
			X: min(max(float64((pos.X-at.X)/size.Width), 0), 1) * float64(s.X),
			Y: min(max(float64((pos.Y-at.Y)/size.Height), 0), 1) * float64(s.Y),
		})
	})
}

// MouseDown implements desktop.Mouseable.
func (w *Whole) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(w); c != nil {
		c.Focus(w)
	}
	if e.Button == desktop.MouseButtonPrimary {
		w.look(e.Position)
	}
}

// MouseUp implements desktop.Mouseable.
func (w *Whole) MouseUp(*desktop.MouseEvent) {}

// Dragged implements fyne.Draggable.
func (w *Whole) Dragged(e *fyne.DragEvent) { w.look(e.Position) }

// DragEnd implements fyne.Draggable.
func (w *Whole) DragEnd() {}

// FocusGained implements fyne.Focusable.
func (w *Whole) FocusGained() { w.setFocus(true) }

// FocusLost implements fyne.Focusable.
func (w *Whole) FocusLost() { w.setFocus(false) }

func (w *Whole) setFocus(on bool) {
	w.focused = on
	w.Refresh()
}

// TypedRune implements fyne.Focusable: the map area knows what letters mean.
func (w *Whole) TypedRune(r rune) { w.m.TypedRune(r) }

// TypedKey implements fyne.Focusable: arrows move the view by a quarter of
// the map area; other keys go to the map area.
func (w *Whole) TypedKey(e *fyne.KeyEvent) {
	step := func(dx, dy float64) {
		w.m.change(func(v view.View) view.View {
			vw, vh := v.Viewport()
			return v.PanBy(dx*wholeStep*float64(vw), dy*wholeStep*float64(vh))
		})
	}
	switch e.Name {
	case fyne.KeyLeft:
		step(1, 0)
	case fyne.KeyRight:
		step(-1, 0)
	case fyne.KeyUp:
		step(0, 1)
	case fyne.KeyDown:
		step(0, -1)
	default:
		w.m.TypedKey(e)
	}
}

// CreateRenderer implements fyne.Widget.
func (w *Whole) CreateRenderer() fyne.WidgetRenderer {
	objects := []fyne.CanvasObject{w.sheet, w.edge}
	for _, n := range w.frame {
		objects = append(objects, n)
	}
	r := &wholeRenderer{w, append(objects, w.focus)}
	r.Refresh()
	return r
}

type wholeRenderer struct {
	w       *Whole
	objects []fyne.CanvasObject
}

func (r *wholeRenderer) Destroy()                     {}
func (r *wholeRenderer) MinSize() fyne.Size           { return fyne.NewSize(wholeMin, wholeMin) }
func (r *wholeRenderer) Objects() []fyne.CanvasObject { return r.objects }

func (r *wholeRenderer) Layout(s fyne.Size) {
	r.w.edge.Resize(s)
	r.w.focus.Resize(s)
	r.w.follow(r.w.m.view)
}

func (r *wholeRenderer) Refresh() {
	w := r.w
	w.edge.StrokeColor = theme.Color(theme.ColorNameSeparator)
	w.focus.StrokeColor = color.Transparent
	if w.focused {
		w.focus.StrokeColor = theme.Color(theme.ColorNameFocus)
	}
	w.edge.Refresh()
	w.focus.Refresh()
	w.follow(w.m.view)
}
