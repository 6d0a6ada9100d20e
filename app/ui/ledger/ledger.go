package ledger

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/ui/widgets"
)

// Callbacks is what the ledger tells its owner. All run on the main thread.
type Callbacks struct {
	Select func(id string)                              // a row was chosen
	Edit   func(id string, c Column, text string) error // a cell was typed; an error keeps the field open
	Remove func(id string)
	Move   func(id string, by int) // −1 up, +1 down in the route
	Find   func(id string)         // show the leg on the sheet
}

// Ledger is the table. Rows are chosen with the pointer or with Up and Down,
// the first that is seen where none is chosen;
// Left and Right choose a cell; Return or a second click edits it; Delete
// removes the row; Alt with Up or Down moves it; Space finds it on the sheet.
type Ledger struct {
	widget.BaseWidget
	cb     Callbacks
	table  table
	raster *canvas.Raster
	field  *field
	empty  *widget.Label
}

// New returns an empty ledger.
func New(cb Callbacks) *Ledger {
	l := &Ledger{cb: cb, table: table{selected: -1, cursor: TickOff, letters: lettering.New()}}
	l.raster = canvas.NewRaster(l.paint)
	l.field = newField()
	l.field.Hide()
	l.empty = widget.NewLabel("No legs yet. Drag on the sheet from where you are to where you are going, " +
		"then keep the reading as a leg.")
	l.empty.Wrapping = fyne.TextWrapWord
	l.empty.Importance = widget.LowImportance
	l.ExtendBaseWidget(l)
	return l
}

// Fill replaces the rows and the choice. An empty id chooses nothing.
func (l *Ledger) Fill(rows []Row, id string) {
	was := l.chosen()
	l.table.rows, l.table.selected = rows, -1
	for i, r := range rows {
		if r.ID == id {
			l.table.selected = i
		}
	}
	l.closeField()
	if len(rows) == 0 {
		l.empty.Show()
	} else {
		l.empty.Hide()
	}
	if id != "" && id != was {
		l.reveal(l.table.selected)
	}
	l.scrollTo(l.table.offset)
}

// chosen is the ID of the chosen row, or "".
func (l *Ledger) chosen() string {
	if l.table.selected < 0 || l.table.selected >= len(l.table.rows) {
		return ""
	}
	return l.table.rows[l.table.selected].ID
}

// paint makes the picture of the table.
func (l *Ledger) paint(w, h int) image.Image {
	widgets.Crisp(l.raster)
	size := l.Size()
	l.table.letters = l.table.letters.At(float32(w) / max(size.Width, 1))
	return l.table.paint(w, h, size.Width, size.Height)
}

// scrollTo moves the rows, as far as there are any.
func (l *Ledger) scrollTo(offset float32) {
	room := l.Size().Height - headHeight
	most := max(float32(len(l.table.rows))*rowHeight-room, 0)
	l.table.offset = min(max(offset, 0), most)
	l.raster.Refresh()
}

// reveal scrolls so that a row is seen.
func (l *Ledger) reveal(i int) {
	top := float32(i) * rowHeight
	room := l.Size().Height - headHeight
	if i < 0 || room <= 0 {
		return
	}
	l.scrollTo(min(max(l.table.offset, top+rowHeight-room), top))
}

// Scrolled moves the rows; Fyne calls it.
func (l *Ledger) Scrolled(e *fyne.ScrollEvent) {
	l.closeField()
	l.scrollTo(l.table.offset - e.Scrolled.DY)
}

// Tapped chooses the cell under the pointer; a click on the cell that is
// chosen already edits it.
func (l *Ledger) Tapped(e *fyne.PointEvent) {
	l.closeField()
	if c := l.canvas(); c != nil {
		c.Focus(l)
	}
	i := int((e.Position.Y - headHeight + l.table.offset) / rowHeight)
	if e.Position.Y < headHeight || i >= len(l.table.rows) {
		return
	}
	c := columnAt(e.Position.X, l.Size().Width)
	again := i == l.table.selected && c == l.table.cursor
	l.table.cursor = c
	l.choose(i)
	if again {
		l.Edit()
	}
}

func (l *Ledger) canvas() fyne.Canvas { return fyne.CurrentApp().Driver().CanvasForObject(l) }

func (l *Ledger) choose(i int) {
	if i < 0 || i >= len(l.table.rows) {
		return
	}
	changed := i != l.table.selected
	l.table.selected = i
	l.reveal(i)
	l.raster.Refresh()
	if changed && l.cb.Select != nil {
		l.cb.Select(l.table.rows[i].ID)
	}
}

