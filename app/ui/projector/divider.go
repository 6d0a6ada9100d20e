package projector

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// dividerWide is the width of the divider in units of the window: wide enough to be hit.
const dividerWide = 10

// divider stands between sheet and board and is dragged to make either larger.
type divider struct {
	widget.BaseWidget
	by      func(dx float32) // it was dragged so far
	over    bool
	surface *canvas.Rectangle
	grip    *canvas.Rectangle
}

var (
	_ fyne.Draggable     = (*divider)(nil)
	_ desktop.Hoverable  = (*divider)(nil)
	_ desktop.Cursorable = (*divider)(nil)
)

func newDivider(by func(dx float32)) *divider {
	d := &divider{by: by, surface: canvas.NewRectangle(color.Transparent), grip: canvas.NewRectangle(color.Transparent)}
	d.ExtendBaseWidget(d)
	return d
}

// Dragged implements fyne.Draggable.
func (d *divider) Dragged(e *fyne.DragEvent) { d.by(e.Dragged.DX) }

// DragEnd implements fyne.Draggable.
func (d *divider) DragEnd() {}

// Cursor implements desktop.Cursorable.
func (d *divider) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseIn implements desktop.Hoverable.
func (d *divider) MouseIn(*desktop.MouseEvent) { d.light(true) }

// MouseMoved implements desktop.Hoverable.
func (d *divider) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (d *divider) MouseOut() { d.light(false) }

func (d *divider) light(on bool) {
	d.over = on
	d.Refresh()
}

// CreateRenderer makes the divider; Fyne calls it.
func (d *divider) CreateRenderer() fyne.WidgetRenderer {
	r := &dividerRenderer{d}
	r.Refresh()
	return r
}

type dividerRenderer struct{ d *divider }

func (r *dividerRenderer) Destroy()           {}
func (r *dividerRenderer) MinSize() fyne.Size { return fyne.NewSize(dividerWide, 40) }

func (r *dividerRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.d.surface, r.d.grip}
}

// Layout puts a grip into the middle.
func (r *dividerRenderer) Layout(size fyne.Size) {
	const wide, high = 2, 36
	r.d.surface.Resize(size)
	r.d.grip.Move(fyne.NewPos((size.Width-wide)/2, (size.Height-high)/2))
	r.d.grip.Resize(fyne.NewSize(wide, high))
}

// Refresh takes the colours of the theme.
func (r *dividerRenderer) Refresh() {
	ink := look.ColorEdge
	if r.d.over {
		ink = theme.ColorNamePrimary
	}
	r.d.surface.FillColor, r.d.grip.FillColor = theme.Color(theme.ColorNameSeparator), theme.Color(ink)
	r.d.surface.Refresh()
	r.d.grip.Refresh()
}
