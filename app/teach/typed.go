package teach

import (
	"errors"
	"fmt"
	"strconv"
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

// ParseNumbers reads guesses of a number typed in a row, such as "850 900 m 1.2 km" or "25
// 40 min 1:10". Either all are read or none. The error is a *BadGuess.
func ParseNumbers(text string, a Ask) ([]float64, error) {
	var out []float64
	for _, word := range guessWords(text, false) {
		v, err := a.parse(word)
		if thousands(word) {
			return nil, &BadGuess{word, "can be read in two ways: type it without the comma"}
		}
		if err != nil || a.check(v) != nil {
			return nil, &BadGuess{word, a.wanted()}
		}
		out = append(out, v)
	}
	return out, nil
}

// parse reads one number.
func (a Ask) parse(word string) (float64, error) {
	if a != AskTime {
		return units.ParseMetres(word)
	}
	word = strings.TrimSpace(strings.TrimSuffix(word, "min"))
	hours, minutes, clock := strings.Cut(word, ":")
	if !clock {
		hours, minutes = "0", strings.ReplaceAll(word, ",", ".")
	}
	h, errH := strconv.Atoi(hours)
	m, errM := strconv.ParseFloat(minutes, 64)
	if err := errors.Join(errH, errM); err != nil {
		return 0, err
	}
	if clock && (h < 0 || m < 0 || m >= 60) {
		return 0, errors.New("no such time")
	}
	return float64(60*h) + m, nil
}

// wanted says what to type instead of a bad guess.
func (a Ask) wanted() string {
	switch a {
	case AskClimb:
		return "is not a climb: type metres from 0 to 9000, such as 120"
	case AskTime:
		return "is not a walking time: type minutes, such as 25, or hours and minutes, such as 1:10"
	}
	return "is not a distance: type metres above 0, such as 850, or 1.2 km"
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
