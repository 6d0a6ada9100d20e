package ledger

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// field is the entry that lies over a cell while it is typed into. Return and Tab
// keep what was typed, and so does leaving the field; Escape discards it.
type field struct {
	widget.Entry
	keep   func(string) error
	close  func()
	drop   func() // Escape discarded the typing
	tab    func(back bool)
	active bool
}

func newField() *field {
	f := &field{}
	f.ExtendBaseWidget(f)
	f.OnSubmitted = func(string) { f.submit() }
	return f
}

// open fills the field and says what to do with its text. What is typed replaces the
// text of a cell that was opened as it stood, and follows one that began with a letter.
func (f *field) open(text string, typed bool, keep func(string) error) {
	f.keep, f.active = keep, true
	f.SetValidationError(nil)
	widgets.Fill(&f.Entry, text)
	f.CursorColumn = len([]rune(text))
	if !typed {
		f.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// submit hands the text over once; a refusal leaves the field open and marked.
func (f *field) submit() {
	if !f.active {
		return
	}
	f.active = false // keeping it may take the focus away, which would keep it again
	if err := f.keep(f.Text); err != nil {
		f.active = true
		f.SetValidationError(err)
		return
	}
	f.close()
}

func (f *field) cancel() {
	if f.active {
		f.active = false
		f.close()
	}
}

// AcceptsTab keeps Tab, which goes on to the next cell; Fyne asks.
func (f *field) AcceptsTab() bool { return true }

// TypedKey lets Escape discard the typing, and Tab keep it and go on.
func (f *field) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		if f.active {
			f.drop()
		}
		f.cancel()
	case fyne.KeyTab:
		back := held()&fyne.KeyModifierShift != 0
		if f.submit(); !f.active {
			f.tab(back)
		}
	default:
		f.Entry.TypedKey(e)
	}
}

// FocusLost keeps what was typed if it is accepted.
func (f *field) FocusLost() {
	f.Entry.FocusLost()
	f.submit()
	f.cancel() // the person has read the refusal in the foot line
}

// fieldWidth is the least width of a field, so that a sentence can be read in it.
const fieldWidth = float32(260)

// open opens the chosen cell. It begins with what was typed, or with what stands there.
func (g *grid) open(typed string) {
	if g.table.selected < 0 {
		g.chooseRow(g.table.firstSeen())
	}
	i, c := g.table.selected, g.table.cursor
	if i < 0 || i >= len(g.table.rows) {
		return
	}
	f := g.table.cols[c].field
	if g.table.rows[i].off {
		g.acts.say("Change an escape on the sheet or in the Escape panel.")
		return
	}
	if why := mayOpen(g.table.cols[c], g.concealed); why != "" {
		g.acts.say(why)
		return
	}
	g.reveal()
	id, was, text := g.table.rows[i].id, g.table.rows[i].cell(c).text, typed
	if typed == "" {
		text = was
	}
	g.field.open(text, typed != "", func(now string) error {
		if now == was {
			return nil
		}
		return g.acts.edit(id, f, now)
	})
	at, size := g.table.cellAt(i, c)
	wide := min(max(size.Width, fieldWidth), g.table.size.Width)
	g.field.Move(fyne.NewPos(max(min(at.X, g.table.size.Width-wide), 0), at.Y))
	g.field.Resize(fyne.NewSize(wide, rowHeight))
	g.field.Show()
	if c := g.canvas(); c != nil {
		c.Focus(g.field)
	}
}

// takeTyping hands over what is being typed into a cell. It reports false where that
// was refused; the cell then stays open.
func (g *grid) takeTyping() bool {
	if !g.field.Visible() {
		return true
	}
	g.field.submit()
	return !g.field.active
}

// closeField hides the field, and gives the focus back to the table.
func (g *grid) closeField() {
	if !g.field.Visible() {
		return
	}
	g.field.Hide()
	if c := g.canvas(); c != nil && c.Focused() == g.field {
		c.Focus(g)
	}
}

// tabOn goes from a cell that was typed into to the next, and opens it.
func (g *grid) tabOn(back bool) {
	if g.tab(back) {
		g.open("")
	}
}
