package misread

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"legwright/app/units"
)

// Finding is a slip that explains a wrong answer.
type Finding struct {
	Slip  Slip
	Makes units.Angle // what the slip makes of the right answer, in [0, 2π)
	Off   units.Angle // from there clockwise to the wrong answer, in (−π, π]
}

// hair is what rounding may add to an angle in radians.
const hair = 1e-9

// IsRight reports whether the answer is right within the tolerance.
func (t Task) IsRight(said, tolerance units.Angle) bool {
	return apart(said, t.Right) <= math.Max(0, tolerance.Rad())+hair
}

// Explain returns every slip that turns the right answer into the one given, within
// the tolerance, the nearest first; slips that make the same figure stand in the order
// of Slips. It returns none where the answer is right, and none that moves the answer
// by twice the tolerance or less. A tolerance below zero counts as zero.
func (t Task) Explain(said, tolerance units.Angle) []Finding {
	within := math.Max(0, tolerance.Rad())
	var out []Finding
	for _, s := range Slips() {
		var best *Finding
		for _, made := range t.Made(s) {
			f := Finding{Slip: s, Makes: made, Off: (said - made).Signed()}
			if !t.tells(made, within) || !(math.Abs(f.Off.Rad()) <= within+hair) {
				continue
			}
			if best == nil || math.Abs(f.Off.Rad()) < math.Abs(best.Off.Rad()) {
				best = &f
			}
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	slices.SortStableFunc(out, func(a, b Finding) int { return cmp.Compare(nearness(a), nearness(b)) })
	return out
}

// nearness orders findings; what differs by rounding alone is equal.
func nearness(f Finding) float64 { return math.Round(math.Abs(f.Off.Rad()) / hair) }

// TooSmall returns the slips that can be made here but move the right answer by twice
// the tolerance or less, so that Explain never names them.
func (t Task) TooSmall(tolerance units.Angle) []Slip {
	within := math.Max(0, tolerance.Rad())
	var out []Slip
	for _, s := range Slips() {
		made := t.Made(s)
		told := func(a units.Angle) bool { return t.tells(a, within) }
		if len(made) > 0 && !slices.ContainsFunc(made, told) {
			out = append(out, s)
		}
	}
	return out
}

// tells reports whether what a slip made lies too far from the right answer to be a
// rough reading of it.
func (t Task) tells(made units.Angle, within float64) bool {
	return apart(made, t.Right) > 2*within+hair
}

func apart(a, b units.Angle) float64 { return math.Abs((a - b).Signed().Rad()) }

// Say tells a group what the slip did, such as "Read off the wrong end, half a turn
// out: 057° grid becomes 237° grid." Slips of the GMA say which way it went.
func (t Task) Say(f Finding) string {
	words := f.Slip.Words()
	if f.Slip.OfGMA() {
		words = t.gmaWords(f.Slip)
	}
	figure := func(a units.Angle) string { return t.North.Figure(t.Circle, a) }
	return strings.ToUpper(words[:1]) + words[1:] + ": " + figure(t.Right) + " becomes " + figure(f.Makes) + "."
}

// gmaWords says what was done with the GMA: "the GMA of 12° east was added, not taken
// off". They hold for a grid bearing that was read from the map too, and then given with
// a correction that nobody asked for.
func (t Task) gmaWords(s Slip) string {
	c, ok := t.correction()
	if !ok || c == 0 {
		return s.Words()
	}
	right, wrong := "added", "taken off"
	if c < 0 {
		right, wrong = wrong, right
	}
	gma := "the GMA of " + t.Circle.GMAFigure(t.GMA) + " was "
	switch s {
	case WrongSign:
		return gma + wrong + ", not " + right
	case CorrectedTwice:
		return gma + right + " once too often"
	}
	if t.North == units.GridNorth {
		return "the GMA of " + t.Circle.GMAFigure(t.GMA) + " was not applied, so this is the magnetic bearing"
	}
	return gma + "not " + right + ", so this is the grid bearing"
}
