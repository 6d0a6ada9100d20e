package teach

import (
	"slices"

	"legwright/app/plan"
)

// row is the prepared row of lines that a presenter's two keys walk through.
type row struct {
	lines []Line
	at    int // the line reached last; −1 before the first
}

// find returns the place of a thing of the plan in the row, or −1.
func (r row) find(id plan.ID) int {
	if id == "" {
		return -1
	}
	return slices.IndexFunc(r.lines, func(l Line) bool { return l.ID == id })
}

// with returns the row made of other lines, at the same thing as before. Where that has
// gone, the next line is the one that came after it. Lines without an ID, and a second
// one of the same ID, are left out.
func (r row) with(lines []Line) row {
	next := row{at: -1}
	for _, l := range lines {
		if l.ID != "" && next.find(l.ID) < 0 {
			next.lines = append(next.lines, l)
		}
	}
	for i := min(r.at, len(r.lines)-1); i >= 0; i-- {
		if at := next.find(r.lines[i].ID); at >= 0 {
			next.at = at
			break
		}
	}
	return next
}

// SetRow sets the prepared row: the plan's legs, then its sights. The lesson stays at the
// same leg or sight. If that has been deleted, the lesson has no line; if an end of it has
// moved, the guesses of the old line go.
func (l *Lesson) SetRow(lines []Line) {
	next := l.row.with(lines)
	if next.at == l.row.at && slices.Equal(next.lines, l.row.lines) {
		return
	}
	inRow := l.row.find(l.line.ID) >= 0
	l.row = next
	switch i := next.find(l.line.ID); {
	case i >= 0:
		l.take(next.lines[i])
	case inRow:
		l.drop()
	}
	l.tell()
}

// Row returns the prepared row. Do not write into the slice.
func (l *Lesson) Row() []Line { return l.row.lines }

// Place returns the place of the line in the row, counted from 1, and the length of the
// row. n is 0 for a line that is not in it.
func (l *Lesson) Place() (n, of int) {
	if l.has {
		n = l.row.find(l.line.ID) + 1
	}
	return n, len(l.row.lines)
}

// Next does what comes next: guesses are drawn; hidden figures are shown; then the compass, where it is
// shown, goes through its steps; after that the next line of the row comes. At the end of
// the row it does nothing; without a line the row begins again there.
func (l *Lesson) Next() {
	switch {
	case l.has && l.hidden && l.Guessed() > 0 && !l.guesses.drawn && l.ask.OnSheet():
		l.DrawGuesses()
	case l.has && l.hidden:
		l.SetHidden(false)
	case l.step(Stepping.Next):
	case l.row.at+1 < len(l.row.lines):
		l.walkTo(l.row.at + 1)
	case !l.has && len(l.row.lines) > 0:
		l.walkTo(0)
	}
}

// Previous takes back a step of the compass, where it is shown; at its first it goes back
// to the line before, or from a line outside the row to the one reached last. At the
// beginning it does nothing.
func (l *Lesson) Previous() {
	if !l.hidden && l.step(Stepping.Previous) {
		return
	}
	to := l.row.at
	if n, _ := l.Place(); n > 0 {
		to = n - 2
	}
	if to >= 0 {
		l.walkTo(to)
	}
}

func (l *Lesson) walkTo(i int) {
	l.take(l.row.lines[i])
	l.row.at = i
	l.tell()
}
