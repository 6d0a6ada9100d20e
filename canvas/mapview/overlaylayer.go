package mapview

import (
	"image"
	"math"
	"slices"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"golang.org/x/image/math/f64"

	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

const (
	// layerMargin is how far the overlay reaches beyond the map area on each side,
	// device-independent pixels: so far a pan only moves it.
	layerMargin = 192
	// zoomMargin is the margin of overlays that a zoom, or the next key of a row of
	// them, will soon replace: handing an overlay to the graphics side takes as long
	// as painting all the rest.
	zoomMargin = 64
	// zoomGap is the least time between two overlays while the scale changes:
	// between them the last one is stretched.
	zoomGap = 120 * time.Millisecond
	// restGap is how long the sheet must lie still before texts are placed
	// anew for what is seen.
	restGap = 150 * time.Millisecond
)

// order is what an overlay shows. Two that are equal look the same.
type order struct {
	view   view.View
	scene  int // its serial number
	px     float64
	times  float64 // lines, symbols and texts are drawn larger
	margin int     // physical pixels
	turn   bool
	night  bool // texts are light, as the sheet is dark
}

// overlayLayer is the transparent picture of everything committed. It is larger than
// the map area and drawn away from the main thread, so that a pan moves it
// and a zoom stretches it until the next one is ready. While the sheet turns,
// which textures cannot, the sheet itself is drawn into it too.
type overlayLayer struct {
	img     *canvas.Raster
	brush   *overlay.Painter // of the goroutine that draws
	shown   order
	have    *image.RGBA // what img shows
	spare   *image.RGBA
	written overlay.Written // what the text of the line being dragged keeps off, in have
	busy    bool
	armed   bool // a look at a later time is due
	came    time.Time
}

func newOverlayLayer() *overlayLayer {
	f := &overlayLayer{brush: overlay.NewPainter()}
	f.img = rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return f.have })
	return f
}

// order is the overlay that the sheet wants now. After a turn the sheet stays in
// it until its tiles are there.
func (m *MapView) order() order {
	o := order{view: m.view, scene: m.serial, px: m.frame.scale, times: m.larger(), night: m.night(), turn: m.motion.turns() || m.overlayLayer.shown.turn && m.missing > 0}
	if !o.turn {
		o.margin = int(math.Round(layerMargin * o.px))
		if m.passing(o) {
			o.margin = o.zoomMargin()
		}
	}
	return o
}

// night reports whether the sheet is darkened.
func (m *MapView) night() bool { return m.pic != nil && m.pic.Look().Invert }

// larger is how many times larger than usual the overlay is drawn.
func (m *MapView) larger() float64 { return max(m.times, 1) }

// Enlarge draws lines, symbols and texts over the sheet so many times larger than usual,
// at least once: for a group that looks from afar. The sheet stays as it is.
func (m *MapView) Enlarge(times float64) {
	if m.times == times {
		return
	}
	m.times = times
	m.place()
}

// zoomMargin is the margin of an order that will soon be replaced.
func (o order) zoomMargin() int { return int(math.Round(zoomMargin * o.px)) }

// passing says whether an overlay of this order will soon be replaced: the scale
// is changing, or has changed so lately that it may go on; or scenes follow each other,
// as while something is dragged or nudged.
func (m *MapView) passing(o order) bool {
	f := m.overlayLayer
	if f.have == nil || f.shown.turn || m.restsIn() <= 0 {
		return false
	}
	if m.hurried && m.now().Sub(m.sceneAt) < restGap {
		return true
	}
	return o.view.Scale() != f.shown.view.Scale() || o.view == f.shown.view && f.shown.margin == o.zoomMargin()
}

// restsIn is how long it takes, if nothing else changes, until the sheet has lain still for
// long enough.
func (m *MapView) restsIn() time.Duration {
	last := m.movedAt
	if m.hurried && m.sceneAt.After(last) {
		last = m.sceneAt
	}
	return restGap - m.now().Sub(last)
}

// hasOverlay says whether there is anything to show on an overlay.
func (m *MapView) hasOverlay(o order) bool { return o.turn || !m.scene.Empty() }

