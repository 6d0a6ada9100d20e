package mapview

import (
	"image"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// Callbacks tell the owner of a MapView what a person means. Any may be nil.
// All are called on the main thread, in the middle of an event: what they do
// counts against the frame.
type Callbacks struct {
	OnLive        func(from, to tool.Spot)              // a bearing is being dragged
	OnRelease     func(from, to tool.Spot)              // the bearing was let go: offer to keep it
	OnCancel      func()                                // what was dragged is let go without effect
	OnClick       func(at tool.Spot, double bool)       // at.Target is what was hit
	OnSecondary   func(at tool.Spot, pos fyne.Position) // right click; pos on the canvas, for a menu
	OnMove        func(what, to tool.Spot, done bool)   // a thing is dragged, or was dropped if done
	OnHover       func(at tool.Spot, inside bool)       // the pointer or keyboard cursor; not inside: it left
	OnViewChanged func(view.View)
	OnRune        func(rune)           // a letter that means nothing here
	OnKey         func(*fyne.KeyEvent) // a key that means nothing here
}

// MapView is the widget. Make it with New.
type MapView struct {
	widget.BaseWidget
	cb Callbacks

	pic     *pyramid.Pyramid
	view    view.View
	frame   frame
	fitted  view.View // the latest view that came of fitting
	stage   *stage
	turn    float64 // the turn of the stage's source
	missing int
	pending atomic.Bool  // a report of workers is on its way to the main thread
	later   func(func()) // runs a function on the main thread: fyne.Do

	scene    overlay.Scene
	painter  *overlay.Painter
	machine  *tool.Machine
	live     live
	carrying bool // intents are being carried out: live things are placed after
	input    input

	ground  *canvas.Rectangle
	layer   *fyne.Container // tiles, overlay, live things, from below
	still   int             // how many of them are not live
	overlay *canvas.Raster
	stats   Stats
}

var (
	_ fyne.Draggable     = (*MapView)(nil)
	_ fyne.Scrollable    = (*MapView)(nil)
	_ fyne.Focusable     = (*MapView)(nil)
	_ fyne.Tappable      = (*MapView)(nil)
	_ desktop.Mouseable  = (*MapView)(nil)
	_ desktop.Hoverable  = (*MapView)(nil)
	_ desktop.Keyable    = (*MapView)(nil)
	_ desktop.Cursorable = (*MapView)(nil)
)

// New returns an empty map area.
func New(cb Callbacks) *MapView {
	m := &MapView{cb: cb, machine: tool.New(), painter: overlay.NewPainter(), later: fyne.Do}
	m.ground = canvas.NewRectangle(nil)
	m.layer = &fyne.Container{}
	m.overlay = canvas.NewRaster(m.paintOverlay)
	m.overlay.ScaleMode = canvas.ImageScalePixels
	m.live.init()
	m.ExtendBaseWidget(m)
	return m
}

// RunLater says who runs on the main thread what workers bring back, in place
// of fyne.Do. Tests without a main loop need it.
func (m *MapView) RunLater(later func(func())) { m.later = later }

// SetPicture shows a sheet, fitted; nil empties the map area. The pyramid
// stays the caller's to close, after another picture has been set.
func (m *MapView) SetPicture(p *pyramid.Pyramid) {
	m.carry(m.machine.Cancel())
	m.closeStage()
	m.pic, m.view = p, view.View{}
	m.live.hide()
	if p != nil {
		m.frame = m.measure()
		w, h := m.frame.pixels()
		m.fitted = view.New(p.Size().X, p.Size().Y, w, h)
		m.setView(m.fitted)
		return
	}
	m.machine.SetView(m.view, m.frame.scale)
	m.place()
}

func (m *MapView) closeStage() {
	if m.stage != nil {
		m.stage.close(m.canvas())
		m.stage = nil
	}
}

func (m *MapView) canvas() fyne.Canvas { return fyne.CurrentApp().Driver().CanvasForObject(m) }

// SetScene shows what is committed.
func (m *MapView) SetScene(s overlay.Scene) {
	m.scene = s
	m.machine.SetGround(newGround(s, &m.view))
	m.overlay.Refresh()
}

// SetTool changes the tool in hand; what was being dragged is cancelled.
func (m *MapView) SetTool(k tool.Kind) { m.carry(m.machine.SetKind(k)) }

// Tool is the tool in hand.
func (m *MapView) Tool() tool.Kind { return m.machine.Kind() }

// Cancel lets go of what is being dragged, as Escape does, and says whether
// there was anything.
func (m *MapView) Cancel() bool {
	busy := m.machine.Busy()
	m.carry(m.machine.Cancel())
	return busy
}

// relayout takes note of a new size, scale or place in the window. A sheet
// that was fitted and not moved since is fitted again.
func (m *MapView) relayout() {
	f := m.measure()
	if f == m.frame {
		return
	}
	m.frame = f
	m.overlay.Refresh() // and look through the glass again
	if m.pic == nil {
		m.place()
		return
	}
	before := m.view
	if w, h := f.pixels(); m.view == m.fitted {
		m.fitted = m.view.WithViewport(w, h).Fit()
		m.setView(m.fitted)
	} else {
		m.setView(m.view.WithViewport(w, h))
	}
	if m.view == before {
		m.place()
	}
}

// place puts the tiles and the overlay where the view wants them.
func (m *MapView) place() {
	defer m.stats.time(&m.stats.Place, time.Now())
	c := m.canvas()
	m.ground.Resize(m.Size())
	var objects []fyne.CanvasObject
	m.missing = 0
	if m.pic != nil {
		m.restage(c)
		objects, m.missing = m.stage.show(c, m.frame, m.view, m.tilesCame)
		w, h := m.view.Viewport()
		m.overlay.Move(m.frame.pos(0, 0))
		m.overlay.Resize(m.frame.extent(float64(w), float64(h)))
		objects = append(objects, m.overlay)
	}
	m.layer.Objects, m.still = objects, len(objects)
	m.placeLive()
	dirty(c, m.layer)
}

// restage opens the source that fits the view's turn.
func (m *MapView) restage(c fyne.Canvas) {
	if m.stage != nil && m.turn == m.view.Rotation() {
		return
	}
	if m.stage != nil {
		m.stage.close(c)
	}
	m.turn = m.view.Rotation()
	if m.turn == 0 {
		m.stage = newStage(straight{m.pic}, m.pic)
		return
	}
	t := newTurned(m.pic, m.turn)
	m.stage = newStage(t, m.pic)
	t.cutNow(m.stage.kept)
}

// tilesCame is called from workers; several reports make one placement.
func (m *MapView) tilesCame() {
	if m.pending.CompareAndSwap(false, true) {
		m.later(func() {
			m.pending.Store(false)
			m.place()
		})
	}
}

// Missing is how many tiles of what is shown are not there yet.
func (m *MapView) Missing() int { return m.missing }

// paintOverlay is called when a frame is painted after the overlay was
// refreshed.
func (m *MapView) paintOverlay(w, h int) image.Image {
	defer m.stats.time(&m.stats.Overlay, time.Now())
	if winW, winH, ok := windowPixels(); ok {
		m.frame.glass = glassOf(m.canvas(), m.frame.scale, winW, winH)
	}
	m.stats.Redraws++
	return m.painter.Paint(w, h, m.view, m.frame.scale, m.scene)
}
