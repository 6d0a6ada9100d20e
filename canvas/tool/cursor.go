package tool

import "legwright/canvas/view"

const (
	// step and longStep are how far, in screen pixels, the arrows move the
	// keyboard cursor.
	step     = 1
	longStep = 10
	// rim is how near the edge, in device-independent pixels, the cursor may
	// come before the sheet moves under it.
	rim = 24
)

// cursor is the keyboard's stand-in for the pointer. It stands on the sheet,
// so that it stays with a feature while the view changes.
type cursor struct {
	at   view.PicPt
	on   bool // shown
	down bool // holds a drag
}

// Cursor is where the keyboard cursor stands, and whether it is in use.
func (m *Machine) Cursor() (at view.PicPt, on bool) { return m.cursor.at, m.cursor.on }

// HideCursor ends the use of the keyboard cursor unless it holds a drag.
func (m *Machine) HideCursor() {
	if !m.cursor.down {
		m.cursor.on = false
	}
}

// CursorMove moves the keyboard cursor by dx, dy steps of one screen pixel,
// or ten if long, and says what that means. The first use brings it to where
// the pointer was last, or to the middle of what is shown.
func (m *Machine) CursorMove(dx, dy int, long bool) []Intent {
	m.showCursor()
	n := step
	if long {
		n = longStep
	}
	s := m.view.ToScreen(m.cursor.at).Add(float64(dx*n), float64(dy*n))
	m.cursor.at = m.view.ToPicture(s)
	out := m.move(Pointer{At: s})
	if pan, needed := m.follow(s); needed {
		out = append(out, pan)
	}
	return out
}

func (m *Machine) showCursor() {
	if m.cursor.on {
		return
	}
	s := m.view.Middle()
	if m.seen && m.inside(m.last, 0) {
		s = m.last
	}
	m.cursor.at, m.cursor.on = m.view.ToPicture(s), true
}

func (m *Machine) inside(s view.ScreenPt, margin float64) bool {
	w, h := m.view.Viewport()
	return s.X >= margin && s.Y >= margin && s.X <= float64(w)-margin && s.Y <= float64(h)-margin
}

// follow is the pan that brings a cursor near the edge back to the middle.
func (m *Machine) follow(s view.ScreenPt) (Intent, bool) {
	if m.inside(s, rim*m.px) {
		return Intent{}, false
	}
	c := m.view.Middle()
	return Intent{Act: PanBy, DX: c.X - s.X, DY: c.Y - s.Y}, true
}

// CursorPress is the key that presses and releases. The first press begins a
// bearing or takes hold of a thing to move, the second releases it; where the
// tool has nothing to hold, one press is a click.
func (m *Machine) CursorPress() []Intent {
	m.showCursor()
	s := m.view.ToScreen(m.cursor.at)
	if m.cursor.down {
		m.cursor.down = false
		return m.release(Pointer{At: s, Button: Left})
	}
	if m.state != idle {
		return nil // the mouse holds something
	}
	m.press(Pointer{At: s, Button: Left})
	if m.startDrag(); m.Busy() {
		m.state, m.cursor.down = pressed, true
		return nil
	}
	m.state = pressed
	return m.release(Pointer{At: s, Button: Left})
}
