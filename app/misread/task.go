package misread

import (
	"math"

	"legwright/app/units"
)

// Task is a bearing that somebody was asked for, with its right answer. A magnetic
// bearing was asked of the map and takes the GMA off; a grid bearing was asked of the
// compass and adds it. A true bearing, or one without a north, has no slips of the
// GMA: the angle between true north and the others is not part of the task.
type Task struct {
	Right  units.Angle // the right answer
	North  units.North // that the answer is measured from
	GMA    units.GMA   // of the ground, or the one declared for training
	Circle units.Circle
}

// correction is what the right answer has had added, such as −GMA on the way from grid
// to magnetic. It reports false where nothing is to be corrected.
func (t Task) correction() (units.Angle, bool) {
	switch t.North {
	case units.GridNorth:
		return t.GMA.Angle(), true
	case units.MagneticNorth:
		return -t.GMA.Angle(), true
	}
	return 0, false
}

// Made returns what the slip makes of the right answer, each in [0, 2π): mostly one
// bearing, none where the slip cannot be made, several where it has several forms.
// DigitsSwapped works on the answer as the circle prints it.
func (t Task) Made(s Slip) []units.Angle {
	if s == DigitsSwapped {
		return swapped(t.Circle.Figure(t.Right), t.Circle)
	}
	return t.move(s, t.Right, 1)
}

// Undone returns the right answers of which the slip makes the bearing said. It is the
// inverse of Made and does not look at the task's own right answer.
func (t Task) Undone(s Slip, said units.Angle) []units.Angle {
	if s == DigitsSwapped {
		return swapped(written(said, t.Circle), t.Circle)
	}
	return t.move(s, said, -1)
}

// move applies a slip to a bearing, or takes it back where sign is −1. What mirrors or
// turns by half the circle is its own inverse.
func (t Task) move(s Slip, a units.Angle, sign float64) []units.Angle {
	switch s {
	case HalfTurn, AlongEastings:
		var out []units.Angle
		for _, turn := range s.Turns() {
			out = append(out, a-turn*units.Angle(sign))
		}
		return turned(out...)
	case EastForWest, Anticlockwise:
		return turned(-a)
	case NorthForSouth:
		return turned(math.Pi - a)
	case TensMisread:
		ten := tens(t.Circle)
		return turned(a-ten, a+ten)
	}
	c, ok := t.correction()
	if !ok {
		return nil
	}
	c *= units.Angle(sign)
	switch s {
	case WrongSign:
		return turned(a - 2*c)
	case CorrectedTwice:
		return turned(a + c)
	case NotCorrected:
		return turned(a - c)
	}
	return nil
}

func turned(list ...units.Angle) []units.Angle {
	for i, a := range list {
		list[i] = a.Turn()
	}
	return list
}