// redrawOverlay draws the overlay anew if the one shown does not serve, now or when
// it is time for it.
func (m *MapView) redrawOverlay() {
	f, o := m.overlayLayer, m.order()
	if f.busy {
		return
	}
	if m.pic == nil {
		m.showWith()
		return
	}
	if o == f.shown {
		if o.margin == o.zoomMargin() && f.have != nil {
			m.lookAgain(m.restsIn())
		}
		return
	}
	if !m.hasOverlay(o) {
		m.emptyOverlay()
		m.showWith()
		return
	}
	if wait := m.overlayWait(o); wait > 0 {
		m.lookAgain(wait)
		return
	}
	f.busy = true
	scene, pic, with := m.scene, m.pic, m.with
	buf := f.buffer(o)
	go func() {
		show := with.make(func() { o.draw(buf, f.brush, scene, pic) })
		written := f.brush.Written()
		m.later(func() {
			f.busy = false
			if m.pic == pic && m.overlayCame(o, buf, written) {
				m.shown(o, show)
			}
			m.redrawOverlay()
		})
	}()
}

// make runs a function and, at the same time, makes what stands beside a scene.
func (b Beside) make(draw func()) (show func()) {
	if b == nil {
		draw()
		return nil
	}
	var wg sync.WaitGroup
	wg.Go(func() { show = b() })
	draw()
	wg.Wait()
	return show
}

// shown shows what stands beside the scene that an overlay brought into sight.
func (m *MapView) shown(o order, show func()) {
	if show == nil {
		return
	}
	if o.scene == m.serial {
		m.with = nil
	}
	show()
}

// SceneInSight is the serial number of the scene that is seen, 0 for none.
func (m *MapView) SceneInSight() int { return m.overlayLayer.shown.scene }

// showWith shows what stands beside a scene that needs no overlay.
func (m *MapView) showWith() {
	if with := m.with; with != nil {
		m.with = nil
		with()()
	}
}

// emptyOverlay discards the overlay of a sheet that nothing is drawn on any more: kept, it
// would show what was deleted until the next one is drawn.
func (m *MapView) emptyOverlay() {
	f := m.overlayLayer
	turned := f.shown.turn
	f.drop(m.canvas())
	m.endReleased()
	if turned { // tiles were hidden while it turned
		m.placed()
	}
}

// overlayWait is how long the overlay shown can serve in place of another.
func (m *MapView) overlayWait(o order) time.Duration {
	f := m.overlayLayer
	was := f.shown
	v, w := o.view, was.view
	switch {
	case f.have == nil, o.turn != was.turn, o.scene != was.scene, o.px != was.px, o.times != was.times, o.night != was.night, v.Rotation() != w.Rotation():
		return 0
	case v.Scale() != w.Scale():
		return zoomGap - m.now().Sub(f.came)
	}
	if size := o.size(); size != f.have.Rect.Size() {
		return 0
	}
	dx, dy := v.Offset().X-w.Offset().X, v.Offset().Y-w.Offset().Y
	if max(math.Abs(dx), math.Abs(dy)) > float64(o.margin)/2 {
		return 0
	}
	return restGap - m.now().Sub(m.movedAt)
}

// lookAgain comes back to the overlay after a time, once for all who ask.
func (m *MapView) lookAgain(after time.Duration) {
	if m.overlayLayer.armed {
		return
	}
	m.overlayLayer.armed = true
	m.after(after, func() {
		m.overlayLayer.armed = false
		m.redrawOverlay()
	})
}

// size is that of the overlay layer's picture.
func (o order) size() image.Point {
	w, h := o.view.Viewport()
	return image.Pt(w+2*o.margin, h+2*o.margin)
}

// buffer takes the spare picture if it fits.
func (f *overlayLayer) buffer(o order) *image.RGBA {
	b := f.spare
	f.spare = nil
	if size := o.size(); b == nil || b.Rect.Size() != size {
		b = image.NewRGBA(image.Rectangle{Max: size})
	}
	return b
}

// draw is run by one goroutine at a time.
func (o order) draw(buf *image.RGBA, brush *overlay.Painter, s overlay.Scene, pic *pyramid.Pyramid) {
	if o.turn {
		rotatedSheet(buf, o.view, pic)
	} else {
		clear(buf.Pix)
	}
	brush.SetNight(o.night)
	brush.SetHasty(o.margin == o.zoomMargin())
	brush.Onto(buf, o.view.Grown(o.margin), o.px*o.times, s, buf.Rect.Inset(o.margin))
}

