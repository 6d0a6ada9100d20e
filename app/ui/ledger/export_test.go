package ledger

import (
	"image"

	"fyne.io/fyne/v2"
)

// CellCentre is the middle of a cell in the window, as a pointer would hit it.
func (l *Ledger) CellCentre(leg int, head string) fyne.Position {
	t := l.grid.table
	for i, c := range t.cols {
		if c.head == head {
			at, size := t.cellAt(leg, i)
			corner := fyne.CurrentApp().Driver().AbsolutePositionForObject(l.grid)
			return corner.Add(at).AddXY(size.Width/2, size.Height/2)
		}
	}
	panic("no column " + head)
}

// Chosen is the corner and the size of the chosen cell in the table, and the room of
// the rows beside the leg numbers.
func (l *Ledger) Chosen() (at fyne.Position, size fyne.Size, left, top, right, bottom float32) {
	t := l.grid.table
	at, size = t.cellAt(t.selected, t.cursor)
	_, wide, _ := spans(t.cols, t.size.Width)
	left = wide[0]
	if t.cursor == 0 {
		left = 0
	}
	return at, size, left, headHeight, t.size.Width, t.size.Height
}

// Column is the head of the column with the cursor.
func (l *Ledger) Column() string { return l.grid.table.cols[l.grid.table.cursor].head }

// Written is how much of each column is written, by its head, and how wide the column is.
func (l *Ledger) Written() map[string][2]float32 {
	t, out := l.grid.table, map[string][2]float32{}
	at, wide, _ := spans(t.cols, t.size.Width)
	for i, c := range t.cols {
		out[c.head] = [2]float32{t.seen(i, at, wide), wide[i]}
	}
	return out
}

// Offset is how far the table is scrolled.
func (l *Ledger) Offset() fyne.Position { return l.grid.table.offset }

// ScrollsSideways reports whether there is a bar to move the columns with.
func (l *Ledger) ScrollsSideways() bool { return l.grid.across.Visible() }

// Columns are the heads from left to right.
func (l *Ledger) Columns() []string {
	var out []string
	for _, c := range l.grid.table.cols {
		out = append(out, c.head)
	}
	return out
}

// Splitter is the edge that is dragged.
func (l *Ledger) Splitter() fyne.Draggable { return l.split }

// RightClick clicks on a place of the window with the secondary button.
func (l *Ledger) RightClick(at fyne.Position) {
	corner := fyne.CurrentApp().Driver().AbsolutePositionForObject(l.grid)
	l.grid.TappedSecondary(&fyne.PointEvent{AbsolutePosition: at, Position: at.Subtract(corner)})
}

// Paint makes the picture of the table, as the next frame does.
func (l *Ledger) Paint(w, h int) image.Image { return l.grid.paint(w, h) }
