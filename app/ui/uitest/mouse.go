package uitest

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Mouse moves the pointer over one object of a window and works its left button, with
// the events that the toolkit sends.
type Mouse struct {
	on      fyne.CanvasObject
	at      fyne.Position
	pressed bool
}

// NewMouse returns a pointer over an object of a window.
func NewMouse(on fyne.CanvasObject) *Mouse { return &Mouse{on: on} }

// Move moves the pointer to a position of the object, in units of the window. With the
// button held it drags.
func (m *Mouse) Move(x, y float64) {
	from := m.at
	m.at = fyne.NewPos(float32(math.Floor(x)), float32(math.Floor(y)))
	if !m.pressed {
		if h, ok := m.on.(desktop.Hoverable); ok {
			h.MouseMoved(m.event())
		}
		return
	}
	if d, ok := m.on.(fyne.Draggable); ok {
		d.Dragged(&fyne.DragEvent{PointEvent: m.event().PointEvent, Dragged: fyne.NewDelta(m.at.X-from.X, m.at.Y-from.Y)})
	}
}

// Press presses the button.
func (m *Mouse) Press() {
	m.pressed = true
	if d, ok := m.on.(desktop.Mouseable); ok {
		d.MouseDown(m.event())
	}
}

// Release releases the button.
func (m *Mouse) Release() {
	m.pressed = false
	if d, ok := m.on.(fyne.Draggable); ok {
		d.DragEnd()
	}
	if d, ok := m.on.(desktop.Mouseable); ok {
		d.MouseUp(m.event())
	}
}

// Click presses and releases the button.
func (m *Mouse) Click() {
	m.Press()
	m.pressed = false
	if d, ok := m.on.(desktop.Mouseable); ok {
		d.MouseUp(m.event())
	}
}

// Leave moves the pointer off the object.
func (m *Mouse) Leave() {
	if h, ok := m.on.(desktop.Hoverable); ok {
		h.MouseOut()
	}
}

func (m *Mouse) event() *desktop.MouseEvent {
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(m.on)
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: m.at, AbsolutePosition: origin.Add(m.at)}, Button: desktop.MouseButtonPrimary}
}
