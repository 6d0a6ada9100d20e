package ledger

import "fyne.io/fyne/v2"

// all is the size of everything that can be scrolled to, without the heading.
func (t *table) all() fyne.Size {
	_, _, w := spans(t.cols, t.size.Width)
	return fyne.NewSize(w, t.tops[len(t.tops)-1])
}

// room is the size of what is seen of it.
func (t *table) room() fyne.Size { return fyne.NewSize(t.size.Width, t.size.Height-headHeight) }

// cellAt returns the upper left corner and the size of a cell as it is seen.
func (t *table) cellAt(row, col int) (fyne.Position, fyne.Size) {
	at, wide, _ := spans(t.cols, t.size.Width)
	x := at[col]
	if col > 0 {
		x -= t.offset.X
	}
	return fyne.NewPos(x, headHeight+t.tops[row]-t.offset.Y), fyne.NewSize(wide[col], rowHeight)
}

// under returns the row and the column at a point; the row is −1 beside the rows.
func (t *table) under(p fyne.Position) (row, col int) {
	at, wide, _ := spans(t.cols, t.size.Width)
	if x := p.X; x >= wide[0] {
		x += t.offset.X
		for col = 1; col < len(t.cols)-1 && x >= at[col]+wide[col]; {
			col++
		}
	}
	if y := p.Y - headHeight; y >= 0 {
		y += t.offset.Y
		for i := range t.rows {
			if y >= t.tops[i] && y < t.tops[i]+rowHeight {
				return i, col
			}
		}
	}
	return -1, col
}

// rowInSight is the offset at which the chosen row is seen above a foot of that height.
func (t *table) rowInSight(foot float32) fyne.Position {
	i, room, to := t.selected, t.room(), t.offset
	if i < 0 || i >= len(t.rows) || room.Height <= 0 {
		return to
	}
	top := t.tops[i]
	to.Y = min(max(to.Y, top+rowHeight+foot-room.Height), top)
	if t.rows[i].gap != "" && to.Y == top {
		to.Y -= gapHeight
	}
	return to
}

// cellInSight is the offset at which the chosen cell is seen. Where it moves the table
// sideways, the first column then is seen whole.
func (t *table) cellInSight(foot float32) fyne.Position {
	to, c := t.rowInSight(foot), t.cursor
	if c == 0 || t.selected < 0 {
		return to
	}
	at, wide, _ := spans(t.cols, t.size.Width)
	least, most := at[c]+wide[c]-t.room().Width, at[c]-wide[0]
	if to.X >= least && to.X <= most {
		return to
	}
	to.X = most
	for k := c; k > 0 && at[k]-wide[0] >= least; k-- {
		to.X = at[k] - wide[0]
	}
	return to
}

// page is how many rows are seen at once, one less so that the eye finds its way.
func (t *table) page() int { return max(int((t.room().Height-barWidth)/rowHeight)-1, 1) }

// firstSeen is the first row that is seen whole.
func (t *table) firstSeen() int {
	for i := range t.rows {
		if t.tops[i] >= t.offset.Y {
			return i
		}
	}
	return len(t.rows) - 1
}

// next returns the next cell that can be typed into, row by row, or the one before. It
// reports false after the last one.
func (t *table) next(back bool) (row, col int, ok bool) {
	n, by := len(t.cols), 1
	if back {
		by = -1
	}
	at := t.selected*n + t.cursor
	if t.selected < 0 {
		at = t.firstSeen()*n + t.cursor
	}
	for at += by; at >= 0 && at < n*len(t.rows); at += by {
		if t.cols[at%n].field != "" && !t.rows[at/n].off {
			return at / n, at % n, true
		}
	}
	return 0, 0, false
}
