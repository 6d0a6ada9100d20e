package teach

import (
	"strings"

	"legwright/app/units"
)

// StepWords are what a coach says at a step.
type StepWords struct {
	Do    string // what to do
	See   string // how to see that it is right
	Slip  string // what has been done wrong up to here; "" for nothing
	Index string // the figure at the index with its north, "" where it means nothing yet
}

// Words returns what a coach says at the step.
func (s Stepping) Words(t CompassTask) StepWords {
	w := StepWords{}
	if s.Step > t.Reach(s.Way) {
		w.Do = "Stop here: no magnetic bearing can be trusted on this line, so there is no correction to make."
		w.See = "Check the date of the outing and the grid of the sheet."
		return w
	}
	if s.Way == MapToGround {
		w.Do, w.See = s.toGround(t)
	} else {
		w.Do, w.See = s.toMap(t)
	}
	w.Index = s.index(t)
	if s.slipped(t) {
		w.Slip = s.slipWords(t)
	}
	return w
}

// toGround are the words of the steps from map to ground.
func (s Stepping) toGround(t CompassTask) (do, see string) {
	switch s.Step {
	case 1:
		return "Lay a long edge of the plate along the line, with the travel arrow pointing from FROM to TO.",
			"Run a finger along the arrow: it should go the way that you will walk."
	case 2:
		return "Hold the plate still. Turn the housing until its lines lie along the north–south grid lines and its N points to grid north.",
			"Read the grid bearing at the travel arrow. It should fit the line: " + NameOf(t.Leg.Angle()).Words + "."
	case 3:
		return t.correct(false)
	case LastStep:
		return "Hold the compass level in front of you, travel arrow ahead. Turn yourself, not the housing, until the needle's north end lies inside the orienting arrow.",
			"Look up: the leg should go " + NameOf(t.Leg.Angle()).Words + "."
	}
	return "Lay the compass on the map.",
		"Ignore the needle until the last step."
}

// toMap are the words of the steps from ground to map.
func (s Stepping) toMap(t CompassTask) (do, see string) {
	switch s.Step {
	case 1:
		return "Hold the compass level and point the travel arrow at the feature.",
			"Look along the arrow: it should point at the feature and away from you."
	case 2:
		return "Keep pointing. Turn the housing until the needle's north end lies inside the orienting arrow.",
			"Read the figure at the travel arrow before you move."
	case 3:
		return t.correct(true)
	case LastStep:
		return "Lay a long edge of the plate on the feature. Turn the whole plate until the housing's lines lie along the north–south grid lines and its N points to grid north.",
			"Draw a line back from the feature along the edge: you stand somewhere on it."
	}
	return "Choose a feature that you can see and can find on the map.",
		"Keep metal, magnets and phones away from the compass."
}

// correct are the words where the figure is corrected, back from magnetic to grid or forth.
func (t CompassTask) correct(back bool) (do, see string) {
	c := t.closed()
	switch {
	case t.fits():
		return "Leave the housing alone: its adjustment is set to " + t.Compass.Circle.GMAFigure(t.GMA) + " and allows for the GMA.",
			"The orienting arrow is already turned from the N by that angle. Do not correct again."
	case !t.corrects() && t.Compass.Set:
		return "Leave the housing alone: its adjustment is near enough to the GMA.", "Do not correct again."
	case !t.corrects():
		return "Leave the housing alone: the GMA is too small to set on it.", "The grid and magnetic bearings are the same figure here."
	}
	size, east := sizeOf(c.GMA), strings.HasSuffix(c.GMA, "east")
	verb, from, to := "Add ", c.Grid, c.Magnetic
	if east != back {
		verb = "Take off "
	}
	if back {
		from, to = to, from
	}
	do = verb + size + ": turn the housing from " + from + " to " + to + "."
	if t.Compass.Set {
		return "The housing's adjustment is set to " + t.Compass.Circle.GMAFigure(units.GMA(t.Compass.SetTo)) + " and the GMA is " +
			t.Compass.Circle.GMAFigure(t.GMA) + ". " + do, "Correct by the difference only."
	}
	if east {
		return do, "The GMA (grid-magnetic angle) is east. Grid to magnetic: take it off. Magnetic to grid: add it."
	}
	return do, "The GMA (grid-magnetic angle) is west. Grid to magnetic: add it. Magnetic to grid: take it off."
}

// closed prints the line's grid bearing, what is left to take off and the figure to set
// so that they agree.
func (t CompassTask) closed() units.Closed {
	return t.Compass.Circle.Close(t.Leg, units.GMA(t.rest()))
}

// isNone reports whether a grid-magnetic angle is printed as none: "0°" has no side.
func isNone(gma string) bool { return sizeOf(gma) == gma }

// sizeOf is a grid-magnetic angle without its side: "12°".
func sizeOf(gma string) string {
	size, _, _ := strings.Cut(gma, " east")
	size, _, _ = strings.Cut(size, " west")
	return size
}

// index writes the figure at the index as the person who handles the compass takes it.
func (s Stepping) index(t CompassTask) string {
	p := s.Posture(t)
	if !p.HasFigure {
		return ""
	}
	set := " mag"
	switch {
	case t.fits():
		set = " grid"
	case t.Compass.Set:
		set = " set"
	}
	grid, corrected := s.closedAt(t)
	if (s.Way == MapToGround) == (s.Step < 3) {
		return grid + " grid"
	}
	return corrected + set
}

// closedAt prints the figures of the ring before and after the correction so that they
// agree with it, whatever mistake was made: the grid bearing and the figure to set.
func (s Stepping) closedAt(t CompassTask) (grid, set string) {
	h := t.handled(s.Wrong)
	at := s.To(LastStep).Posture(t).Index() // from the map: the figure to set
	if s.Way == MapToGround {
		at -= h.correction
	}
	c := t.Compass.Circle.Close(units.NewGridBearing(at), units.GMA(-h.correction))
	return c.Grid, c.Magnetic
}

// slipWords says what has been done wrong.
func (s Stepping) slipWords(t CompassTask) string {
	switch s.Wrong {
	case PlateReversed:
		if s.Way == GroundToMap {
			return "Wrong: the travel arrow points back at you, away from the feature."
		}
		return "Wrong: the travel arrow points from TO back to FROM."
	case HousingUpsideDown:
		return "Wrong: the housing's N points to grid south."
	case LinesAlongEastings:
		return "Wrong: the housing's lines lie along the grid lines that run east and west."
	case SouthEndSeated:
		return "Wrong: the needle's south end lies inside the orienting arrow."
	}
	return t.correctedWrong(s)
}

// correctedWrong says what has been corrected wrong.
func (t CompassTask) correctedWrong(s Stepping) string {
	circle := t.Compass.Circle
	grid, set := s.closedAt(t)
	from, to := grid, set
	if s.Way == GroundToMap {
		from, to = set, grid
	}
	turned := ", from " + from + " to " + to + "."
	switch twice := s.Wrong == CorrectedTwice; {
	case twice && t.Compass.Set:
		return "Wrong: the GMA is applied by hand too, though the housing allows for it" + turned
	case twice:
		return "Wrong: the GMA is applied twice" + turned
	case t.fits():
		return "Wrong: the housing's adjustment is set to " + circle.GMAFigure(-t.GMA) + ", but the GMA is " + circle.GMAFigure(t.GMA) + "."
	}
	return "Wrong: corrected the wrong way" + turned
}
