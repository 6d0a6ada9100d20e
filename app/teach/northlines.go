package teach

import "legwright/app/units"

// Draws reports whether the line of a north is drawn. That of the north from which
// bearings are measured always is.
func (l *Lesson) Draws(n units.North) bool { return n == l.north || !l.undrawn[n] }

// SetDraws draws the line of a north, or leaves it away. It ignores NoNorth.
func (l *Lesson) SetDraws(n units.North, on bool) {
	if n.Letter() == "" || l.undrawn[n] == !on {
		return
	}
	if l.undrawn == nil {
		l.undrawn = map[units.North]bool{}
	}
	l.undrawn[n] = !on
	l.tell()
}
