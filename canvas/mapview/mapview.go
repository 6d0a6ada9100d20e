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
	OnRelease     func(from, to tool.Spot)              // the bearing was released: offer to keep it
	OnCancel      func()                                // a drag ended without effect
	OnClick       func(at tool.Spot, double bool)       // at.Target is what was hit
	OnSecondary   func(at tool.Spot, pos fyne.Position) // right click; pos on the canvas, for a menu
	OnMove        func(what, to tool.Spot, done bool)   // a thing is dragged, or was dropped if done
	OnHover       func(at tool.Spot, inside bool)       // the pointer or keyboard cursor; not inside: it left
	OnViewChanged func(view.View)
	TakeKey       func(*fyne.KeyEvent) bool // any key, first of all; true: it is taken
	OnReturn      func() bool               // Return with no keyboard cursor shown; true: it is taken
	OnRune        func(rune)                // a letter that means nothing here
	OnKey         func(*fyne.KeyEvent)      // a key that means nothing here
}

// MapView is the widget. Make it with New.
type MapView struct {
	widget.BaseWidget
	cb Callbacks

	pic       *pyramid.Pyramid
	view      view.View
	frame     frame
	fitted    view.View // the latest view that came of fitting
	motion    motion
	movedAt   time.Time // when the view changed last
	sceneAt   time.Time // when the scene changed last
	hurried   bool      // the scene before that one had not stood for long
	velocity  velocity
	tileLayer *tileLayer
	turn      float64             // the turn of the tile layer's source
	tiles     []fyne.CanvasObject // of the tile layer, from below
	missing   int
	pending   atomic.Bool // a report of workers is on its way to the main thread
	whole     *Whole      // shows where the view is; may be nil

	later func(func())                // runs a function on the main thread: fyne.Do
	pace  pacer                       // of moves
	now   func() time.Time            // the clock of movements
	after func(time.Duration, func()) // runs a function later, on the main thread

	scene        overlay.Scene
	serial       int              // of the scene
	with         Beside           // waits for the scene to come into sight; may be nil
	times        float64          // larger than usual it is drawn; see Enlarge
	overlayLayer *overlayLayer    // shows it
	painter      *overlay.Painter // of what is dragged
	machine      *tool.Machine
	live         live
	carrying     bool // intents are being carried out: live things are placed after
	input        input

	on        fyne.Canvas // where it lay last
	ground    *canvas.Rectangle
	layer     *fyne.Container // tiles, overlay, live things, from below
	still     int             // how many of them are not live
	sizeProbe *canvas.Raster  // painted once to measure the paint offset
	sizeKnown bool
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
	m := &MapView{cb: cb, machine: tool.New(), painter: overlay.NewPainter(), overlayLayer: newOverlayLayer(), later: fyne.Do, pace: byAnimation, now: time.Now}
	m.after = func(d time.Duration, f func()) { time.AfterFunc(d, func() { m.later(f) }) }
	m.ground = canvas.NewRectangle(nil)
	m.layer = &fyne.Container{}
	m.sizeProbe = canvas.NewRaster(m.probeSize)
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
	m.halt()
	m.carry(m.machine.Cancel())
	m.closeTiles()
	m.overlayLayer.drop(m.canvas())
	m.pic, m.view, m.velocity = p, view.View{}, velocity{}
	m.live.hide()
	defer m.showWhole()
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

func (m *MapView) closeTiles() {
	if m.tileLayer != nil {
		m.tileLayer.close(m.canvas())
		m.tileLayer, m.tiles = nil, nil
	}
}

// canvas is where the widget lies, nil before it has been shown.
func (m *MapView) canvas() fyne.Canvas {
	if c := fyne.CurrentApp().Driver().CanvasForObject(m); c != nil {
		m.on = c // the toolkit forgets it from time to time
	}
	return m.on
}

// Beside makes, away from the main thread, what must change in one step with a scene. What
// it returns shows that, on the main thread.
type Beside func() (show func())

// SetScene shows what is committed.
func (m *MapView) SetScene(s overlay.Scene) { m.SetSceneWith(s, nil) }

// SetSceneWith shows what is committed, and in the same step what stands beside it. A scene
// that another one follows before it comes into sight is not shown, nor is what it came with.
func (m *MapView) SetSceneWith(s overlay.Scene, with Beside) {
	m.scene, m.with = s, with
	m.serial++
	m.sceneAt, m.hurried = m.now(), m.now().Sub(m.sceneAt) < restGap
	m.machine.SetGround(newGround(s, &m.view))
	m.place() // the overlay may be the first, or the last
}

// SetTool changes the tool in hand; what was being dragged is cancelled.
func (m *MapView) SetTool(k tool.Kind) { m.carry(m.machine.SetKind(k)) }

// Tool is the tool in hand.
func (m *MapView) Tool() tool.Kind { return m.machine.Kind() }

// Cancel ends a drag without effect, as Escape does, and says whether
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
	m.finish()
	m.frame = f
	m.sizeKnown = false
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

// place puts everything where the view wants it, and asks for what is missing.
func (m *MapView) place() {
	m.placed()
	m.redrawOverlay()
}

// placed puts the tiles and the overlay where the view wants them. While the
// sheet turns, tiles stay as they are until the overlay shows the sheet itself.
func (m *MapView) placed() {
	c := m.canvas()
	m.ground.Resize(m.Size())
	m.missing = 0
	objects := m.layer.Objects[:0]
	if m.pic != nil {
		if m.motion.turns() {
			m.missing = 1
			if m.overlayLayer.shown.turn {
				m.tiles = m.tiles[:0]
			}
		} else {
			m.retile(c)
			m.tiles, m.missing = m.tileLayer.show(m.tiles[:0], c, m.frame, m.view, m.velocityNow(), m.tilesCame)
			if m.tileLayer.held {
				m.after(freshTime, m.tilesCame)
			}
		}
		objects = append(objects, m.tiles...)
		if m.overlayLayer.have != nil && (m.overlayLayer.shown.turn || m.hasOverlay(m.order())) {
			m.placeOverlay(c)
			objects = append(objects, m.overlayLayer.img)
		}
	}
	if !m.sizeKnown && m.pic != nil {
		m.sizeProbe.Resize(fyne.NewSize(1, 1))
		objects = append(objects, m.sizeProbe)
	}
	m.layer.Objects, m.still = objects, len(objects)
	m.placeLive()
	m.whole.follow(m.view)
	dirty(c, m.layer)
}

// retile opens the source that fits the view's turn. Unless the overlay shows
// the sheet meanwhile, coarse tiles are cut at once.
func (m *MapView) retile(c fyne.Canvas) {
	if m.tileLayer != nil && m.turn == m.view.Rotation() {
		return
	}
	if m.tileLayer != nil {
		m.tileLayer.close(c)
	}
	m.turn = m.view.Rotation()
	if m.turn == 0 {
		m.tileLayer = newTileLayer(uprightTiles{m.pic, m.pic.Asker()}, m.pic, m.now)
		return
	}
	t := newRotatedTiles(m.pic, m.turn)
	m.tileLayer = newTileLayer(t, m.pic, m.now)
	if !m.overlayLayer.shown.turn {
		t.cutNow(m.tileLayer.kept)
	}
}

// PictureChanged says that a level of the picture looks otherwise than
// before, as Options.OnChange of a pyramid tells. What is on screen stays
// until what replaces it is there.
func (m *MapView) PictureChanged(level int) {
	if m.pic == nil || m.tileLayer == nil {
		return
	}
	m.tileLayer.change(level)
	if m.overlayLayer.shown.turn {
		m.serial++
	}
	if m.whole != nil {
		m.whole.pictureChanged(level)
	}
	m.missing = max(m.missing, 1) // until the next placement has counted them
	m.tilesCame()
}

// tilesCame is called from workers; several reports make one placement. Where
// nothing in sight is missing they were made ahead, and nothing is painted.
func (m *MapView) tilesCame() {
	if m.pending.CompareAndSwap(false, true) {
		m.later(func() {
			m.pending.Store(false)
			if m.missing > 0 {
				m.place()
			}
		})
	}
}

// Missing is how many tiles of what is shown are not there yet.
func (m *MapView) Missing() int { return m.missing }

// Settled says whether everything is shown as it will stay: all tiles, the
// overlay, no move under way.
func (m *MapView) Settled() bool {
	if m.pic == nil {
		return true
	}
	o := m.order()
	stays := o == m.overlayLayer.shown && o.margin != o.zoomMargin()
	return m.missing == 0 && !m.motion.on && !m.overlayLayer.busy && (stays || !m.hasOverlay(o) && !m.overlayLayer.shown.turn)
}

// probeSize is called when a frame is painted for the first time at a size:
// only then is the window's own size known.
func (m *MapView) probeSize(int, int) image.Image {
	if winW, winH, ok := windowPixels(); ok {
		m.frame.paintOffset = paintOffsetOf(m.canvas(), m.frame.scale, winW, winH)
	}
	m.sizeKnown = true
	return image.NewRGBA(image.Rect(0, 0, 1, 1))
}
