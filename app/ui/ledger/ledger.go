package ledger

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// Host is what the ledger needs of the window.
type Host interface {
	Find(plan.ID) // brings a leg into sight on the sheet
	FocusSheet()
	Arrange() // the ledger was folded, or its height changed
	// Takes reports whether a letter, or a key where the event is not nil, means something
	// else than to the table: a lesson has letters of its own.
	Takes(rune, *fyne.KeyEvent) bool
	// EscapeActs are what can be done with the selected escape.
	EscapeActs() []*fyne.MenuItem
}

// Ledger is the table with its heading: a row a leg, and beneath the leg that starts at
// their mark the escapes. It fills itself after each act of the session
// that a row or the choice depends on, once, and never while something is dragged.
type Ledger struct {
	widget.BaseWidget
	s       *session.Session
	line    *foot.Line
	dialogs *ask.Dialogs
	host    Host

	grid    *grid
	heading *widgets.Heading
	fold    *widgets.Tool
	split   *splitter
	body    fyne.CanvasObject
	sizes   sizes

	concealed bool
}

// New returns the ledger of a session.
func New(s *session.Session, line *foot.Line, dialogs *ask.Dialogs, host Host) *Ledger {
	l := &Ledger{s: s, line: line, dialogs: dialogs, host: host, heading: widgets.NewHeading("Ledger")}
	l.grid = newGrid(l)
	l.grid.takes = host.Takes
	l.fold = widgets.NewTool(look.IconFold, "", l.ToggleFold)
	l.fold.OnHint = line.Hint
	l.split = newSplitter(l.resize, l.leave, line.Hint)
	head := container.NewBorder(l.split, nil, nil, l.fold, container.New(&widgets.Pad{Left: 10, Top: 2}, l.heading))
	l.body = widgets.NewSurface(container.NewBorder(head, nil, nil, nil, l.grid), widgets.Top, 0)
	l.ExtendBaseWidget(l)
	s.OnChange(l.changed)
	l.fill()
	l.showFold()
	return l
}

// changed shows what a change of the session touched. While something is dragged it
// shows nothing: the session tells all of it again at the end of the drag.
func (l *Ledger) changed(c session.Change) {
	switch {
	case c.Passing():
	case c.What.Has(session.AnyEscape | session.NotesChanged):
		l.fill()
		l.showFold() // the first leg unfolds it
	case c.What.Has(session.SelectionChanged):
		l.grid.choose(l.chosen())
	}
}

// chosen is the ID of the leg or the escape that is selected, or "".
func (l *Ledger) chosen() plan.ID {
	if sel := l.s.Selection(); sel.Kind == plan.OfLeg || sel.Kind == plan.OfEscape {
		return sel.ID
	}
	return ""
}

// MoveRow moves the selected leg in the route, or the selected escape among those of its
// mark, −1 up and +1 down.
func (l *Ledger) MoveRow(by int) {
	if id := l.chosen(); id != "" {
		l.move(id, by)
	}
}

// Totals is the sum of the route and its escapes as the heading has it.
func (l *Ledger) Totals() string { return totals(l.s.Rows(), l.s.Escapes(), l.s.Plan()) }

// Cell returns both lines of a cell of a row by the head of its column, for tests and
// for those who read them aloud. The rows of escapes count.
func (l *Ledger) Cell(row int, head string) (text, under string) {
	for i, c := range l.grid.table.cols {
		if c.head == head {
			cell := l.grid.table.rows[row].cell(i)
			return cell.text, cell.under
		}
	}
	return "", ""
}

// Focus goes to the table.
func (l *Ledger) Focus() {
	if c := l.grid.canvas(); c != nil {
		c.Focus(l.grid)
	}
}

// TakeTyping hands over what is being typed into a cell, before something is done
// with the plan as a whole. It reports false where that was refused; the cell then
// stays open.
func (l *Ledger) TakeTyping() bool { return l.grid.takeTyping() }

// CreateRenderer is Fyne's.
func (l *Ledger) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(l.body) }
