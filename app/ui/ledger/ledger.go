package ledger

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Callbacks is what the ledger tells its owner. All run on the main thread.
type Callbacks struct {
	Select func(id string)                              // a row was chosen
	Edit   func(id string, c Column, text string) error // a cell was typed; an error keeps the field open
	Remove func(id string)
	Move   func(id string, by int) // −1 up, +1 down in the route
	Find   func(id string)         // show the leg on the sheet
}

// Ledger is the table. Rows are chosen with the pointer or with Up and Down;
// Left and Right choose a cell; Return or a second click edits it; Delete
// removes the row; Alt with Up or Down moves it; Space finds it on the sheet.
type Ledger struct {
	widget.BaseWidget
	cb       Callbacks
	rows     []Row
	selected int // −1 none
	cursor   Column
	list     *widget.List
	field    *field
	empty    *widget.Label
	focused  bool
}

// New returns an empty ledger.
func New(cb Callbacks) *Ledger {
	l := &Ledger{cb: cb, selected: -1, cursor: TickOff}
	l.list = widget.NewList(
		func() int { return len(l.rows) },
		func() fyne.CanvasObject { return newLine() },
		l.update,
	)
	l.list.HideSeparators = false
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
	l.rows, l.selected = rows, -1
	for i, r := range rows {
		if r.ID == id {
			l.selected = i
		}
	}
	l.closeField()
	if len(rows) == 0 {
		l.empty.Show()
	} else {
		l.empty.Hide()
	}
	l.list.Refresh()
	if l.selected >= 0 {
		l.list.ScrollTo(l.selected)
	}
}

func (l *Ledger) update(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(l.rows) {
		return
	}
	row := o.(*line)
	row.onTap = func(c Column) { l.tap(i, c) }
	row.show(l.rows[i], i == l.selected, l.cursor)
}

// tap chooses a cell; a click on the cell that is chosen already edits it.
func (l *Ledger) tap(i int, c Column) {
	again := i == l.selected && c == l.cursor
	l.cursor = c
	l.choose(i)
	if cv := fyne.CurrentApp().Driver().CanvasForObject(l); cv != nil {
		cv.Focus(l)
	}
	if again {
		l.Edit()
	}
}

func (l *Ledger) choose(i int) {
	if i < 0 || i >= len(l.rows) {
		return
	}
	changed := i != l.selected
	l.selected = i
	l.list.Refresh()
	l.list.ScrollTo(i)
	if changed && l.cb.Select != nil {
		l.cb.Select(l.rows[i].ID)
	}
}

// Edit opens the chosen cell for typing, where it can be edited.
func (l *Ledger) Edit() {
	if l.selected < 0 || !specs()[l.cursor].edit {
		return
	}
	text, _ := l.rows[l.selected].cell(l.cursor)
	id, c := l.rows[l.selected].ID, l.cursor
	at, width := spans(l.list.Size().Width)
	top := headHeight + float32(l.selected)*(rowHeight+theme.Padding()) - l.list.GetScrollOffset()
	l.field.open(text, func(typed string) error {
		if typed == text || l.cb.Edit == nil {
			return nil
		}
		return l.cb.Edit(id, c, typed)
	}, l.closeField)
	l.field.Move(fyne.NewPos(at[c], top))
	l.field.Resize(fyne.NewSize(max(width[c], 130), rowHeight))
	l.field.Show()
	if cv := fyne.CurrentApp().Driver().CanvasForObject(l); cv != nil {
		cv.Focus(l.field)
	}
}

func (l *Ledger) closeField() {
	if !l.field.Visible() {
		return
	}
	l.field.Hide()
	if cv := fyne.CurrentApp().Driver().CanvasForObject(l); cv != nil && cv.Focused() == l.field {
		cv.Focus(l)
	}
}

// FocusGained is Fyne's.
func (l *Ledger) FocusGained() {
	l.focused = true
	if l.selected < 0 && len(l.rows) > 0 {
		l.choose(0)
	}
	l.Refresh()
}

// FocusLost is Fyne's.
func (l *Ledger) FocusLost() { l.focused = false; l.Refresh() }

