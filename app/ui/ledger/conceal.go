package ledger

import (
	"fmt"

	"legwright/app/terrain"
)

// Conceal hides every figure of the legs, with all that follows from them: references,
// sums, stops. Names and notes stay. What is being typed into a cell is taken first.
func (l *Ledger) Conceal(on bool) {
	if l.concealed == on {
		return
	}
	l.grid.takeTyping()
	l.concealed, l.grid.concealed = on, on
	l.fill()
}

// hidden stands in place of a figure.
const hidden = "?"

// concealRows takes out of the rows what tells a bearing or a length, and returns what
// the heading says instead of the sums.
func concealRows(cols []column, rows []row) string {
	legs := 0
	for i := range rows {
		if !rows[i].off {
			legs++
		}
		rows[i].stopped, rows[i].fault, rows[i].ground = false, "", terrain.Profile{}
		rows[i].cell = concealed(cols, rows[i], legs)
	}
	return count(legs, "leg") + ", figures hidden"
}

// concealed writes the cells of a row without figures; number is that of the leg.
func concealed(cols []column, r row, number int) func(c int) cell {
	return func(c int) cell {
		text := r.cell(c).text
		switch {
		case c == 0 && r.off: // its name
		case c == 0:
			text = fmt.Sprint(number)
		case r.off && cols[c].head == "tick-off feature":
			text = "" // what speaks against it
		case cols[c].style.figure:
			text = hidden
		}
		return cell{text, ""}
	}
}

// mayOpen says why a cell of a column must not be typed into while figures are hidden,
// "" if it may be.
func mayOpen(c column, concealed bool) string {
	switch {
	case c.field == "":
		return "You cannot type in this column: it is calculated."
	case concealed && c.style.figure:
		return "The figures are hidden. Press H in the Teach panel to show them before you type one."
	}
	return ""
}
