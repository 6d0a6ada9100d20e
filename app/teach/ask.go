package teach

import (
	"errors"
	"fmt"
	"math"
	"time"

	"legwright/app/leg"
	"legwright/app/units"
)

// Ask is what a group estimates.
type Ask int

// What may be estimated. Bearing is the default; all others are numbers: metres on the
// ground, metres of climb, minutes of walking without rests.
const (
	AskBearing Ask = iota
	AskDistance
	AskClimb
	AskTime
)

// asks is how many there are.
const asks = 4

// Name is the word to choose it by.
func (a Ask) Name() string { return [...]string{"bearing", "distance", "climb", "time"}[a] }

// Asks lists what may be estimated.
func Asks() []Ask { return []Ask{AskBearing, AskDistance, AskClimb, AskTime} }

// Question is what the group is asked; bearings are from a north.
func (a Ask) Question(north units.North) string {
	switch a {
	case AskDistance:
		return "How far is it?"
	case AskClimb:
		return "How many metres does it climb?"
	case AskTime:
		return "How many minutes does it take to walk?"
	}
	return "What is the bearing from " + north.Long() + " north?"
}

// Verb leads from the line to its answer: it "has" 120 m of climb.
func (a Ask) Verb() string { return [...]string{"is", "is", "has", "takes"}[a] }

// OnSheet reports whether guesses of it can be drawn on the sheet.
func (a Ask) OnSheet() bool { return a == AskBearing || a == AskDistance }

// Figure writes a number of it, such as "850 m" or "25 min".
func (a Ask) Figure(v float64) string {
	if a == AskTime {
		return units.Minutes(time.Duration(v * float64(time.Minute)))
	}
	return units.Metres(v, 0)
}

// Truth is the number that is asked for, with how it is written; false where it is not
// known, as climb and time without terrain.
func (a Ask) Truth(r leg.Reading, g leg.Going) (v float64, figure string, ok bool) {
	known := g.Climb.Known() && g.Descent.Known()
	switch {
	case a == AskDistance:
		return r.GroundM, units.Metres(r.GroundM, r.DistanceSigmaM), true
	case a == AskClimb && known:
		return g.Climb.M, a.Figure(g.Climb.M) + " of climb", true
	case a == AskTime && known && g.Time > 0:
		return g.Time.Minutes(), units.Minutes(g.Time) + " of walking, without rests", true
	}
	return 0, "", false
}

// Difference says how far a guessed number is from the true one: "250 m too short (a
// fifth)", "40 m too much (half)".
func (a Ask) Difference(guess, truth float64) string {
	guess, truth = math.Round(guess), math.Round(truth) // as they are shown
	off := guess - truth
	side, other := "long", "short"
	if a == AskClimb {
		side, other = "much", "little"
	}
	if off < 0 {
		side = other
	}
	size := a.Figure(math.Abs(off))
	switch {
	case off == 0:
		return "the same figure"
	case truth <= 0:
		return fmt.Sprintf("%s too %s", size, side)
	}
	return fmt.Sprintf("%s too %s (%s)", size, side, share(math.Abs(off)/truth, off < 0))
}

// most bounds a guess, and zero says whether 0 is one.
func (a Ask) most() (most float64, zero bool) {
	switch a {
	case AskClimb:
		return 9000, true
	case AskTime:
		return 48 * 60, false
	}
	return mostDistanceM, false
}

// check refuses what cannot be a guess.
func (a Ask) check(v float64) error {
	most, zero := a.most()
	if v > 0 && v <= most || zero && v == 0 {
		return nil
	}
	switch a {
	case AskClimb:
		return errors.New("a climb must be 0 m or more and at most 9000 m: type one such as 120 m")
	case AskTime:
		return errors.New("a walking time must be above 0 and at most 48 hours: type minutes, such as 25")
	}
	return ErrNoGuess
}

// Going is what is known of walking along the lesson's line. Errors: ErrNoLine, and those
// of leg.Reader.Read.
func (l *Lesson) Going(r *leg.Reader) (leg.Going, error) {
	if !l.has {
		return leg.Going{}, ErrNoLine
	}
	p := r.Plan()
	return r.Going(l.line.ID, p.Resolve(l.line.From), p.Resolve(l.line.To))
}