// Edit opens the chosen cell for typing, where it can be edited.
func (l *Ledger) Edit() {
	if l.table.selected < 0 {
		l.choose(l.firstSeen())
	}
	i, c := l.table.selected, l.table.cursor
	if i < 0 || i >= len(l.table.rows) || !specs()[c].edit {
		return
	}
	text, _ := l.table.rows[i].cell(c)
	id := l.table.rows[i].ID
	l.reveal(i)
	at, width := spans(l.Size().Width)
	l.field.open(text, func(typed string) error {
		if typed == text || l.cb.Edit == nil {
			return nil
		}
		return l.cb.Edit(id, c, typed)
	}, l.closeField)
	l.field.Move(fyne.NewPos(at[c], headHeight+float32(i)*rowHeight-l.table.offset))
	l.field.Resize(fyne.NewSize(max(width[c], 130), rowHeight))
	l.field.Show()
	if c := l.canvas(); c != nil {
		c.Focus(l.field)
	}
}

// TakeTyping hands over what is being typed into a cell, before something is
// done with the plan as a whole. It reports false where it was refused; the
// cell then stays open.
func (l *Ledger) TakeTyping() bool {
	if !l.field.Visible() {
		return true
	}
	l.field.submit()
	return !l.field.active
}

func (l *Ledger) closeField() {
	if !l.field.Visible() {
		return
	}
	l.field.Hide()
	if c := l.canvas(); c != nil && c.Focused() == l.field {
		c.Focus(l)
	}
}

// FocusGained is Fyne's. It chooses nothing: a click gives the focus before it
// says which row it is on, and a row chosen here would scroll the rows away
// under the pointer.
func (l *Ledger) FocusGained() {
	l.table.focused = true
	l.raster.Refresh()
}

// FocusLost is Fyne's.
func (l *Ledger) FocusLost() {
	l.table.focused = false
	l.raster.Refresh()
}

// TypedRune is Fyne's: letters do nothing until a cell is opened.
func (l *Ledger) TypedRune(rune) {}

// TypedKey works the ledger by keyboard.
func (l *Ledger) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp:
		l.step(-1)
	case fyne.KeyDown:
		l.step(1)
	case fyne.KeyLeft:
		l.table.cursor = max(l.table.cursor-1, 0)
	case fyne.KeyRight:
		l.table.cursor = min(l.table.cursor+1, columns-1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyF2:
		l.Edit()
	case fyne.KeyDelete:
		l.call(l.cb.Remove)
	case fyne.KeySpace:
		l.call(l.cb.Find)
	}
	l.raster.Refresh()
}

// step chooses the next row, or with Alt held moves the row in the route.
func (l *Ledger) step(by int) {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierAlt != 0 {
		if id := l.chosen(); id != "" && l.cb.Move != nil {
			l.cb.Move(id, by)
		}
		return
	}
	if l.table.selected < 0 {
		l.choose(l.firstSeen())
		return
	}
	l.choose(min(max(l.table.selected+by, 0), len(l.table.rows)-1))
}

// firstSeen is the first row that is seen whole.
func (l *Ledger) firstSeen() int {
	return min(int(math.Ceil(float64(l.table.offset/rowHeight))), len(l.table.rows)-1)
}

func (l *Ledger) call(f func(string)) {
	if id := l.chosen(); f != nil && id != "" {
		f(id)
	}
}

// CreateRenderer is Fyne's.
func (l *Ledger) CreateRenderer() fyne.WidgetRenderer {
	return &renderer{l: l, objects: []fyne.CanvasObject{l.raster, l.empty, container.NewWithoutLayout(l.field)}}
}

type renderer struct {
	l       *Ledger
	objects []fyne.CanvasObject
}

func (r *renderer) Destroy()                     {}
func (r *renderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *renderer) MinSize() fyne.Size           { return fyne.NewSize(minWidth, headHeight+rowHeight) }

// Refresh takes the palette again.
func (r *renderer) Refresh() {
	for _, o := range r.objects {
		o.Refresh()
	}
}

// Layout gives the picture all the room.
func (r *renderer) Layout(size fyne.Size) {
	r.l.raster.Resize(size)
	r.l.empty.Move(fyne.NewPos(0, headHeight))
	r.l.empty.Resize(fyne.NewSize(size.Width, size.Height-headHeight))
	r.l.scrollTo(r.l.table.offset)
}
