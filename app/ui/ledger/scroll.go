package ledger

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// scrollTo moves the rows as far as there are any, and the columns likewise.
func (g *grid) scrollTo(offset fyne.Position) {
	all, room := g.table.all(), g.table.room()
	if len(g.table.rows) == 0 {
		all.Width = room.Width // the words of an empty ledger are all in sight
	}
	if all.Width > room.Width {
		all.Height += barWidth // the last row can be moved clear of the bar
	}
	g.table.offset = fyne.NewPos(
		min(max(offset.X, 0), max(all.Width-room.Width, 0)),
		min(max(offset.Y, 0), max(all.Height-room.Height, 0)))
	g.across.show(g.table.offset.X, room.Width, all.Width)
	g.down.show(g.table.offset.Y, room.Height, all.Height)
	g.raster.Refresh()
}

// reveal scrolls until the chosen cell is seen.
func (g *grid) reveal() {
	if to := g.table.cellInSight(g.foot()); to != g.table.offset {
		g.scrollTo(to)
	}
}

// foot is the height that the bar for moving sideways takes from the rows.
func (g *grid) foot() float32 {
	if g.across.Visible() {
		return barWidth
	}
	return 0
}

// Scrolled moves the table; with Shift held a wheel moves it sideways.
func (g *grid) Scrolled(e *fyne.ScrollEvent) {
	g.closeField()
	by := e.Scrolled
	if by.DX == 0 && held()&fyne.KeyModifierShift != 0 {
		by = fyne.NewDelta(by.DY, 0)
	}
	g.scrollTo(g.table.offset.SubtractXY(by.DX, by.DY))
}

// barWidth is the width of a scroll bar.
const barWidth = float32(9)

// scrollBar shows which part of the table is seen, and moves it when dragged. It is
// hidden where all is seen.
type scrollBar struct {
	widget.BaseWidget
	across        bool
	thumb         *canvas.Rectangle
	at, room, all float32 // of the table: the first that is seen, how much is seen, how much there is
	moved         func(to float32)
}

func newScrollBar(across bool, moved func(float32)) *scrollBar {
	b := &scrollBar{across: across, moved: moved, thumb: canvas.NewRectangle(color.Transparent)}
	b.ExtendBaseWidget(b)
	b.Hide()
	return b
}

// show says which part of the table is seen.
func (b *scrollBar) show(at, room, all float32) {
	b.at, b.room, b.all = at, room, all
	setVisible(b, all > room+0.5 && room > 0)
	b.place()
}

// place lays the thumb along the bar and gives it its colour.
func (b *scrollBar) place() {
	long, thick := b.Size().Width, b.Size().Height
	if !b.across {
		long, thick = thick, long
	}
	if b.all <= 0 || long <= 0 {
		return
	}
	size := max(long*b.room/b.all, 24)
	at := (long - size) * b.at / max(b.all-b.room, 1)
	if b.across {
		widgets.Put(b.thumb, at, thick-5, size, 4)
	} else {
		widgets.Put(b.thumb, thick-5, at, 4, size)
	}
	if c := color.Color(look.Current()[look.Edge]); b.thumb.FillColor != c {
		b.thumb.FillColor = c
		b.thumb.Refresh()
	}
}

// Dragged moves the table as far as the thumb is dragged.
func (b *scrollBar) Dragged(e *fyne.DragEvent) {
	by, long := e.Dragged.DY, b.Size().Height
	if b.across {
		by, long = e.Dragged.DX, b.Size().Width
	}
	if free := long - max(long*b.room/b.all, 24); free > 0 {
		b.moved(b.at + by*(b.all-b.room)/free)
	}
}

// DragEnd is Fyne's.
func (b *scrollBar) DragEnd() {}

// Tapped moves the table by what is seen of it.
func (b *scrollBar) Tapped(e *fyne.PointEvent) {
	at, thumb, size := e.Position.Y, b.thumb.Position().Y, b.thumb.Size().Height
	if b.across {
		at, thumb, size = e.Position.X, b.thumb.Position().X, b.thumb.Size().Width
	}
	switch {
	case at < thumb:
		b.moved(b.at - b.room*0.8)
	case at > thumb+size:
		b.moved(b.at + b.room*0.8)
	}
}

// Cursor is the arrow; Fyne asks for it.
func (b *scrollBar) Cursor() desktop.Cursor { return desktop.DefaultCursor }

// CreateRenderer is Fyne's.
func (b *scrollBar) CreateRenderer() fyne.WidgetRenderer {
	return &barRenderer{b, []fyne.CanvasObject{b.thumb}}
}

type barRenderer struct {
	b       *scrollBar
	objects []fyne.CanvasObject
}

func (r *barRenderer) Destroy()                     {}
func (r *barRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *barRenderer) MinSize() fyne.Size           { return fyne.NewSize(barWidth, barWidth) }
func (r *barRenderer) Layout(fyne.Size)             { r.b.place() }
func (r *barRenderer) Refresh()                     { r.b.place() }