// TypedRune is Fyne's: letters do nothing until a cell is opened.
func (l *Ledger) TypedRune(rune) {}

// TypedKey works the ledger by keyboard.
func (l *Ledger) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp, fyne.KeyDown:
		l.step(map[fyne.KeyName]int{fyne.KeyUp: -1, fyne.KeyDown: 1}[e.Name])
	case fyne.KeyLeft:
		l.cursor = max(l.cursor-1, 0)
		l.list.Refresh()
	case fyne.KeyRight:
		l.cursor = min(l.cursor+1, columns-1)
		l.list.Refresh()
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyF2:
		l.Edit()
	case fyne.KeyDelete:
		l.call(l.cb.Remove)
	case fyne.KeySpace:
		l.call(l.cb.Find)
	}
}

// step chooses the next row, or with Alt held moves the row in the route.
func (l *Ledger) step(by int) {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierAlt != 0 {
		if l.selected >= 0 && l.cb.Move != nil {
			l.cb.Move(l.rows[l.selected].ID, by)
		}
		return
	}
	l.choose(min(max(l.selected+by, 0), len(l.rows)-1))
}

func (l *Ledger) call(f func(string)) {
	if f != nil && l.selected >= 0 && l.selected < len(l.rows) {
		f(l.rows[l.selected].ID)
	}
}

// CreateRenderer is Fyne's.
func (l *Ledger) CreateRenderer() fyne.WidgetRenderer {
	r := &ledgerRenderer{l: l, hair: canvas.NewRectangle(color.Black), ring: canvas.NewRectangle(color.Transparent)}
	for c, s := range specs() {
		r.head[c] = canvas.NewText(s.head, color.Black)
	}
	for _, h := range r.head {
		r.objects = append(r.objects, h)
	}
	lift := container.NewWithoutLayout(l.field)
	r.objects = append(r.objects, r.hair, l.list, l.empty, lift, r.ring)
	r.paint()
	return r
}

type ledgerRenderer struct {
	l       *Ledger
	head    [columns]*canvas.Text
	hair    *canvas.Rectangle
	ring    *canvas.Rectangle // shows the keyboard's focus
	objects []fyne.CanvasObject
}

func (r *ledgerRenderer) Destroy()                     {}
func (r *ledgerRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *ledgerRenderer) MinSize() fyne.Size {
	return fyne.NewSize(minWidth, headHeight+rowHeight)
}

func (r *ledgerRenderer) paint() {
	p := look.Current()
	for _, h := range r.head {
		h.Color, h.TextSize = p.Quiet, theme.Size(look.SizeLabel)
	}
	r.hair.FillColor = p.Hair
	r.ring.StrokeColor, r.ring.StrokeWidth = color.Transparent, 1
	if r.l.focused {
		r.ring.StrokeColor = p.Accent
	}
}

// Refresh takes the palette again.
func (r *ledgerRenderer) Refresh() {
	r.paint()
	for _, o := range r.objects {
		o.Refresh()
	}
}

// Layout sets the heading above the list.
func (r *ledgerRenderer) Layout(size fyne.Size) {
	at, width := spans(size.Width)
	for c, s := range specs() {
		box := r.head[c].MinSize()
		x := at[c] + cellPad
		if s.figure {
			x = at[c] + width[c] - cellPad - box.Width
		}
		r.head[c].Text = fit(s.head, r.head[c], width[c]-2*cellPad+2)
		r.head[c].Move(fyne.NewPos(x, (headHeight-box.Height)/2))
	}
	r.hair.Move(fyne.NewPos(0, headHeight-1))
	r.hair.Resize(fyne.NewSize(size.Width, 1))
	r.l.list.Move(fyne.NewPos(0, headHeight))
	r.l.list.Resize(fyne.NewSize(size.Width, size.Height-headHeight))
	r.l.empty.Move(fyne.NewPos(0, headHeight))
	r.l.empty.Resize(fyne.NewSize(size.Width, size.Height-headHeight))
	r.ring.Resize(size)
}
