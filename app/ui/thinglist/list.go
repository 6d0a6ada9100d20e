package thinglist

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/lettering"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// Thing is a row of a list: a name in as many lines as it needs, and below it a
// reference or figures.
type Thing struct {
	ID       plan.ID
	Name     string
	Note     func() string            // asked for rows that are seen
	Cautions func() []caution.Caution // asked for rows that are seen; nil for none
}

// filterFrom is the number of things from which a list has a field that filters it.
const filterFrom = 9

// List lists things; a click or the keys choose one. Only the rows that are seen exist.
type List struct {
	s      *session.Session
	body   fyne.CanvasObject
	rows   *rows
	filter *widgets.EscapeEntry
	line   *fyne.Container // the filter and found
	found  *widgets.Quiet  // how many the filter leaves
	empty  *widgets.Quiet
	all    []Thing
	seen   []int              // of all, those that the filter leaves
	ours   bool               // the list chooses by itself; nobody clicked
	height map[string]float32 // of the rows of names; measuring 200 names takes longer than a frame
}

// New returns a list with what can be done above it. empty is the text of one without
// things.
func New(on *session.Session, line *foot.Line, empty string, acts ...fyne.CanvasObject) *List {
	l := &List{s: on, height: map[string]float32{}, empty: widgets.NewWrappedQuiet(empty), found: widgets.NewQuiet("")}
	l.rows = &rows{}
	l.rows.ExtendBaseWidget(l.rows)
	l.rows.Length = func() int { return len(l.seen) }
	l.rows.CreateItem = func() fyne.CanvasObject { return newRow(line.Hint) }
	l.rows.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(l.seen) {
			o.(*row).show(l.all[l.seen[i]])
		}
	}
	l.rows.HideSeparators = true
	l.rows.OnSelected = func(i widget.ListItemID) {
		if !l.ours && i < len(l.seen) {
			on.Select(l.all[l.seen[i]].ID)
		}
	}
	l.filter = widgets.NewEscapeEntry("filter by name", l.chooseFirst, func() { l.filter.SetText("") })
	l.filter.OnChanged = func(string) { l.show() }
	l.line = container.NewBorder(nil, nil, nil, l.found, l.filter)
	head := container.New(&widgets.Pad{Right: 12}, container.NewVBox(append(acts, l.line)...))
	l.body = container.NewBorder(head, nil, nil, nil, container.NewStack(l.rows, container.NewVBox(l.empty)))
	return l
}

// Body is what a panel shows.
func (l *List) Body() fyne.CanvasObject { return l.body }

// Set replaces the things.
func (l *List) Set(all []Thing) {
	l.all = all
	setVisible(l.filter, len(all) >= filterFrom)
	setVisible(l.empty, len(all) == 0)
	l.show()
}

// show shows the things that the filter leaves, and chooses the one that is selected.
func (l *List) show() {
	l.seen = l.seen[:0]
	text := strings.ToLower(strings.TrimSpace(l.filter.Text))
	for i, t := range l.all {
		if !l.filter.Visible() || strings.Contains(strings.ToLower(t.Name), text) {
			l.seen = append(l.seen, i)
		}
	}
	setVisible(l.found, l.filter.Visible() && text != "")
	l.found.SetText(fmt.Sprintf("%d of %d", len(l.seen), len(l.all)))
	l.line.Refresh() // hiding the words alone leaves their room empty
	l.ours = true
	defer func() { l.ours = false }()
	l.rows.UnselectAll()
	for at, i := range l.seen {
		name := l.all[i].Name
		if l.height[name] == 0 {
			l.height[name] = heightOf(name)
		}
		l.rows.SetItemHeight(at, l.height[name])
	}
	l.rows.Refresh()
	for at, i := range l.seen {
		if l.all[i].ID == l.s.Selection().ID {
			l.rows.Select(at)
		}
	}
}

// chooseFirst selects the first thing that the filter leaves.
func (l *List) chooseFirst() {
	if len(l.seen) > 0 {
		l.s.Select(l.all[l.seen[0]].ID)
	}
}

func setVisible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// Sizes of a row in units of the window.
const (
	rowWidth = float32(300) // of the names' lines
	rowPad   = float32(6)
	rowGap   = float32(4)
)

