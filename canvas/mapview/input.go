package mapview

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/canvas/tool"
	"legwright/canvas/view"
)

const (
	// notch is what the toolkit reports for one notch of the wheel.
	notch = 25
	// notchFactor is the zoom of one notch, mostNotches the most taken from
	// one event: fast wheels are reported a hundredfold.
	notchFactor = 1.25
	mostNotches = 3
)

// input is what events leave behind for later ones.
type input struct {
	last      view.ScreenPt // the pointer
	held      tool.Button   // pressed and not yet released
	space     bool          // Space is down
	spaceUsed bool          // and has served a drag
	abs       fyne.Position // of the latest press, for menus

	zoomAt  view.ScreenPt // where the wheel turned last
	zoomPic view.PicPt    // and what stood there
	zoomed  view.View     // and what came of it
}

// MouseDown implements desktop.Mouseable.
func (m *MapView) MouseDown(e *desktop.MouseEvent) {
	if c := m.canvas(); c != nil && c.Focused() != fyne.Focusable(m) {
		c.Focus(m)
	}
	if m.pic == nil {
		return
	}
	m.halt()
	m.input.abs = e.AbsolutePosition
	at := m.track(e.AbsolutePosition, e.Position)
	b := buttonOf(e.Button)
	if m.input.held == tool.NoButton {
		m.input.held = b
	}
	m.input.spaceUsed = m.input.spaceUsed || m.input.space
	m.carry(m.machine.Press(tool.Pointer{At: at, Button: b, Space: m.input.space, Time: time.Now()}))
}

// MouseUp implements desktop.Mouseable.
func (m *MapView) MouseUp(e *desktop.MouseEvent) {
	m.letGo(m.track(e.AbsolutePosition, e.Position), buttonOf(e.Button))
}

// Dragged implements fyne.Draggable. Drags go on outside the widget.
func (m *MapView) Dragged(e *fyne.DragEvent) {
	m.moved(m.track(e.AbsolutePosition, e.Position))
}

// DragEnd implements fyne.Draggable: a release over another widget may reach
// us in no other way.
func (m *MapView) DragEnd() { m.letGo(m.input.last, m.input.held) }

// Tapped implements fyne.Tappable; clicks are taken from presses, so that
// they need not wait. It keeps taps from falling through to what lies below.
func (m *MapView) Tapped(*fyne.PointEvent) {}

func (m *MapView) letGo(at view.ScreenPt, b tool.Button) {
	if b == tool.NoButton || m.pic == nil {
		return
	}
	if b == m.input.held {
		m.input.held = tool.NoButton
	}
	m.carry(m.machine.Release(tool.Pointer{At: at, Button: b, Time: time.Now()}))
}

// MouseIn implements desktop.Hoverable.
func (m *MapView) MouseIn(e *desktop.MouseEvent) { m.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (m *MapView) MouseMoved(e *desktop.MouseEvent) {
	m.moved(m.track(e.AbsolutePosition, e.Position))
}

// MouseOut implements desktop.Hoverable.
func (m *MapView) MouseOut() {
	if m.cb.OnHover != nil {
		m.cb.OnHover(tool.Spot{}, false)
	}
}

func (m *MapView) moved(at view.ScreenPt) {
	if m.pic == nil {
		return
	}
	if m.input.held == tool.NoButton {
		m.machine.HideCursor()
	}
	m.carry(m.machine.Move(tool.Pointer{At: at, Space: m.input.space}))
}

// track turns an event's position into physical pixels and remembers it.
func (m *MapView) track(abs, pos fyne.Position) view.ScreenPt {
	m.input.last = m.frame.point(abs, pos)
	return m.input.last
}

// Scrolled implements fyne.Scrollable: the wheel zooms at the pointer.
func (m *MapView) Scrolled(e *fyne.ScrollEvent) {
	if m.pic == nil {
		return
	}
	m.halt()
	at := m.frame.point(e.AbsolutePosition, e.Position)
	if at != m.input.zoomAt || m.view != m.input.zoomed {
		m.input.zoomAt, m.input.zoomPic = at, m.view.ToPicture(at)
	}
	n := min(max(float64(e.Scrolled.DY)/notch, -mostNotches), mostNotches)
	m.setView(m.view.ZoomAbout(m.input.zoomPic, at, math.Pow(notchFactor, n)))
	m.input.zoomed = m.view
}

// Cursor implements desktop.Cursorable.
func (m *MapView) Cursor() desktop.Cursor {
	switch {
	case m.pic == nil:
		return desktop.DefaultCursor
	case m.machine.Panning() || m.input.space:
		return desktop.PointerCursor
	case m.machine.Kind() == tool.Sight || m.machine.Kind() == tool.Calibrate:
		return desktop.CrosshairCursor
	case m.machine.Kind() == tool.Pan:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

func buttonOf(b desktop.MouseButton) tool.Button {
	switch b {
	case desktop.MouseButtonPrimary:
		return tool.Left
	case desktop.MouseButtonTertiary:
		return tool.Middle
	case desktop.MouseButtonSecondary:
		return tool.Right
	}
	return tool.NoButton
}
