package teach

import (
	"errors"
	"fmt"
	"slices"

	"legwright/app/units"
)

// MostGuesses is how many guesses one line takes of each kind: a group, not a crowd, for
// each is drawn.
const MostGuesses = 30

// mostDistanceM bounds a guessed distance, in metres.
const mostDistanceM = 1e6

// Errors of guesses.
var (
	ErrNoLine     = errors.New("there is no line to guess yet: drag one, or press Page Down")
	ErrAllGuessed = fmt.Errorf("there are already %d guesses: delete one to add another", MostGuesses)
	ErrNoGuess    = errors.New("a distance must be above 0 m and at most 1000 km: type one such as 850 m")
)

// guesses are those of one line.
type guesses struct {
	bearings []units.Angle
	north    units.North     // that the bearings count from
	numbers  [asks][]float64 // of all else, by what was asked
	drawn    bool            // over the sheet, while the figures are still hidden
}

// Ask returns what the group estimates.
func (l *Lesson) Ask() Ask { return l.ask }

// SetAsk sets what the group estimates. Guesses of the other kind are kept.
func (l *Lesson) SetAsk(a Ask) {
	if a == l.ask || a < 0 || a >= asks {
		return
	}
	l.ask = a
	l.tell()
}

// GuessNorth returns the north that guessed bearings count from: the one that they were
// asked from, also where another has been chosen since.
func (l *Lesson) GuessNorth() units.North {
	if len(l.guesses.bearings) > 0 {
		return l.guesses.north
	}
	return l.north
}

// GuessBearing adds a guess of the bearing, from GuessNorth. The errors are ErrNoLine and
// ErrAllGuessed.
func (l *Lesson) GuessBearing(a units.Angle) error {
	switch {
	case !l.has:
		return ErrNoLine
	case len(l.guesses.bearings) >= MostGuesses:
		return ErrAllGuessed
	case !a.IsFinite():
		return errors.New("the guessed bearing is not a number: type one such as 060")
	}
	l.guesses.north = l.GuessNorth()
	l.guesses.bearings = append(slices.Clone(l.guesses.bearings), a.Turn())
	l.tell()
	return nil
}

// GuessNumber adds a guess of a number: metres of distance or climb, minutes of walking.
// The errors are ErrNoLine, ErrAllGuessed and sentences on what cannot be one.
func (l *Lesson) GuessNumber(a Ask, v float64) error {
	if !l.has {
		return ErrNoLine
	}
	have := &l.guesses.numbers[a]
	if len(*have) >= MostGuesses {
		return ErrAllGuessed
	}
	if err := a.check(v); err != nil {
		return err
	}
	*have = append(slices.Clone(*have), v)
	l.tell()
	return nil
}

// GuessesDrawn reports whether the guesses are drawn over the sheet. Whoever guesses
// later would see beside the line how the others erred, so they are not at first; with
// the figures they always are.
func (l *Lesson) GuessesDrawn() bool { return l.guesses.drawn || !l.hidden }

// DrawGuesses draws the guesses over the sheet while the figures are still hidden. It
// does nothing where there are none, or none that can be drawn.
func (l *Lesson) DrawGuesses() {
	if l.GuessesDrawn() || l.Guessed() == 0 || !l.ask.OnSheet() {
		return
	}
	l.guesses.drawn = true
	l.tell()
}

// Bearings returns the guessed bearings, from GuessNorth, in the order they came in. Do
// not write into the slice.
func (l *Lesson) Bearings() []units.Angle { return l.guesses.bearings }

// Numbers returns the guesses of a number in the order they came in. Do not write into the
// slice.
func (l *Lesson) Numbers(a Ask) []float64 { return l.guesses.numbers[a] }

// Guessed returns how many guesses there are of what is asked.
func (l *Lesson) Guessed() int {
	if l.ask == AskBearing {
		return len(l.guesses.bearings)
	}
	return len(l.guesses.numbers[l.ask])
}

// RemoveGuess removes one guess of what is asked by its place in the list. A place
// outside it does nothing.
func (l *Lesson) RemoveGuess(i int) {
	if i < 0 || i >= l.Guessed() {
		return
	}
	g := &l.guesses
	if l.ask == AskBearing {
		g.bearings = slices.Delete(slices.Clone(g.bearings), i, i+1)
	} else {
		g.numbers[l.ask] = slices.Delete(slices.Clone(g.numbers[l.ask]), i, i+1)
	}
	l.tell()
}

// ClearGuesses removes all guesses of what is asked.
func (l *Lesson) ClearGuesses() {
	if l.Guessed() == 0 {
		return
	}
	if l.ask == AskBearing {
		l.guesses.bearings = nil
	} else {
		l.guesses.numbers[l.ask] = nil
	}
	l.tell()
}

// MedianBearing returns the median of the guessed bearings, from GuessNorth. See
// CircularMedian.
func (l *Lesson) MedianBearing() (units.Angle, bool) { return CircularMedian(l.guesses.bearings) }

// MedianNumber returns the median of the guesses of a number; false without any.
func (l *Lesson) MedianNumber(a Ask) (float64, bool) {
	d := slices.Sorted(slices.Values(l.guesses.numbers[a]))
	if len(d) == 0 {
		return 0, false
	}
	return (d[(len(d)-1)/2] + d[len(d)/2]) / 2, true
}
