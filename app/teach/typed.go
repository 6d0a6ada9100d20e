package teach

import (
	"fmt"
	"strings"

	"legwright/app/units"
)

// BadGuess is the error of guesses typed in a row: the one that is wrong, and what to do.
type BadGuess struct {
	Text string // the guess, as typed
	Want string // what is wrong with it and what to type, in words
}

func (e *BadGuess) Error() string { return fmt.Sprintf("%q %s", e.Text, e.Want) }

// ParseBearings reads guessed bearings typed in a row, such as "040 055 70", in the units
// of the circle c. They count from the north given; a guess that names another one is
// refused. Either all are read or none. The error is a *BadGuess.
func ParseBearings(text string, north units.North, c units.Circle) ([]units.Angle, error) {
	var out []units.Angle
	for _, word := range guessWords(text, true) {
		a, said, err := units.ParseBearingNorth(word, c)
		switch {
		case err != nil:
			return nil, &BadGuess{word, fmt.Sprintf("is not a bearing: type figures from 0 to %g with spaces between them", c.PerTurn())}
		case said != units.NoNorth && said != north:
			return nil, &BadGuess{word, fmt.Sprintf("is from another north: these guesses are from %s north", north.Long())}
		}
		out = append(out, a)
	}
	return out, nil
}

// ParseDistances reads guessed distances typed in a row, such as "850 900 m 1.2 km", in
// metres. Either all are read or none. The error is a *BadGuess.
func ParseDistances(text string) ([]float64, error) {
	var out []float64
	for _, word := range guessWords(text, false) {
		m, err := units.ParseMetres(word)
		switch {
		case thousands(word):
			return nil, &BadGuess{word, "can be read in two ways: type it without the comma"}
		case err != nil || m <= 0 || m > mostDistanceM:
			return nil, &BadGuess{word, "is not a distance: type metres above 0, such as 850, or 1.2 km"}
		}
		out = append(out, m)
	}
	return out, nil
}

// guessWords splits a row of guesses. A unit or a north after a blank belongs to the
// figure before it. Between bearings a comma before three digits parts two guesses.
func guessWords(text string, bearings bool) []string {
	if bearings {
		text = partThrees(text)
	}
	var out []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\n;\u00a0", r) }) {
		word = strings.Trim(word, ",")
		if word == "" {
			continue
		}
		if len(out) > 0 && !strings.ContainsAny(word, "0123456789") && strings.ContainsAny(out[len(out)-1], "0123456789") {
			out[len(out)-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// partThrees puts a blank for each comma that three digits follow: "040,055" are two.
func partThrees(text string) string {
	out := []byte(text)
	for i, b := range out {
		if b == ',' && digitsAt(text, i+1) == 3 {
			out[i] = ' '
		}
	}
	return string(out)
}

// thousands reports whether three digits follow a comma, as in "1,200".
func thousands(word string) bool {
	i := strings.IndexByte(word, ',')
	return i >= 0 && digitsAt(word, i+1) == 3
}

// digitsAt counts the digits that stand in a text from a place on.
func digitsAt(text string, i int) int {
	n := 0
	for ; i < len(text) && text[i] >= '0' && text[i] <= '9'; i++ {
		n++
	}
	return n
}
