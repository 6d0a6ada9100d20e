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
		for c := range rows[i].cells {
			at := &rows[i].cells[c]
			switch {
			case c == 0 && rows[i].off: // its name
			case c == 0:
				at.text = fmt.Sprint(legs)
			case rows[i].off && cols[c].head == "tick-off feature":
				at.text = "" // what speaks against it
			case cols[c].style.figure:
				at.text = hidden
			}
			at.under = ""
		}
	}
	return count(legs, "leg") + ", figures hidden"
}

// mayOpen says why a cell of a column must not be typed into while figures are hidden,
// "" if it may be.
func mayOpen(c column, concealed bool) string {
	switch {
	case c.field == "":
		return "This column is calculated and cannot be typed into."
	case concealed && c.style.figure:
		return "The figures are hidden. Show them before you type a bearing or a distance."
	}
	return ""
}
