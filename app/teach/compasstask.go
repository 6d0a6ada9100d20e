package teach

import (
	"math"

	"legwright/app/leg"
	"legwright/app/misread"
	"legwright/app/plan"
	"legwright/app/units"
)

// CompassTask is the line that a compass is stepped along, and the compass.
type CompassTask struct {
	Leg         units.GridBearing
	GMA         units.GMA // only where HasMagnetic
	HasMagnetic bool
	LengthM     float64 // on the grid
	GroundM     float64 // on the ground, as the window shows it
	Compass     plan.Compass
}

// TaskOf returns the task of a reading for a party's compass.
func TaskOf(r leg.Reading, c plan.Compass) CompassTask {
	return CompassTask{Leg: r.Grid, GMA: r.GMA, HasMagnetic: r.HasMagnetic, LengthM: r.GridM, GroundM: r.GroundM, Compass: c}
}

// fits reports whether the housing is set to the GMA, so that nothing is corrected.
func (t CompassTask) fits() bool { return t.HasMagnetic && leg.HousingFits(t.Compass, t.GMA) }

// allowed returns the angle that the housing takes off by itself, which is where the
// gate stands clockwise from the housing's N: none on a plain housing, the GMA on one
// that is set to it, otherwise what it is set to.
func (t CompassTask) allowed() units.Angle {
	switch {
	case !t.Compass.Set:
		return 0
	case t.fits():
		return t.GMA.Angle()
	}
	return t.Compass.SetTo
}

// rest returns what is left to take off a grid bearing to get the figure to set.
func (t CompassTask) rest() units.Angle { return (t.GMA.Angle() - t.allowed()).Signed() }

// StepNames are the words on the steps of a way, the first at 0. Where nothing is to be
// corrected the third says so.
func (t CompassTask) StepNames(w Way) [LastStep]string {
	names := [LastStep]string{"Edge", "Housing", "Correct", "Needle"}
	if w == GroundToMap {
		names = [LastStep]string{"Sight", "Needle", "Correct", "Plot"}
	}
	if t.HasMagnetic && !t.corrects() {
		names[2] = "No correction"
	}
	return names
}

// corrects reports whether a figure is to be corrected: not on a housing that is set to
// the GMA, nor where the rest is less than a step of the ring.
func (t CompassTask) corrects() bool {
	return !t.fits() && !isNone(t.closed().GMA)
}

// handling is what the hands do at the steps: each is an angle clockwise, zero where the
// step is done right, except that gate and correction have the right value then.
type handling struct {
	plate      units.Angle // of the arrow from the direction it should have
	lines      units.Angle // of the housing's N from grid north, on the map
	seat       units.Angle // of the needle's north end from the gate
	gate       units.Angle // of the gate from the housing's N
	correction units.Angle // that turns a grid bearing into the figure to set
}

const halfTurn, quarterTurn = units.Angle(math.Pi), units.Angle(math.Pi / 2)

// seenTurn is the turn of the housing that a slip makes as it is shown: a quarter turn with
// its N pointing east.
func seenTurn(s misread.Slip) units.Angle { return s.Turns()[0] }

// printedRest is what the words have taken off the grid bearing: the difference of its two
// printed figures.
func (t CompassTask) printedRest() units.Angle {
	return printedTurn(t.Leg.Angle(), t.Leg.Magnetic(units.GMA(t.rest())).Angle(), t.Compass.Circle)
}

// printedGMA is the GMA as the words have it, in whole steps of the ring.
func (t CompassTask) printedGMA() units.Angle {
	step := t.Compass.Circle.Step()
	return units.Angle(math.Round(float64(t.GMA.Angle()/step))) * step
}

// handled returns what the hands do with a mistake. A wrong correction goes astray by the
// angle that is printed, so that its figures too close in the head.
func (t CompassTask) handled(w Wrong) handling {
	h := handling{gate: t.allowed(), correction: -t.rest()}
	switch w {
	case PlateReversed:
		h.plate = halfTurn
	case HousingUpsideDown:
		h.lines = seenTurn(misread.HalfTurn)
	case LinesAlongEastings:
		h.lines = seenTurn(misread.AlongEastings)
	case SouthEndSeated:
		h.seat = halfTurn
	case CorrectedWrongWay:
		if t.fits() { // set to the other side of the housing's scale
			h.gate -= 2 * t.printedGMA()
			return h
		}
		h.correction += 2 * t.printedRest()
	case CorrectedTwice:
		if t.Compass.Set { // the housing has done its part already
			h.correction = -t.GMA.Angle()
			return h
		}
		h.correction -= t.printedRest()
	}
	return h
}
