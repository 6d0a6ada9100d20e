package projector

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/canvas/mapview"
)

// glass lies over the sheet and takes mouse and keys: the wheel zooms, a drag moves the
// sheet. On the projector nothing is selected, read or moved by the mouse.
type glass struct {
	widget.BaseWidget
	area *mapview.MapView
	keys *keys
	menu func(at fyne.Position)
	held bool
}

var (
	_ fyne.Draggable         = (*glass)(nil)
	_ fyne.Scrollable        = (*glass)(nil)
	_ fyne.Focusable         = (*glass)(nil)
	_ fyne.Tabbable          = (*glass)(nil)
	_ fyne.SecondaryTappable = (*glass)(nil)
	_ desktop.Cursorable     = (*glass)(nil)
)

func newGlass(area *mapview.MapView, k *keys, menu func(fyne.Position)) *glass {
	g := &glass{area: area, keys: k, menu: menu}
	g.ExtendBaseWidget(g)
	return g
}

// Scrolled implements fyne.Scrollable.
func (g *glass) Scrolled(e *fyne.ScrollEvent) { g.area.Scrolled(e) }

// Dragged implements fyne.Draggable.
func (g *glass) Dragged(e *fyne.DragEvent) {
	g.held = true
	g.area.PanBy(float64(e.Dragged.DX), float64(e.Dragged.DY))
}

// DragEnd implements fyne.Draggable.
func (g *glass) DragEnd() { g.held = false }

// TappedSecondary implements fyne.SecondaryTappable.
func (g *glass) TappedSecondary(e *fyne.PointEvent) { g.menu(e.AbsolutePosition) }

// Cursor implements desktop.Cursorable.
func (g *glass) Cursor() desktop.Cursor {
	if g.held {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// FocusGained implements fyne.Focusable.
func (g *glass) FocusGained() {}

// FocusLost implements fyne.Focusable.
func (g *glass) FocusLost() {}

// AcceptsTab implements fyne.Tabbable: there is nothing else to go to.
func (g *glass) AcceptsTab() bool { return true }

// TypedRune implements fyne.Focusable.
func (g *glass) TypedRune(r rune) { g.keys.rune(r) }

// TypedKey implements fyne.Focusable.
func (g *glass) TypedKey(e *fyne.KeyEvent) { g.keys.key(e) }

// CreateRenderer makes the glass, which shows nothing; Fyne calls it.
func (g *glass) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}
