package geodesy

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
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
	OnLines      bool    // of lat/lon: whole half-minutes typed in minutes, as maps print their lines
}

// Centre returns the centre of the reference's square and the standard
// deviation per axis of a position somewhere in it, side/√12. A latitude and
// longitude is itself, rounded to its last figure: its σ is that step's, along
// the meridian, for both axes. Easting and northing in full are exact.
func (r Ref) Centre() (Grid, float64) {
	half := r.SquareM / 2
	spread := r.SquareM + r.StepDeg*metresADegree
	return Grid{E: r.Grid.E + half, N: r.Grid.N + half}, spread / math.Sqrt(12)
}

// LineSigma is the standard deviation per axis, in metres, of a reference that was
// read at printed lines: 0, but for a latitude and longitude that is not on lines as
// maps print them, which is rounded.
func (r Ref) LineSigma() float64 {
	if r.OnLines {
		return 0
	}
	return r.StepDeg * metresADegree / math.Sqrt(12)
}

// metresADegree is the length of a degree of latitude, which is the longest on
// the ellipsoid near the poles, metres.
const metresADegree = 111_700

// RefContext is what is known when a reference is read. Both may be nil.
type RefContext struct {
	System *System // the sheet's grid; nil: guess from the reference
	Near   *Grid   // the sheet's ground: supplies letters that are missing
}

// RefError is the error of a reference that cannot be read, or that could mean
// two positions: what is wrong and what to do, and the texts that would be read,
// where there are any to offer.
type RefError struct {
	Text, Reason string
	Offers       []string
}

// Error puts what would be read first, for narrow lines cut a sentence at its end.
func (e *RefError) Error() string {
	if len(e.Offers) == 0 {
		return fmt.Sprintf("reference %q: %s", e.Text, e.Reason)
	}
	first, size := utf8.DecodeRuneInString(e.Reason)
	return fmt.Sprintf("did you mean %s, not %q? %c%s", strings.Join(e.Offers, " or "), e.Text, unicode.ToUpper(first), e.Reason[size:])
}

// offering adds texts that would be read.
func (e *RefError) offering(texts ...string) *RefError {
	e.Offers = append(e.Offers, texts...)
	return e
}
