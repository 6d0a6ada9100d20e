package mapview

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// zoomStep is the zoom of one key press.
const zoomStep = 1.25

// FocusGained implements fyne.Focusable.
func (m *MapView) FocusGained() {}

// FocusLost implements fyne.Focusable: a held Space is forgotten, and the
// keyboard cursor hidden unless it holds a drag.
func (m *MapView) FocusLost() {
	m.input.space = false
	m.machine.HideCursor()
	m.placeLive()
}

// TypedRune implements fyne.Focusable.
func (m *MapView) TypedRune(r rune) {
	switch r {
	case '+', '=':
		m.ZoomBy(zoomStep)
	case '-', '−':
		m.ZoomBy(1 / zoomStep)
	default:
		if m.cb.OnRune != nil {
			m.cb.OnRune(r)
		}
	}
}

// TypedKey implements fyne.Focusable: arrows move the keyboard cursor, Enter
// presses and releases, Escape cancels.
func (m *MapView) TypedKey(e *fyne.KeyEvent) {
	if m.cb.TakeKey != nil && m.cb.TakeKey(e) {
		return
	}
	if m.pic == nil {
		m.passKey(e)
		return
	}
	m.finish()
	switch e.Name {
	case fyne.KeyLeft:
		m.arrow(-1, 0)
	case fyne.KeyRight:
		m.arrow(1, 0)
	case fyne.KeyUp:
		m.arrow(0, -1)
	case fyne.KeyDown:
		m.arrow(0, 1)
	case fyne.KeyReturn, fyne.KeyEnter:
		if _, on := m.machine.Cursor(); !on && m.cb.OnReturn != nil && m.cb.OnReturn() {
			return
		}
		m.carry(m.machine.CursorPress())
	case fyne.KeyEscape:
		if !m.Cancel() {
			m.passKey(e)
		}
	case fyne.KeyHome:
		m.Fit()
	case fyne.KeyPageUp:
		m.ZoomBy(zoomStep)
	case fyne.KeyPageDown:
		m.ZoomBy(1 / zoomStep)
	default:
		m.passKey(e)
	}
}

// passKey hands on a key that means nothing here.
func (m *MapView) passKey(e *fyne.KeyEvent) {
	if m.cb.OnKey != nil {
		m.cb.OnKey(e)
	}
}

func (m *MapView) arrow(dx, dy int) {
	m.carry(m.machine.CursorMove(dx, dy, shiftHeld()))
}

// shiftHeld asks the driver: key events carry no modifiers.
func shiftHeld() bool {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
}

// KeyDown implements desktop.Keyable: while Space is held, dragging pans.
func (m *MapView) KeyDown(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace {
		m.input.space, m.input.spaceUsed = true, false
	}
}

// KeyUp implements desktop.Keyable: Space pressed and released by itself
// serves as Enter.
func (m *MapView) KeyUp(e *fyne.KeyEvent) {
	if e.Name != fyne.KeySpace {
		return
	}
	m.finish()
	alone := m.input.space && !m.input.spaceUsed
	m.input.space = false
	if alone && m.pic != nil {
		m.carry(m.machine.CursorPress())
	}
}
