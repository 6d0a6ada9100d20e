package geodesy

import (
	"fmt"
	"math"
)

// RefKind is the notation a reference was written in.
type RefKind int

// The notations that ParseRef reads.
const (
	RefPlain   RefKind = iota // easting and northing in metres
	RefLetters                // letters of a national grid
	RefMGRS                   // zone, band and square letters
	RefLatLon                 // latitude and longitude on WGS 84
)

// String names the notation for people.
func (k RefKind) String() string {
	switch k {
	case RefLetters:
		return "grid letters"
	case RefMGRS:
		return "MGRS"
	case RefLatLon:
		return "latitude and longitude"
	default:
		return "easting and northing"
	}
}

// Ref is a reference that was read.
type Ref struct {
	Grid         Grid    // the south-west corner, exactly
	SquareM      float64 // side of the square in metres; 0 for plain E N and lat/lon
	System       *System // the grid it is on
	LettersGiven bool    // false: the letters were taken from the sheet's ground
	Kind         RefKind
	StepDeg      float64 // of lat/lon: one of the last figure that was typed, the coarser of the two, in degrees
}

// Centre returns the centre of the reference's square and the standard
// deviation per axis of a place somewhere in it, side/√12. A plain reference
// is itself, with 0.
func (r Ref) Centre() (Grid, float64) {
	half := r.SquareM / 2
	return Grid{E: r.Grid.E + half, N: r.Grid.N + half}, r.SquareM / math.Sqrt(12)
}

// RefContext is what is known when a reference is read. Both may be nil.
type RefContext struct {
	System *System // the sheet's grid; nil: guess from the reference
	Near   *Grid   // the sheet's ground: supplies letters that are missing
}

// RefError is the error of a reference that cannot be read: what is wrong and
// what to do, and a text that would be read, where one can be offered.
type RefError struct {
	Text, Reason, Offer string
}

func (e *RefError) Error() string {
	if e.Offer != "" {
		return fmt.Sprintf("reference %q: %s; perhaps %s", e.Text, e.Reason, e.Offer)
	}
	return fmt.Sprintf("reference %q: %s", e.Text, e.Reason)
}
