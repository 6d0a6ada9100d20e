package benchtest

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/canvas/view"
)

// Mouse is the pointer over the sheet. Positions are points of the picture, in its pixels
// (column, row).
type Mouse struct{ b *Bench }

// At is an event of the pointer over a point of the picture, to within half a pixel of the
// screen: the sheet takes the middle of the pixel that is hit.
func (m *Mouse) At(col, row float64) fyne.PointEvent {
	s, scale := m.b.Sheet().View().ToScreen(view.PicPt{X: col, Y: row}), float64(m.b.Canvas().Scale())
	pos := fyne.NewPos(float32(math.Floor(s.X)/scale), float32(math.Floor(s.Y)/scale))
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(m.b.Sheet())
	return fyne.PointEvent{Position: pos, AbsolutePosition: origin.Add(pos)}
}

// button presses a button over a point of the picture and releases it.
func (m *Mouse) button(which desktop.MouseButton, col, row float64) {
	m.b.Settle()
	e := &desktop.MouseEvent{PointEvent: m.At(col, row), Button: which}
	m.b.Sheet().MouseDown(e)
	m.b.Sheet().MouseUp(e)
}

// Click clicks a point of the picture.
func (m *Mouse) Click(col, row float64) { m.button(desktop.MouseButtonPrimary, col, row) }

// ClickMenu chooses an entry of the menu that a click with the right button opens over a
// point of the picture.
func (m *Mouse) ClickMenu(col, row float64, text string) {
	m.b.t.Helper()
	m.button(desktop.MouseButtonSecondary, col, row)
	m.b.Tap(m.b.t, text)
}

// CopyReference copies the reference of a point of the picture by its menu, and returns
// what is on the clipboard.
func (m *Mouse) CopyReference(col, row float64) string {
	m.b.t.Helper()
	m.button(desktop.MouseButtonSecondary, col, row)
	for _, text := range m.b.Texts() {
		if strings.HasPrefix(text, "Copy ") {
			m.b.Tap(m.b.t, text)
			return m.b.App.Clipboard().Content()
		}
	}
	m.b.t.Fatalf("no reference can be copied; the menu has %q", m.b.Texts())
	return ""
}

// NewMark sets a mark at a point of the picture.
func (m *Mouse) NewMark(col, row float64) {
	m.b.t.Helper()
	m.ClickMenu(col, row, "New mark here")
}

// Hover moves the pointer to a point of the picture.
func (m *Mouse) Hover(col, row float64) {
	m.b.Sheet().MouseMoved(&desktop.MouseEvent{PointEvent: m.At(col, row)})
}

// Press presses the left button over a point of the picture and holds it.
func (m *Mouse) Press(col, row float64) {
	m.b.Settle()
	m.b.Sheet().MouseDown(&desktop.MouseEvent{PointEvent: m.At(col, row), Button: desktop.MouseButtonPrimary})
}

// Pull drags with the button held from one event to the next.
func (m *Mouse) Pull(from, to fyne.PointEvent) {
	m.b.Sheet().Dragged(&fyne.DragEvent{PointEvent: to, Dragged: fyne.NewDelta(to.Position.X-from.Position.X, to.Position.Y-from.Position.Y)})
}

// Release releases the left button over a point of the picture.
func (m *Mouse) Release(col, row float64) {
	m.b.Sheet().DragEnd()
	m.b.Sheet().MouseUp(&desktop.MouseEvent{PointEvent: m.At(col, row), Button: desktop.MouseButtonPrimary})
}

// Drag drags from one point of the picture to another.
func (m *Mouse) Drag(x0, y0, x1, y1 float64) {
	m.Press(x0, y0)
	last := m.At(x0, y0)
	for i := 1; i <= 5; i++ {
		f := float64(i) / 5
		next := m.At(x0+f*(x1-x0), y0+f*(y1-y0))
		m.Pull(last, next)
		last = next
	}
	m.Release(x1, y1)
}

// Discard discards the reading that is offered, if there is one.
func (b *Bench) Discard() {
	if b.Offered() {
		b.Choose("Discard reading")
	}
}

// FocusSheet gives the keys to the sheet.
func (b *Bench) FocusSheet() { b.Choose("Go to the sheet") }

// MenuAt is what the menu of a point of the picture offers. It is closed again.
func (m *Mouse) MenuAt(col, row float64) []string {
	m.b.t.Helper()
	m.button(desktop.MouseButtonSecondary, col, row)
	offers := m.b.Texts()
	m.b.Canvas().Overlays().Top().(fyne.Tappable).Tapped(&fyne.PointEvent{})
	return offers
}

// Letters types letters on the sheet.
func (b *Bench) Letters(text string) {
	b.FocusSheet()
	b.Type(text)
}
