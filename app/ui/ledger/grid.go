package ledger

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/widgets"
)

// acts is what the table does with the route.
type acts interface {
	choose(plan.ID)                                      // a row was chosen
	edit(id plan.ID, f session.Field, text string) error // typed; an error leaves the cell open
	remove(plan.ID)
	menu(id plan.ID, at fyne.Position)
	ChooseColumns()
	leave()       // to the sheet
	say(t string) // in the foot line
}

// grid is the table as a widget: what the pointer and the keys do in it. Arrows
// choose a cell, Return or F2 or a second click opens it, and so does typing, which
// replaces what stood there. Tab goes on through the cells that can be typed into,
// and after the last one leaves the table; Escape leaves it at once. Delete deletes
// the leg, the menu key opens the menu of its row.
type grid struct {
	widget.BaseWidget
	acts   acts
	table  *table
	raster *canvas.Raster
	field  *field
	empty  *widgets.Quiet
	across *scrollBar
	down   *scrollBar

	takes     func(rune, *fyne.KeyEvent) bool // a letter, or a key, that is not the table's now
	concealed bool                            // figures are hidden, and none is typed
}

func newGrid(a acts) *grid {
	g := &grid{acts: a, table: &table{cols: columns(), letters: lettering.New()}}
	g.table.cursor = columnOf(g.table.cols, session.FieldTickOff)
	g.table.fill(columns(), nil, "")
	g.raster = canvas.NewRaster(g.paint)
	g.field = newField()
	g.field.close, g.field.tab = g.closeField, g.tabOn
	g.field.drop = func() { a.say("Not changed.") } // and no refusal of what was typed
	g.field.Hide()
	g.across = newScrollBar(true, func(to float32) { g.scrollTo(fyne.NewPos(to, g.table.offset.Y)) })
	g.down = newScrollBar(false, func(to float32) { g.scrollTo(fyne.NewPos(g.table.offset.X, to)) })
	g.empty = widgets.NewWrappedQuiet("No legs yet. Drag on the sheet from where you start to where you are going, " +
		"then press L to keep the reading as a leg.")
	g.ExtendBaseWidget(g)
	return g
}

// fill replaces columns, rows and the choice, whose row is brought into sight if it is
// new or stands elsewhere, as after a move was undone.
func (g *grid) fill(cols []column, rows []row, id plan.ID) {
	was := g.table.choice()
	g.closeField()
	wide := g.table.all().Width
	g.table.fill(cols, rows, id)
	g.show(was)
	if g.table.focused && g.table.all().Width != wide {
		g.reveal() // longer references moved the chosen cell
	}
}

// choose chooses a row without notifying anybody.
func (g *grid) choose(id plan.ID) {
	was := g.table.choice()
	g.table.selected = -1
	for i, r := range g.table.rows {
		if r.id == id {
			g.table.selected = i
		}
	}
	g.show(was)
}

func (g *grid) show(was choice) {
	setVisible(g.empty, len(g.table.rows) == 0)
	if now := g.table.choice(); now.id != "" && now != was { // moves nothing sideways: it was chosen elsewhere
		g.table.offset = g.table.rowInSight(g.foot())
	}
	g.scrollTo(g.table.offset)
}

// chosen is the ID of the chosen row, or "".
func (g *grid) chosen() plan.ID { return g.table.choice().id }

func (g *grid) paint(w, h int) image.Image {
	widgets.Crisp(g.raster)
	g.table.size = g.Size()
	g.table.letters = g.table.letters.At(float32(w) / max(g.table.size.Width, 1))
	return g.table.paint(w, h)
}

// Tapped chooses the cell under the pointer; a click on the chosen cell opens it.
func (g *grid) Tapped(e *fyne.PointEvent) {
	i, c, again := g.take(e)
	if i >= 0 && again && g.table.cursor == c {
		g.open("")
	}
}

// TappedSecondary opens the menu of the row under the pointer; on the heads it asks which
// columns are shown.
func (g *grid) TappedSecondary(e *fyne.PointEvent) {
	if e.Position.Y < headHeight {
		g.acts.ChooseColumns()
		return
	}
	if i, _, _ := g.take(e); i >= 0 {
		g.acts.menu(g.chosen(), e.AbsolutePosition)
	}
}

// take takes the focus and chooses the cell under the pointer. again says that it was
// the chosen one.
func (g *grid) take(e *fyne.PointEvent) (i, c int, again bool) {
	g.closeField()
	if c := g.canvas(); c != nil {
		c.Focus(g)
	}
	i, c = g.table.under(e.Position)
	if i < 0 {
		return i, c, false
	}
	again = i == g.table.selected && c == g.table.cursor
	g.table.cursor = c
	g.chooseRow(i)
	return i, c, again
}

func (g *grid) canvas() fyne.Canvas { return fyne.CurrentApp().Driver().CanvasForObject(g) }

func (g *grid) chooseRow(i int) {
	if i < 0 || i >= len(g.table.rows) {
		return
	}
	changed := i != g.table.selected
	g.table.selected = i
	g.reveal()
	g.raster.Refresh()
	if changed {
		g.acts.choose(g.table.rows[i].id)
	}
}

// FocusGained is Fyne's. It chooses nothing: a click gives the focus before it says
// which row it is on, and a row chosen here would scroll the rows away under the
// pointer.
func (g *grid) FocusGained() { g.focus(true) }

// FocusLost is Fyne's.
func (g *grid) FocusLost() { g.focus(false) }

func (g *grid) focus(on bool) {
	g.table.focused = on
	g.raster.Refresh()
}

// Cursor is the arrow; Fyne asks for it.
func (g *grid) Cursor() desktop.Cursor { return desktop.DefaultCursor }

// CreateRenderer is Fyne's.
func (g *grid) CreateRenderer() fyne.WidgetRenderer {
	return &gridRenderer{g: g, objects: []fyne.CanvasObject{
		g.raster, g.empty, container.NewWithoutLayout(g.field), g.across, g.down,
	}}
}

type gridRenderer struct {
	g       *grid
	objects []fyne.CanvasObject
}

func (r *gridRenderer) Destroy()                     {}
func (r *gridRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *gridRenderer) MinSize() fyne.Size           { return fyne.NewSize(200, headHeight+rowHeight) }

// Refresh takes the colours again.
func (r *gridRenderer) Refresh() {
	for _, o := range r.objects {
		o.Refresh()
	}
}

// Layout gives the picture all the room, with the bars over its edges.
func (r *gridRenderer) Layout(size fyne.Size) {
	g := r.g
	g.table.size = size
	g.raster.Resize(size)
	widgets.Put(g.empty, 0, headHeight, size.Width, size.Height-headHeight)
	widgets.Put(g.across, 0, size.Height-barWidth, size.Width, barWidth)
	widgets.Put(g.down, size.Width-barWidth, headHeight, barWidth, size.Height-headHeight)
	g.scrollTo(g.table.offset)
}
