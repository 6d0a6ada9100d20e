package teach

import (
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/misread"
	"legwright/app/units"
)

// Care is how exactly a group read its bearings, which decides what counts as the same
// figure.
type Care int

// Guessed by eye, or read with a compass. By eye is the default.
const (
	ByEye Care = iota
	WithCompass
)

// Tolerance is what still counts as the same bearing, either way (common practice, no
// source).
func (c Care) Tolerance() units.Angle {
	if c == WithCompass {
		return units.Degrees(3)
	}
	return units.Degrees(10)
}

// Explained is a guessed bearing with what may have made it.
type Explained struct {
	Guess    units.Angle // from Lesson.GuessNorth
	Right    bool        // within the tolerance
	Findings []misread.Finding
}

// Words says what may have made the guess: "read off the wrong end", all slips
// that make the same figure, or "" where none does.
func (e Explained) Words() string {
	var words []string
	for _, f := range e.Findings {
		words = append(words, f.Slip.Words())
	}
	return strings.Join(words, ", or ")
}

// Explain names the slips behind each guessed bearing, in the order that they came in, by
// the reading of the lesson's line (see Read). It returns nothing while the figures are
// hidden, for a slip gives the truth away, and nothing where a stop stands against the
// bearing or there is no such bearing: then there is nothing to measure a guess by. The
// stop of a training GMA, which is for walking, does not count.
func (l *Lesson) Explain(r leg.Reading, care Care, c units.Circle) []Explained {
	task, ok := l.taskOf(r, c)
	if !ok || l.hidden || l.ask != AskBearing {
		return nil
	}
	var out []Explained
	for _, guess := range l.guesses.bearings {
		e := Explained{Guess: guess, Right: task.IsRight(guess, care.Tolerance())}
		e.Findings = slices.DeleteFunc(task.Explain(guess, care.Tolerance()), func(f misread.Finding) bool {
			return care == ByEye && f.Slip.NeedsCompass()
		})
		out = append(out, e)
	}
	return out
}

// taskOf is what the group was asked, with the right answer; false where there is none.
func (l *Lesson) taskOf(r leg.Reading, c units.Circle) (misread.Task, bool) {
	north := l.GuessNorth()
	if north == units.MagneticNorth && !r.HasMagnetic || stopsBut(ofBearing(r.Cautions, nil), caution.TrainingGMA) {
		return misread.Task{}, false
	}
	task := misread.Task{Right: bearingFrom(r, north, nil), North: north, Circle: c}
	if r.HasMagnetic {
		task.GMA = r.GMA
	}
	return task, true
}

// Say is what a coach says of a slip behind a guess: which figure became which, and what
// keeps one from it.
func (l *Lesson) Say(r leg.Reading, f misread.Finding, c units.Circle) string {
	task, ok := l.taskOf(r, c)
	if !ok || l.hidden {
		return ""
	}
	return task.Say(f) + " " + f.Slip.Advice()
}
