package projector

import (
	"fmt"

	"legwright/app/leg"
	"legwright/app/teach"
	"legwright/app/units"
)

// counted says how many guesses there are.
func counted(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 guess"
	}
	return fmt.Sprintf("%d guesses", n)
}

// guessed says the median of what the group guessed, and how far that is out. Where nobody
// may walk on the reading it judges no guess by it.
func guessed(l *teach.Lesson, r leg.Reading, g leg.Going, c units.Circle, stopped bool) string {
	text := counted(l.Guessed())
	if text == "" || stopped {
		return text
	}
	middle, difference := middleBearing(l, r, c)
	if l.Ask() != teach.AskBearing {
		middle, difference = middleNumber(l, r, g)
	}
	switch {
	case middle == "":
		return text + ", no median"
	case l.Guessed() == 1:
		text = "guess " + middle
	default:
		text += ", median " + middle
	}
	if difference != "" {
		text += ": " + difference
	}
	return text
}

// middleBearing is the median of the guessed bearings and its difference in words: "" for
// both where the guesses have none, and for the difference where their north is not known.
func middleBearing(l *teach.Lesson, r leg.Reading, c units.Circle) (middle, difference string) {
	m, ok := l.MedianBearing()
	if !ok {
		return "", ""
	}
	north := l.GuessNorth()
	truth, known := r.Grid.Angle(), true
	switch north {
	case units.MagneticNorth:
		truth, known = r.Magnetic.Angle(), r.HasMagnetic
	case units.TrueNorth:
		truth = r.True.Angle()
	}
	if known {
		difference = teach.Difference(m, truth, c)
	}
	return north.Figure(c, m), difference
}

// middleNumber is the median of the guessed numbers and its difference in words, "" where
// the truth is not known.
func middleNumber(l *teach.Lesson, r leg.Reading, g leg.Going) (middle, difference string) {
	a := l.Ask()
	m, ok := l.MedianNumber(a)
	if !ok {
		return "", ""
	}
	if truth, _, ok := a.Truth(r, g); ok {
		difference = a.Difference(m, truth)
	}
	return a.Figure(m), difference
}
