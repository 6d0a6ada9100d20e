package tool

import (
	"time"

	"legwright/canvas/view"
)

const (
	// SnapRadius is how near, in device-independent pixels, a press must be
	// to a mark or an end to be taken for it.
	SnapRadius = 8
	// dragThreshold is how far the pointer moves before a press is a drag.
	dragThreshold = 3
	// hitRadius is how near a click must be to a line to hit it.
	hitRadius = 6
	// doubleGap and doubleReach bound a double click.
	doubleGap   = 400 * time.Millisecond
	doubleReach = 5
)

// Pointer is one event of the mouse.
type Pointer struct {
	At     view.ScreenPt
	Button Button    // the button pressed or released
	Space  bool      // Space is held
	Time   time.Time // of a press; the zero time never makes a double click
}

// holding says what a press has begun.
type holding int

const (
	idle holding = iota
	pressed
	sighting
	moving
	panning
	spent // a double click was reported: its release means nothing
)

// Machine turns events into intents. Make it with New. It is not safe for
// concurrent use.
type Machine struct {
	kind   Kind
	ground Ground
	px     float64 // screen pixels a device-independent pixel
	view   view.View

	state  holding
	button Button
	start  view.ScreenPt // of the press
	last   view.ScreenPt // of the latest event
	seen   bool          // the pointer has been over the sheet
	from   Spot
	to     Spot

	clickAt   view.ScreenPt
	clickTime time.Time
	cursor    cursor
}

// New returns a machine with the Sight tool and nothing on the sheet.
func New() *Machine { return &Machine{ground: bare{}, px: 1} }

// Kind is the tool in hand.
func (m *Machine) Kind() Kind { return m.kind }

// SetKind changes the tool; what was being dragged is cancelled.
func (m *Machine) SetKind(k Kind) []Intent {
	out := m.Cancel()
	m.kind = k
	return out
}

// SetGround says what stands on the sheet; nil is nothing.
func (m *Machine) SetGround(g Ground) {
	if g == nil {
		g = bare{}
	}
	m.ground = g
}

// SetView says how the sheet is shown now, and how many screen pixels make a
// device-independent one.
func (m *Machine) SetView(v view.View, px float64) {
	m.view, m.px = v, max(px, 0.1)
}

// Busy says whether something is being dragged.
func (m *Machine) Busy() bool { return m.state == sighting || m.state == moving }

// Panning says whether the sheet is being dragged.
func (m *Machine) Panning() bool { return m.state == panning }

// Press takes a button going down.
func (m *Machine) Press(p Pointer) []Intent {
	var out []Intent
	if m.cursor.down {
		out = m.Cancel()
	}
	m.cursor.on = false
	return append(out, m.press(p)...)
}

func (m *Machine) press(p Pointer) []Intent {
	if m.state != idle {
		return nil // a second button while one is held
	}
	m.state, m.button, m.start, m.last, m.seen = pressed, p.Button, p.At, p.At, true
	switch {
	case p.Button == Right:
		return nil
	case p.Button == Middle || p.Space || m.kind == Pan:
		m.state = panning
		return nil
	case m.isDouble(p):
		m.state, m.clickTime = spent, time.Time{}
		return []Intent{{Act: DoubleClick, To: m.hit(p.At)}}
	}
	m.begin(p.At)
	return nil
}

// begin remembers what stands under a press of the left button.
func (m *Machine) begin(at view.ScreenPt) {
	m.from = m.snap(at)
	switch m.kind {
	case Shape: // a mark that stands on a point of a shape would hide it
		if s, ok := m.ground.Vertex(at, SnapRadius*m.px); ok {
			m.from = s
		}
	case Calibrate:
		m.from = Spot{At: m.view.ToPicture(at)}
		if s, ok := m.ground.Hit(at, SnapRadius*m.px); ok && s.Target.Part == Control {
			m.from = s
		}
	}
	m.to = m.from
}

func (m *Machine) isDouble(p Pointer) bool {
	return !p.Time.IsZero() && !m.clickTime.IsZero() &&
		p.Time.Sub(m.clickTime) <= doubleGap && p.At.Dist(m.clickAt) <= doubleReach*m.px
}

// Move takes the pointer at a new place, with or without a button held.
func (m *Machine) Move(p Pointer) []Intent {
	if m.cursor.down {
		return []Intent{{Act: Hover, To: m.under(p.At)}} // the keyboard holds the drag
	}
	return m.move(p)
}

func (m *Machine) move(p Pointer) []Intent {
	before := m.last
	m.last, m.seen = p.At, true
	if m.state == pressed && m.button == Left && p.At.Dist(m.start) >= dragThreshold*m.px {
		m.startDrag()
		before = m.start
	}
	switch m.state {
	case idle:
		return []Intent{{Act: Hover, To: m.under(p.At)}}
	case panning:
		return []Intent{{Act: PanBy, DX: p.At.X - before.X, DY: p.At.Y - before.Y}}
	case sighting:
		m.to = m.snapApart(p.At)
		return []Intent{{Act: Live, From: m.from, To: m.to}}
	case moving:
		m.to = m.dropAt(p.At)
		return []Intent{{Act: Moving, From: m.from, To: m.to}}
	}
	return nil
}

// startDrag decides what a drag with the left button means.
func (m *Machine) startDrag() {
	switch {
	case m.kind == Sight:
		m.state = sighting
	case m.kind == Move && m.from.Target.Part.IsPoint(),
		m.kind == Shape && m.from.Target.IsVertex(),
		m.kind == Calibrate && m.from.Target.Part == Control:
		m.state = moving
	default:
		m.state = panning
	}
}

// Release takes a button going up.
func (m *Machine) Release(p Pointer) []Intent {
	if m.cursor.down || (m.state != idle && p.Button != m.button) {
		return nil
	}
	return m.release(p)
}

func (m *Machine) release(p Pointer) []Intent {
	var out []Intent
	if m.Busy() {
		out = m.move(p)
	}
	state := m.state
	m.state = idle
	switch {
	case state == sighting && m.from.At != m.to.At:
		return append(out, Intent{Act: Offer, From: m.from, To: m.to})
	case state == moving:
		return append(out, Intent{Act: Moved, From: m.from, To: m.to})
	case state == sighting:
		return append(out, Intent{Act: Cancelled})
	case state == pressed && m.button == Right:
		return []Intent{{Act: Secondary, To: m.hit(m.start)}}
	case state == pressed:
		m.clickAt, m.clickTime = m.start, p.Time
		return []Intent{{Act: Click, To: m.hit(m.start)}}
	}
	return out
}

// Cancel ends a drag without effect, as Escape does.
func (m *Machine) Cancel() []Intent {
	busy := m.Busy()
	m.state, m.cursor.down = idle, false
	if busy {
		return []Intent{{Act: Cancelled, From: m.from, To: m.to}}
	}
	return nil
}
