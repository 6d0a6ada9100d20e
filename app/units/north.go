package units

import (
	"fmt"
	"strings"
	"unicode"
)

// North is the direction that a bearing is measured from.
type North int

// The three norths of a map. The zero value is no north at all: a figure whose north
// nobody has said.
const (
	NoNorth North = iota
	GridNorth
	MagneticNorth
	TrueNorth
)

// Norths lists the three norths in the order they are offered.
func Norths() []North { return []North{GridNorth, MagneticNorth, TrueNorth} }

// String returns the word that stands behind a bearing, as in "057° grid" and "059°
// mag". It is "" where no north was named.
func (n North) String() string {
	switch n {
	case GridNorth:
		return "grid"
	case MagneticNorth:
		return "mag"
	case TrueNorth:
		return "true"
	}
	return ""
}

// Long returns the whole word for this north, as in "magnetic north", or "".
func (n North) Long() string {
	if n == MagneticNorth {
		return "magnetic"
	}
	return n.String()
}

// Letter returns the letter that marks this north on a drawing, or "".
func (n North) Letter() string {
	switch n {
	case GridNorth:
		return "G"
	case MagneticNorth:
		return "M"
	case TrueNorth:
		return "T"
	}
	return ""
}

// Figure writes a bearing in the circle's step with the north that it is measured
// from, such as "057° grid", or without one where none was named.
func (n North) Figure(c Circle, a Angle) string {
	return strings.TrimSpace(c.Figure(a) + " " + n.String())
}

// northWord reads one word for a north, in any case and with a full stop or not.
func northWord(word string) North {
	switch strings.ToLower(strings.TrimSuffix(word, ".")) {
	case "g", "grid":
		return GridNorth
	case "m", "mag", "magnetic":
		return MagneticNorth
	case "t", "true":
		return TrueNorth
	}
	return NoNorth
}

// ParseBearingNorth reads a typed bearing with its north, before or behind it: "060
// grid", "60°g", "060 mag", "1010 mil magnetic", "T 060". The figure is read as
// ParseBearing reads it, in the units of the circle c. A bearing that names no north
// returns NoNorth and no error, so that the caller can ask for it. The error is a
// *BadText.
func ParseBearingNorth(text string, c Circle) (Angle, North, error) {
	body, north := cutNorth(strings.TrimSpace(text))
	a, err := ParseBearing(body, c)
	if err != nil {
		want := "type a bearing from 0 to %g and its north, such as %[2]s grid, %[2]s mag or %[2]s true"
		return 0, NoNorth, &BadText{Text: text, Want: fmt.Sprintf(want, c.PerTurn(), c.plainBearing(Degrees(60)))}
	}
	return a, north, nil
}

// plainBearing writes a bearing as a person types it: without the circle's sign.
func (c Circle) plainBearing(a Angle) string {
	return strings.TrimSuffix(c.Figure(a), c.spec().mark)
}

// cutNorth takes the word for a north off the end of a text, or off its front. Where
// both ends name one, only the end's is taken: the rest is not a bearing then.
func cutNorth(text string) (string, North) {
	text = cutWord(text)
	if at := strings.LastIndexFunc(text, notOfWord) + 1; at > 0 {
		for at < len(text) && text[at]&0xC0 == 0x80 { // behind the whole letter, not inside it
			at++
		}
		if n := northWord(text[at:]); n != NoNorth {
			return strings.TrimSpace(text[:at]), n
		}
	}
	if at := strings.IndexFunc(text, notOfWord); at > 0 {
		if n := northWord(text[:at]); n != NoNorth {
			return strings.TrimSpace(text[at:]), n
		}
	}
	return text, NoNorth
}

// cutWord drops a closing "north", as in "60 grid north".
func cutWord(text string) string {
	if at := len(text) - len("north"); at > 0 && strings.EqualFold(text[at:], "north") {
		return strings.TrimSpace(text[:at])
	}
	return text
}

func notOfWord(r rune) bool { return !unicode.IsLetter(r) && r != '.' }