// rotatedSheet draws the sheet as v shows it, in two halves. What is not ready
// stays transparent.
func rotatedSheet(buf *image.RGBA, v view.View, pic *pyramid.Pyramid) {
	w, h := buf.Rect.Dx(), buf.Rect.Dy()
	filter := pyramid.Bilinear
	if v.Scale() >= pixelsFrom {
		filter = pyramid.Nearest
	}
	var wg sync.WaitGroup
	for _, rows := range [][2]int{{0, h / 2}, {h / 2, h}} {
		wg.Go(func() {
			part := &image.RGBA{Pix: buf.Pix[rows[0]*buf.Stride : rows[1]*buf.Stride], Stride: buf.Stride, Rect: image.Rect(0, 0, w, rows[1]-rows[0])}
			if part.Rect.Empty() {
				return
			}
			if pic.Region(part, toPicture(v, float64(rows[0])), filter) != nil {
				clear(part.Pix)
			}
		})
	}
	wg.Wait()
}

// toPicture takes screen pixels, counted from a row of the map area, to
// picture pixels.
func toPicture(v view.View, row float64) f64.Aff3 {
	o, x, y := v.ToPicture(view.ScreenPt{Y: row}), v.ToPicture(view.ScreenPt{X: 1, Y: row}), v.ToPicture(view.ScreenPt{Y: row + 1})
	return f64.Aff3{x.X - o.X, y.X - o.X, o.X, x.Y - o.Y, y.Y - o.Y, o.Y}
}

// overlayCame puts an overlay that has been drawn in the place of the last one, unless the
// sheet has been turned otherwise meanwhile.
func (m *MapView) overlayCame(o order, buf *image.RGBA, written overlay.Written) (came bool) {
	f := m.overlayLayer
	if o.turn && !m.motion.on && o.view.Rotation() != m.view.Rotation() {
		f.spare = buf // the turn was broken off
		return false
	}
	first := f.have == nil
	f.spare, f.have, f.shown, f.came = f.have, buf, o, m.now()
	c := m.canvas()
	m.placeOverlay(c)
	refreshOn(c, f.img)
	if m.tileLayer != nil {
		m.tileLayer.charge(len(buf.Pix))
	}
	if o.turn || first {
		m.placed() // tiles are hidden while it turns
	}
	moved := !slices.Equal(f.written.Norths, written.Norths) || !slices.Equal(f.written.Named, written.Named)
	if f.written = written; moved && m.live.shown {
		m.placeLive()
	}
	m.endReleased()
	return true
}

// placeOverlay puts the overlay where its sheet is shown now: moved by whole pixels
// at one scale, stretched at another. One of another turn stays as it was
// drawn.
func (m *MapView) placeOverlay(c fyne.Canvas) {
	f := m.overlayLayer
	if f.have == nil {
		return
	}
	size := f.have.Rect.Size()
	x, y, k := f.corner(m.view)
	x0, y0 := math.Round(x), math.Round(y)
	x1, y1 := math.Round(x+k*float64(size.X)), math.Round(y+k*float64(size.Y))
	place(c, f.img, m.frame.pos(x0, y0), m.frame.extent(x1-x0, y1-y0))
}

// corner is where the corner of the overlay belongs in a view, and how many times larger
// than it was drawn it is shown there.
func (f *overlayLayer) corner(v view.View) (x, y, k float64) {
	w := f.shown.view
	if v.Rotation() != w.Rotation() {
		return -float64(f.shown.margin), -float64(f.shown.margin), 1
	}
	k = v.Scale() / w.Scale()
	at := w.Grown(f.shown.margin).Offset()
	return v.Offset().X - k*at.X, v.Offset().Y - k*at.Y, k
}

// writtenIn is where texts stand as a view shows them, in pixels of the map area.
func (f *overlayLayer) writtenIn(v view.View) overlay.Written {
	if len(f.written.Norths)+len(f.written.Named) == 0 {
		return overlay.Written{}
	}
	x, y, k := f.corner(v)
	at := func(p image.Point) image.Point {
		return image.Pt(int(math.Round(x+k*float64(p.X))), int(math.Round(y+k*float64(p.Y))))
	}
	seen := func(list []image.Rectangle) []image.Rectangle {
		out := make([]image.Rectangle, 0, len(list))
		for _, r := range list {
			out = append(out, image.Rectangle{Min: at(r.Min), Max: at(r.Max)})
		}
		return out
	}
	return overlay.Written{Norths: seen(f.written.Norths), Named: seen(f.written.Named)}
}

// drop discards the pictures of the overlay.
func (f *overlayLayer) drop(c fyne.Canvas) {
	if f.have != nil && c != nil {
		c.Refresh(f.img)
	}
	f.have, f.spare, f.shown, f.written = nil, nil, order{}, overlay.Written{}
}
