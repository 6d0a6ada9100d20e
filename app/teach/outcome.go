package teach

import (
	"math"

	"legwright/app/units"
)

// Outcome is where the last step leads.
type Outcome struct {
	Known   bool              // false where no magnetic bearing can be trusted
	Bearing units.GridBearing // walked from FROM, or plotted: back from TO is its back bearing
	Off     units.Angle       // from the line, in (−π, π], positive clockwise
	MissM   float64           // at the line's length: from TO, or from where one stands
}

// Outcome returns where the way leads with its mistake, whatever the step.
func (s Stepping) Outcome(t CompassTask) Outcome {
	if !t.HasMagnetic {
		return Outcome{}
	}
	out := units.NewGridBearing(s.To(LastStep).Posture(t).Plate)
	off := (out.Angle() - t.Leg.Angle()).Signed()
	return Outcome{Known: true, Bearing: out, Off: off, MissM: 2 * t.LengthM * math.Abs(math.Sin(off.Rad()/2))}
}

// Magnetic returns the outcome from magnetic north.
func (o Outcome) Magnetic(g units.GMA) units.MagneticBearing { return o.Bearing.Magnetic(g) }

// least is the turn that a person can see or set; below it nothing went wrong.
func (t CompassTask) least() units.Angle { return t.Compass.Circle.Step() / 2 }

// Harmless reports whether the outcome is that of doing it right, to half a printed
// step: without a GMA a wrong correction changes nothing.
func (o Outcome) Harmless(t CompassTask) bool {
	return o.Known && math.Abs(o.Off.Rad()) < t.least().Rad()
}

// End returns where the way seems to lead, in metres on the grid from FROM: the end of
// the walk, or where the walker believes to stand.
func (o Outcome) End(t CompassTask, w Way) (eastM, northM float64) {
	sin, cos := math.Sincos(o.Bearing.Angle().Rad())
	if w == MapToGround {
		return t.LengthM * sin, t.LengthM * cos
	}
	sinLeg, cosLeg := math.Sincos(t.Leg.Angle().Rad())
	return t.LengthM * (sinLeg - sin), t.LengthM * (cosLeg - cos)
}
