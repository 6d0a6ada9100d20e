package teach

import (
	"math"

	"legwright/app/units"
)

// plainDeg is how far off an arrow is seen to point the wrong way by somebody who knows
// roughly where the line should go: half a quarter (common practice, no source).
const plainDeg = 45

// OutcomeWords are what a coach says of where a way leads.
type OutcomeWords struct {
	Leads  string // where to, and how far off
	Notice string // by what one could notice it; "" where nothing is wrong
}

// OutcomeWords returns what a coach says of the outcome. From and to name the ends of
// the line.
func (s Stepping) OutcomeWords(t CompassTask, from, to string) OutcomeWords {
	o := s.Outcome(t)
	switch {
	case !o.Known:
		return OutcomeWords{}
	case o.Harmless(t) && s.Wrong != DoneRight:
		return OutcomeWords{Leads: "This slip changes nothing here: there is too little to correct. Type a training GMA to show what it does."}
	case o.Harmless(t) && s.Way == MapToGround:
		return OutcomeWords{Leads: "The travel arrow points from " + from + " to " + to + "."}
	case o.Harmless(t):
		return OutcomeWords{Leads: "The line drawn back from " + to + " goes through " + from + "."}
	}
	return OutcomeWords{Leads: s.leads(t, o, from, to), Notice: s.notice(t, o)}
}

// leads says where a slip leads.
func (s Stepping) leads(t CompassTask, o Outcome, from, to string) string {
	figure, off := o.closed(t)
	miss := units.ErrorM(o.MissM)
	if s.Way == MapToGround {
		return "You would walk " + figure + " grid, " + off + " the leg. After the same distance you would be " + miss + " from " + to + "."
	}
	back := t.Compass.Circle.Figure(o.Bearing.Back().Angle())
	return "You would draw the line back " + back + " grid from " + to + ", " + off + " the correct line. It would put you " + miss + " from " + from + "."
}

// closed prints the bearing of the outcome and its angle from the line, so that they
// agree with the line's own figure: "081°", "24° to the right of".
func (o Outcome) closed(t CompassTask) (figure, off string) {
	c := t.Compass.Circle.Close(o.Bearing, units.GMA(o.Off))
	side := " to the right of"
	switch {
	case o.opposite(t):
		side = " from"
	case o.Off < 0:
		side = " to the left of"
	}
	return c.Grid, sizeOf(c.GMA) + side
}

// opposite reports whether the outcome is the other way along the line.
func (o Outcome) opposite(t CompassTask) bool {
	return math.Abs(o.Off.Rad()) > math.Pi-t.least().Rad()
}

// notice says by what somebody could see the slip before it does harm.
func (s Stepping) notice(t CompassTask, o Outcome) string {
	right, made := NameOf(t.Leg.Angle()), NameOf(o.Bearing.Angle())
	if math.Abs(o.Off.Deg()) >= plainDeg {
		if s.Way == MapToGround {
			return "Look up: the leg should go " + right.Words + ". The travel arrow points " + made.Words + "."
		}
		return "Look at the map: from where you stand the feature lies " + right.Words + ". The edge of the plate puts it " + made.Words + "."
	}
	c := t.closed()
	if t.fits() {
		return "This does not show on the ground. Check the housing: its adjustment should be set to " + t.Compass.Circle.GMAFigure(t.GMA) + ", and " + c.Grid + " grid is the figure to set."
	}
	if isNone(c.GMA) {
		return "So small an angle does not show on the ground. Check the figure again."
	}
	if t.Compass.Set {
		return "This does not show on the ground. Check the figures: " + c.Grid + " grid corrected by the difference of " + sizeOf(c.GMA) + " gives " + c.Magnetic + " to set."
	}
	return "This does not show on the ground. Check the figures: " + c.Grid + " grid and a GMA of " + c.GMA + " give " + c.Magnetic + " mag."
}
