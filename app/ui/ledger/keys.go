package ledger

import (
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// held returns the modifiers that are held down.
func held() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// TypedRune opens the chosen cell with the letter in it, unless that means something else
// now. A blank begins no text.
func (g *grid) TypedRune(r rune) {
	if !g.takes(r, nil) && unicode.IsPrint(r) && r != ' ' {
		g.open(string(r))
	}
}

// TypedKey works the table by keyboard.
func (g *grid) TypedKey(e *fyne.KeyEvent) {
	if g.takes(0, e) {
		return
	}
	last := len(g.table.cols) - 1
	switch e.Name {
	case fyne.KeyUp:
		g.step(-1)
	case fyne.KeyDown:
		g.step(1)
	case fyne.KeyPageUp:
		g.step(-g.table.page())
	case fyne.KeyPageDown:
		g.step(g.table.page())
	case fyne.KeyLeft:
		g.goTo(max(g.table.cursor-1, 0))
	case fyne.KeyRight:
		g.goTo(min(g.table.cursor+1, last))
	case fyne.KeyHome:
		g.goTo(0)
	case fyne.KeyEnd:
		g.goTo(last)
	case fyne.KeyTab:
		g.tab(held()&fyne.KeyModifierShift != 0)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyF2:
		g.open("")
	case fyne.KeyEscape:
		g.acts.leave()
	default:
		g.keyOfRow(e.Name)
	}
}

// keyOfRow does what a key does with the chosen row.
func (g *grid) keyOfRow(name fyne.KeyName) {
	id := g.chosen()
	if id == "" {
		return
	}
	switch name {
	case fyne.KeyDelete:
		g.acts.remove(id)
	case desktop.KeyMenu:
		g.reveal()
		at, size := g.table.cellAt(g.table.selected, g.table.cursor)
		corner := fyne.CurrentApp().Driver().AbsolutePositionForObject(g)
		g.acts.menu(id, corner.Add(at).AddXY(0, size.Height))
	}
}

// goTo chooses a column and brings its cell into sight.
func (g *grid) goTo(col int) {
	g.table.cursor = col
	g.reveal()
	g.raster.Refresh()
}

// step chooses another row.
func (g *grid) step(by int) {
	if g.table.selected < 0 {
		g.chooseRow(g.table.firstSeen())
		return
	}
	g.chooseRow(min(max(g.table.selected+by, 0), len(g.table.rows)-1))
}

// AcceptsTab keeps Tab in the table while there is a cell to go on to; Fyne asks.
func (g *grid) AcceptsTab() bool {
	_, _, ok := g.table.next(held()&fyne.KeyModifierShift != 0)
	return ok
}

// tab goes on to the next cell that can be typed into, or back to the one before. It
// reports false after the last one.
func (g *grid) tab(back bool) bool {
	row, col, ok := g.table.next(back)
	if ok {
		g.table.cursor = col
		g.chooseRow(row)
		g.reveal()
		g.raster.Refresh()
	}
	return ok
}
