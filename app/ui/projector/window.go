package projector

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
)

const (
	// leastLine is the least width of a line in pixels of a window that has leastLines of
	// them from top to bottom.
	leastLine, leastLines = 4, 1080
	// usualWide is the board's part of the window's width at first, leastWide its least
	// width as a part of the window's height; with the compass, which comes with more
	// words, they are larger.
	usualWide, leastWide      = 0.42, 0.45
	compassWide, compassLeast = 0.66, 0.8
)

// The note on the keys, in units of the window: its width where there is room, and the room
// round it.
const noteWide, noteRoom = float32(440), float32(12)

// shares are the board's parts of the window's width, with the dial and with the compass.
type shares struct{ dial, compass float32 }

func (s *shares) of(compass bool) *float32 {
	if compass {
		return &s.compass
	}
	return &s.dial
}

// room lays sheet, divider and board side by side.
type room struct {
	sheet, glass fyne.CanvasObject
	divider      fyne.CanvasObject
	board        fyne.CanvasObject
	note         fyne.CanvasObject
	shares       *shares
	compass      bool // the board shows it
	enlarge      func(times float64)
	laid         func() // after a change of the places
	last         fyne.Size
}

// boardWide is the width of the board in a window.
func (r *room) boardWide(size fyne.Size) float32 {
	least := float32(leastWide)
	if r.compass {
		least = compassLeast
	}
	return min(max(*r.shares.of(r.compass)*size.Width, least*size.Height), size.Width-dividerWide)
}

// Layout implements fyne.Layout.
func (r *room) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	board := r.boardWide(size)
	rest := size.Width - board - dividerWide
	r.enlarge(leastLine / overlay.FinestLine() * float64(size.Height) / leastLines)
	widgets.Put(r.sheet, 0, 0, rest, size.Height)
	widgets.Put(r.glass, 0, 0, rest, size.Height)
	widgets.Put(r.divider, rest, 0, dividerWide, size.Height)
	widgets.Put(r.board, rest+dividerWide, 0, board, size.Height)
	wide := min(noteWide, rest-2*noteRoom) // it covers no figure of the board
	r.note.Resize(fyne.NewSize(wide, r.note.Size().Height))
	high := r.note.MinSize().Height // its words wrap
	widgets.Put(r.note, (rest-wide)/2, size.Height-high-noteRoom, wide, high)
	if now := fyne.NewSize(rest, size.Height); now != r.last {
		r.last = now
		r.laid()
	}
}

// MinSize implements fyne.Layout.
func (r *room) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(640, 400) }

// build makes the window's content.
func (p *Projector) build() {
	k := &keys{p}
	p.sheet = newSheet(p)
	p.board = newBoard(func() float32 { return p.window.Canvas().Size().Height })
	p.board.menu = p.openMenu
	glass := newGlass(p.sheet.area, k, p.openMenu)
	p.room = &room{sheet: p.sheet.area, glass: glass, board: p.board, shares: p.shares, enlarge: p.sheet.area.Enlarge, laid: p.sheet.resize}
	p.room.divider = newDivider(p.drag)
	p.room.note = p.newNote()
	p.root = container.New(p.room, p.sheet.area, glass, p.room.divider, p.board, p.room.note)
	p.window.SetPadded(false)
	p.window.SetContent(p.root)
	c := p.window.Canvas()
	c.SetOnTypedKey(k.key)
	c.SetOnTypedRune(k.rune)
	c.Focus(glass)
}

// newNote names the keys, until the first of them is pressed.
func (p *Projector) newNote() fyne.CanvasObject {
	label := widgets.NewWrapped(strings.Join([]string{
		"Press Page Down to go on, Page Up to go back.",
		"Press H to hide or show the figures, N to change the north.",
		"Press + or −, or drag the bar between the map and the dial, to change the size of the dial.",
		"Press F11 to fill the screen, Esc to close this window. Right-click to list all keys.",
	}, "\n"))
	return widgets.NewStrip(label)
}

func (p *Projector) hideNote() {
	if p.IsOpen() && p.room.note.Visible() {
		p.room.note.Hide()
	}
}

// drag moves the divider.
func (p *Projector) drag(dx float32) {
	if w := p.root.Size().Width; w > 0 {
		p.widen(-dx / w)
	}
}

// widen makes the board wider by a part of the window's width.
func (p *Projector) widen(by float32) {
	size := p.root.Size()
	if size.Width <= 0 {
		return
	}
	share := p.shares.of(p.room.compass)
	*share = (p.room.boardWide(size) + by*size.Width) / size.Width
	*share = p.room.boardWide(size) / size.Width
	p.root.Refresh()
}

// openMenu lists what can be done.
func (p *Projector) openMenu(at fyne.Position) {
	p.hideNote()
	var items []*fyne.MenuItem
	for _, a := range p.acts() {
		items = append(items, fyne.NewMenuItem(a.words+"  ("+a.key+")", a.do))
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), p.window.Canvas(), at)
}
