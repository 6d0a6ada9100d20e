package misread

import (
	"math"

	"legwright/app/units"
)

// Slip is one usual mistake in reading or setting a bearing. The zero value is none.
type Slip int

// The slips, in the order they are listed.
const (
	HalfTurn       Slip = iota + 1 // the far end of plate, housing or needle: half a turn out
	AlongEastings                  // the housing's lines on the grid lines that run east and west
	EastForWest                    // mirrored on the line from north to south
	Anticlockwise                  // counted against the clock: the same figure as EastForWest
	NorthForSouth                  // mirrored on the line from west to east
	WrongSign                      // the GMA added instead of taken off, or the other way
	CorrectedTwice                 // the GMA applied by hand and by the compass
	NotCorrected                   // grid taken for magnetic, or magnetic for grid
	TensMisread                    // the printed figure beside the right one
	DigitsSwapped                  // two digits of the figure swapped
)

// Slips lists every slip.
func Slips() []Slip {
	return []Slip{
		HalfTurn, AlongEastings, EastForWest, Anticlockwise, NorthForSouth,
		WrongSign, CorrectedTwice, NotCorrected, TensMisread, DigitsSwapped,
	}
}

// slipText is how one slip is written for programs and for people.
type slipText struct{ code, words, advice string }

func (s Slip) text() slipText {
	switch s {
	case HalfTurn:
		return slipText{
			"half-turn", "read off the wrong end",
			"Point the travel arrow where you are going, turn the housing's north to the map's north, and keep the needle's north end at the housing's north.",
		}
	case AlongEastings:
		return slipText{
			"lines-along-eastings", "the housing's lines along the east–west grid lines",
			"Turn the housing until its lines lie along the north–south grid lines and its N points to grid north.",
		}
	case EastForWest:
		return slipText{"east-for-west", "east and west mixed up", "Say whether the line goes east or west before you read the figure."}
	case Anticlockwise:
		return slipText{"anticlockwise", "the circle read anticlockwise", "Count the figures clockwise: from north through east."}
	case NorthForSouth:
		return slipText{"north-for-south", "north and south mixed up", "Say whether the line goes north or south before you read the figure."}
	case WrongSign:
		return slipText{"gma-wrong-way", "the GMA applied the wrong way", "With an east GMA the magnetic bearing is smaller than the grid bearing; with a west GMA it is larger."}
	case CorrectedTwice:
		return slipText{"gma-twice", "the GMA applied twice", "Correct once: by hand, or with a compass that has its declination set."}
	case NotCorrected:
		return slipText{"gma-forgotten", "the GMA forgotten", "Correct every bearing that goes from the map to the compass or back."}
	case TensMisread:
		return slipText{"tens-misread", "the tens on the housing misread", "Read the printed figures on both sides of the index line, then count the lines between them."}
	case DigitsSwapped:
		return slipText{"digits-swapped", "two digits swapped", "Say the figure digit by digit and read it back."}
	}
	return slipText{}
}

// Code names the slip for programs, such as "half-turn".
func (s Slip) Code() string { return s.text().code }

// Words says in a coach's words what went wrong, such as "read off the wrong end, half
// a turn out". It starts small and has no full stop.
func (s Slip) Words() string { return s.text().words }

// Advice says in a sentence what keeps one from the slip.
func (s Slip) Advice() string { return s.text().advice }

// OfGMA reports whether the slip is one of applying the grid-magnetic angle.
func (s Slip) OfGMA() bool { return s == WrongSign || s == CorrectedTwice || s == NotCorrected }

// NeedsCompass reports whether the slip is one of setting a housing or of reading or saying
// a printed figure, which nobody makes who guesses by eye.
func (s Slip) NeedsCompass() bool {
	return s == AlongEastings || s == TensMisread || s == DigitsSwapped
}

// Turns lists how far clockwise a slip turns the housing on the map: by half a turn, or by
// a quarter, as its N may point either way along the eastings. The bearing read is too
// small by as much. It is empty for a slip that turns no housing.
func (s Slip) Turns() []units.Angle {
	switch s {
	case HalfTurn:
		return []units.Angle{math.Pi}
	case AlongEastings:
		return []units.Angle{math.Pi / 2, -math.Pi / 2}
	}
	return nil
}