// rows are the rows of a list. A click gives them the focus, and what they do not use themselves they
// leave to the window: Delete, Escape and letters mean the thing that was chosen.
type rows struct{ widget.List }

// TypedKey moves among the rows and chooses one; Fyne calls it.
func (r *rows) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp, fyne.KeyDown, fyne.KeySpace:
		r.List.TypedKey(e)
	default:
		widgets.KeyToWindow(r, e)
	}
}

// TypedRune leaves letters to the window; Fyne calls it.
func (r *rows) TypedRune(letter rune) { widgets.RuneToWindow(r, letter) }

// row is a row as it is drawn. While the pointer is on it the foot line has what
// speaks against the thing.
type row struct {
	widget.BaseWidget
	hint  func(string)
	thing Thing
	name  []*canvas.Text
	note  *canvas.Text
}

func newRow(hint func(string)) *row {
	r := &row{hint: hint, note: canvas.NewText("", color.Transparent)}
	r.ExtendBaseWidget(r)
	return r
}

// show shows a thing. The figures of one that nobody may walk on are marked.
func (r *row) show(t Thing) {
	r.thing = t
	r.name = r.name[:0]
	for _, line := range nameLines(t.Name) {
		r.name = append(r.name, &canvas.Text{Text: lettering.Shown(line), TextSize: theme.TextSize(), Color: theme.Color(theme.ColorNameForeground)})
	}
	r.note.Text, r.note.Color, r.note.TextSize = lettering.Shown(t.marked()), look.Current()[look.Quiet], theme.Size(look.SizeLabel)
	if t.stopped() {
		r.note.Color = look.Current()[look.Fault]
	}
	r.Refresh()
}

func (t Thing) stopped() bool { return caution.Stops(t.cautions(), caution.OnLeg) }

func (t Thing) cautions() []caution.Caution {
	if t.Cautions == nil {
		return nil
	}
	return t.Cautions()
}

// marked is the note, with a mark in front if nobody may walk on it.
func (t Thing) marked() string {
	if t.stopped() {
		return strings.TrimSpace("! " + t.Note())
	}
	return t.Note()
}

// nameLines breaks a name into lines, so that all of it is seen.
func nameLines(name string) []string {
	return widgets.Wrap(name, rowWidth-2*rowPad, theme.TextSize(), fyne.TextStyle{})
}

// lineHeight is that of one line of a name.
func lineHeight() float32 {
	return fyne.MeasureText("Hg", theme.TextSize(), fyne.TextStyle{}).Height
}

func noteHeight() float32 {
	return fyne.MeasureText("Hg", theme.Size(look.SizeLabel), fyne.TextStyle{}).Height
}

// heightOf is the height of the row of a name.
func heightOf(name string) float32 {
	return float32(len(nameLines(name)))*lineHeight() + noteHeight() + 2*rowGap
}

// MouseIn shows what speaks against the thing; Fyne calls it.
func (r *row) MouseIn(*desktop.MouseEvent) {
	if words := caution.Shorts(r.thing.cautions()); len(words) > 0 {
		r.hint(r.thing.Name + ": " + strings.Join(words, ", "))
	}
}

// MouseMoved is Fyne's.
func (r *row) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began.
func (r *row) MouseOut() { r.hint("") }

// CreateRenderer is Fyne's.
func (r *row) CreateRenderer() fyne.WidgetRenderer { return &rowRenderer{r} }

type rowRenderer struct{ r *row }

func (x *rowRenderer) Destroy() {}
func (x *rowRenderer) MinSize() fyne.Size {
	return fyne.NewSize(120, lineHeight()+noteHeight()+2*rowGap)
}

func (x *rowRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, 0, len(x.r.name)+1)
	for _, t := range x.r.name {
		out = append(out, t)
	}
	return append(out, x.r.note)
}

func (x *rowRenderer) Layout(size fyne.Size) {
	y := rowGap
	for _, t := range x.r.name {
		widgets.Put(t, rowPad, y, size.Width-rowPad, lineHeight())
		y += lineHeight()
	}
	widgets.Put(x.r.note, rowPad, y, size.Width-rowPad, noteHeight())
}

func (x *rowRenderer) Refresh() {
	x.Layout(x.r.Size())
	for _, o := range x.Objects() {
		o.Refresh()
	}
	canvas.Refresh(x.r)
}
