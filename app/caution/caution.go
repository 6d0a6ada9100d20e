package caution

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Code names a caution in files and for programs. It is stable and written in small
// letters, digits and hyphens.
type Code string

// Grade is how much a caution weighs.
type Grade int

// The grades, in order of weight. None is that of an empty list.
const (
	None Grade = iota
	Note       // know this
	Stop       // do not walk on it
)

// String is "", "note" or "stop".
func (g Grade) String() string {
	switch g {
	case Note:
		return "note"
	case Stop:
		return "stop"
	}
	return ""
}

// Affects says which figures a caution speaks of.
type Affects uint8

// The figures a caution may speak of.
const (
	Position Affects = 1 << iota // where something is on the grid
	Bearing                      // the grid bearing, with it distances
	Magnetic                     // the magnetic bearing and what to set
	LatLon                       // latitude and longitude, so what a receiver is sent
	Height                       // heights, slopes, climb and descent
	Time                         // walking time, the clock, and whether it is light

	OnLeg = Position | Bearing | Magnetic // what the mark of a leg stands for
	All   = OnLeg | LatLon | Height | Time
)

// Words are the names of the figures: "position", "bearing", "magnetic", "latlon",
// "height", "time".
func (a Affects) Words() []string {
	out := []string{}
	for i, word := range []string{"position", "bearing", "magnetic", "latlon", "height", "time"} {
		if a&(1<<i) != 0 {
			out = append(out, word)
		}
	}
	return out
}

// MostArgs is how many values a sentence may quote.
const MostArgs = 3

// Caution is one thing that speaks against a figure. It is comparable: equal cautions
// say the same. Make one with Of.
type Caution struct {
	Code    Code
	Subject string           // of what it speaks: "isle.tif", "the end", "mark A"; "" where that is plain
	Affects Affects          // what it speaks against here
	Args    [MostArgs]string // what its sentence quotes, with units, such as "12 m"; empty where it was read from a file
}

// Of returns the caution of a code with what its sentence quotes, in the order the
// table gives. Values beyond MostArgs are left out.
func Of(code Code, args ...string) Caution {
	c := Caution{Code: code, Affects: rowOf(code).affects}
	copy(c.Args[:], args)
	return c
}

// About returns the caution with its subject.
func (c Caution) About(subject string) Caution {
	c.Subject = subject
	return c
}

// Grade returns how much the caution weighs. A code without a row is a stop: it is
// of a later version, or the file is damaged.
func (c Caution) Grade() Grade { return rowOf(c.Code).grade }

// Stop reports whether nobody may walk on the figure.
func (c Caution) Stop() bool { return c.Grade() == Stop }

// Short returns two to five words for narrow places, in small letters.
func (c Caution) Short() string {
	if r := rowOf(c.Code); r.short != "" {
		return r.short
	}
	return "unknown caution “" + string(c.Code) + "”"
}

// Text returns what the caution says to people, in one or two sentences: what is
// wrong with the figure, then what to do. Where the values are missing that the
// sentence quotes, because a file keeps none, it is the short words.
func (c Caution) Text() string {
	text, names := rowOf(c.Code).text, false
	switch {
	case text == "":
		text = c.Short() + ". Do not walk on this figure until you know what it means."
	case !c.quotes(text):
		text = c.Short() + "."
		if c.Stop() {
			text += " Do not walk on it."
		}
	default:
		text, names = c.filled(text)
	}
	if c.Subject != "" && !names {
		return capital(c.Subject + ": " + capital(text))
	}
	return capital(text)
}

// quotes reports whether every value that a sentence quotes is there.
func (c Caution) quotes(text string) bool {
	for i, arg := range c.Args {
		if arg == "" && strings.Contains(text, placeholder(i)) {
			return false
		}
	}
	return true
}

// filled writes the values and the subject into a sentence; names says whether it
// has a place for the subject.
func (c Caution) filled(text string) (full string, names bool) {
	subject := c.Subject
	if subject == "" {
		subject = "this position"
	}
	pairs := []string{"{}", subject}
	for i, arg := range c.Args {
		pairs = append(pairs, placeholder(i), strings.TrimRight(arg, "."))
	}
	return strings.NewReplacer(pairs...).Replace(text), strings.Contains(text, "{}")
}

func placeholder(i int) string { return "{" + strconv.Itoa(i+1) + "}" }

// capital begins a sentence with a capital, unless its first word is the name of a
// file, which keeps its letters.
func capital(text string) string {
	word, _, _ := strings.Cut(text, " ")
	if strings.Contains(strings.TrimRight(word, ".:,"), ".") {
		return text
	}
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}
