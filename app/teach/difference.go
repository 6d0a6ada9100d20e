package teach

import (
	"fmt"
	"math"

	"legwright/app/units"
)

// Difference says how far a guessed bearing is from the true one, and toward which
// cardinal direction: "12° too far east". It is the difference of the two printed
// figures.
func Difference(guess, truth units.Angle, c units.Circle) string {
	diff := printedTurn(guess, truth, c)
	size := c.Amount(units.Angle(math.Abs(diff.Rad())))
	switch {
	case diff == 0:
		return "the same figure"
	case math.Abs(diff.Deg()) >= 180-tiny:
		return size + " out: the opposite direction"
	case math.Abs(diff.Deg()) > nearlyBackDeg:
		return size + " out: nearly the opposite direction"
	}
	return size + " too far " + errsToward(truth, diff)
}

// nearlyBackDeg is from where a difference is better called the wrong end.
const nearlyBackDeg = 150

// errsToward names the cardinal direction to which a turn from a bearing leads: the next
// one ahead of its middle.
func errsToward(from, turn units.Angle) string {
	middle := (from + turn/2).Turn().Deg() / 90
	if turn > 0 {
		return cardinal(int(math.Floor(middle+tiny)) + 1)
	}
	return cardinal(int(math.Ceil(middle-tiny)) - 1)
}

// printedTurn is the turn from one bearing to another as their printed figures have it,
// at most half a circle.
func printedTurn(to, from units.Angle, c units.Circle) units.Angle {
	step := c.Step()
	steps := math.Round(float64(to.Turn()/step)) - math.Round(float64(from.Turn()/step))
	turn := units.Angle(steps) * step
	if math.Abs(math.Abs(turn.Deg())-180) < tiny { // half a circle has no side
		return units.Angle(math.Pi)
	}
	return turn.Signed()
}

// share says a part of a whole as people do; short says that the part is missing.
func share(part float64, short bool) string {
	switch {
	case short && part > 0.875:
		return "nearly all"
	case part < 0.025:
		return "very little"
	case part >= 1.75:
		return fmt.Sprintf("%.0f times the true figure", 1+part)
	}
	best, words := math.Inf(1), ""
	for _, s := range []struct {
		part  float64
		words string
	}{
		{1.0 / 20, "a twentieth"},
		{1.0 / 10, "a tenth"},
		{1.0 / 7, "a seventh"},
		{1.0 / 5, "a fifth"},
		{1.0 / 4, "a quarter"},
		{1.0 / 3, "a third"},
		{1.0 / 2, "half"},
		{2.0 / 3, "two thirds"},
		{3.0 / 4, "three quarters"},
		{1.0, "twice the true figure"},
		{1.5, "2½ times the true figure"},
	} {
		if d := math.Abs(math.Log(part / s.part)); d < best {
			best, words = d, s.words
		}
	}
	return words
}
