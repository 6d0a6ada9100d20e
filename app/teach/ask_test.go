package teach_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"legwright/app/leg"
	"legwright/app/teach"
)

// The truth of a climb or a time is known only where the ground is: never zero, never the
// time on the flat.
func TestTruthOfNumbers(t *testing.T) {
	t.Parallel()
	hill := leg.Going{Climb: leg.Rise{M: 120, From: leg.RiseTerrain}, Descent: leg.Rise{From: leg.RiseCounted}, Time: 25 * time.Minute}
	flat := leg.Going{Time: 13 * time.Minute}
	half := leg.Going{Climb: leg.Rise{M: 120, From: leg.RiseCounted}, Time: 25 * time.Minute}
	r := leg.Reading{GroundM: 850, DistanceSigmaM: 10}
	for _, c := range []struct {
		ask    teach.Ask
		g      leg.Going
		want   float64
		figure string
	}{
		{teach.AskDistance, flat, 850, "850 m ± 20"},
		{teach.AskClimb, hill, 120, "120 m of climb"},
		{teach.AskTime, hill, 25, "25 min of walking, without rests"},
		{teach.AskClimb, flat, 0, ""},
		{teach.AskTime, flat, 0, ""},
		{teach.AskClimb, half, 0, ""},
		{teach.AskTime, half, 0, ""},
		{teach.AskTime, leg.Going{Climb: hill.Climb, Descent: hill.Descent}, 0, ""},
		{teach.AskBearing, hill, 0, ""},
	} {
		v, figure, ok := c.ask.Truth(r, c.g)
		if v != c.want || figure != c.figure || ok != (c.figure != "") {
			t.Errorf("%s of %+v: got %g, %q, %v, want %g, %q", c.ask.Name(), c.g, v, figure, ok, c.want, c.figure)
		}
	}
}

func TestDifferenceOfNumbers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		ask          teach.Ask
		guess, truth float64
		want         string
	}{
		{teach.AskClimb, 160, 120, "40 m too much (a third)"},
		{teach.AskClimb, 60, 120, "60 m too little (half)"},
		{teach.AskClimb, 30, 0, "30 m too much"},
		{teach.AskClimb, 120.3, 119.8, "the same figure"},
		{teach.AskTime, 20, 25, "5 min too short (a fifth)"},
		{teach.AskTime, 100, 30, "1 h 10 too long (3 times the true figure)"},
	} {
		if got := c.ask.Difference(c.guess, c.truth); got != c.want {
			t.Errorf("%s, guess %g, truth %g: got %q, want %q", c.ask.Name(), c.guess, c.truth, got, c.want)
		}
	}
}

// Climbs are metres, times minutes or hours and minutes; what is neither is refused with
// what to type.
func TestNumbersInARow(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		ask  teach.Ask
		text string
		want []float64
	}{
		{teach.AskClimb, "0 40 m 120", []float64{0, 40, 120}},
		{teach.AskClimb, "-40", nil},
		{teach.AskClimb, "9001", nil},
		{teach.AskClimb, "1,200", nil},
		{teach.AskTime, "25 40 min 1:10 7,5", []float64{25, 40, 70, 7.5}},
		{teach.AskTime, "1 h 10", nil},
		{teach.AskTime, "1:75", nil},
		{teach.AskTime, "0", nil},
		{teach.AskTime, "-5", nil},
		{teach.AskTime, "NaN", nil},
		{teach.AskTime, "49:00", nil},
		{teach.AskTime, "soon", nil},
	} {
		got, err := teach.ParseNumbers(c.text, c.ask)
		if (err == nil) != (c.want != nil) || len(got) != len(c.want) {
			t.Errorf("%s %q: got %v, %v, want %v", c.ask.Name(), c.text, got, err, c.want)
			continue
		}
		if err != nil && !strings.Contains(err.Error(), "type") {
			t.Errorf("%s %q: %v does not say what to type", c.ask.Name(), c.text, err)
		}
		for i, v := range got {
			if math.Abs(v-c.want[i]) > 1e-9 {
				t.Errorf("%s %q: guess %d is %v, want %v", c.ask.Name(), c.text, i+1, v, c.want[i])
			}
		}
	}
}

// Guesses of climb and time are kept apart, have their median, and are never drawn on the
// sheet: what comes after them is the answer.
func TestGuessesOfClimbAndTime(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.Show(lineOf(1))
	l.SetHidden(true)
	l.SetAsk(teach.AskClimb)
	for _, v := range []float64{40, 0, 120} {
		must(t, l.GuessNumber(teach.AskClimb, v))
	}
	must(t, l.GuessNumber(teach.AskTime, 25))
	if m, ok := l.MedianNumber(teach.AskClimb); !ok || m != 40 || l.Guessed() != 3 || len(l.Numbers(teach.AskTime)) != 1 {
		t.Errorf("median %v, %v of %d guesses", m, ok, l.Guessed())
	}
	if l.DrawGuesses(); l.GuessesDrawn() {
		t.Error("guesses of a climb are drawn on the sheet")
	}
	if l.Next(); l.Hidden() {
		t.Error("Next does not show the answer")
	}
	for _, bad := range []float64{-1, 9001, math.NaN(), math.Inf(1)} {
		if l.GuessNumber(teach.AskClimb, bad) == nil {
			t.Errorf("took a climb of %v m", bad)
		}
	}
}
