package teach

import "legwright/app/units"

// Place says what lies under the compass, and how.
type Place int

// The places of the compass.
const (
	EdgeOnLine Place = iota // on the map, its long edge beside the line from FROM to TO
	InHand                  // on the ground, in the hands of somebody who stands at FROM
	EdgeOnTo                // on the map, its long edge at TO
)

// Seat says which end of the needle lies in the gate.
type Seat int

// The ends of the needle.
const (
	NoEnd Seat = iota
	NorthEnd
	SouthEnd
)

// Posture is how the compass and the walker stand after a step. Angles are clockwise
// from the head of the picture, which is grid north: that of the map as the walker holds
// it, or that of the ground where the compass is in the hand.
type Posture struct {
	Place   Place
	Plate   units.Angle // the plate's arrow
	Housing units.Angle // the housing's N
	Gate    units.Angle // the middle of the gate
	Needle  units.Angle // the north end of the needle; only where HasNeedle
	Body    units.Angle // where the walker faces; looking at the map, its head
	Seat    Seat

	HasNeedle bool // false where no magnetic north can be trusted
	HasFigure bool // false while the ring still stands as it was left
}

// Index returns what the ring shows at the index, under the plate's arrow.
func (p Posture) Index() units.Angle { return (p.Plate - p.Housing).Turn() }

// How things lie before they are brought to where they belong. Each is far enough from
// that to be seen to move, and none means anything.
const (
	mapRingDeg   = 140 // the housing's N once the plate lies along the line on the map
	handRingDeg  = 110 // and once it points at the feature
	mapAskewDeg  = 35  // the plate on the map before the first step
	handAskewDeg = -50 // and in the hand
	mapHeldDeg   = 125 // grid north of the map, as it is held, clockwise from that of the ground
)

// Reach returns the last step that can be shown: without a magnetic bearing nothing can
// be corrected, and no needle seated.
func (t CompassTask) Reach(w Way) int {
	switch {
	case t.HasMagnetic:
		return LastStep
	case w == GroundToMap:
		return 1
	}
	return 2
}

// Posture returns how everything stands after the step.
func (s Stepping) Posture(t CompassTask) Posture {
	s.Step = min(s.Step, t.Reach(s.Way))
	h := t.handled(s.Wrong)
	p := s.fromMap(t, h)
	if s.Way == GroundToMap {
		p = s.fromGround(t, h)
	}
	p.Gate = p.Housing + h.gate
	p.HasNeedle = t.HasMagnetic
	p.Needle = t.GMA.Angle()
	if p.Place != InHand {
		p.Needle -= units.Degrees(mapHeldDeg)
	}
	if !p.HasNeedle {
		p.Needle = 0
	}
	return p
}

// fromMap steps from the map to the ground.
func (s Stepping) fromMap(t CompassTask, h handling) Posture {
	b := t.Leg.Angle()
	p := Posture{Place: EdgeOnLine, Plate: b + h.plate, Housing: units.Degrees(mapRingDeg)}
	if s.Step < 1 {
		p.Plate += units.Degrees(mapAskewDeg)
		p.Housing += units.Degrees(mapAskewDeg)
		return p
	}
	set := p.Plate - h.lines
	switch s.Step {
	case 1:
		return p
	case 2:
		p.Housing = h.lines
	default:
		set += h.correction
		p.Housing = p.Plate - set
	}
	p.HasFigure = true
	if s.Step == LastStep {
		p.Place = InHand
		p.Housing = t.GMA.Angle() - h.gate + h.seat
		p.Plate = p.Housing + set
		p.Body, p.Seat = p.Plate, h.end()
	}
	return p
}

// fromGround steps from the ground to the map.
func (s Stepping) fromGround(t CompassTask, h handling) Posture {
	b := t.Leg.Angle()
	p := Posture{Place: InHand, Plate: b + h.plate, Body: b, Housing: units.Degrees(handRingDeg)}
	if s.Step < 1 {
		for _, a := range []*units.Angle{&p.Plate, &p.Body, &p.Housing} {
			*a += units.Degrees(handAskewDeg)
		}
		return p
	}
	if s.Step < 2 {
		return p
	}
	p.Housing, p.HasFigure = t.GMA.Angle()-h.gate+h.seat, true
	grid := p.Plate - p.Housing - h.correction
	switch s.Step {
	case 2:
		p.Seat = h.end()
	case 3:
		p.Housing = p.Plate - grid
		if h.correction == 0 {
			p.Seat = h.end() // nothing is turned
		}
	default:
		p.Place, p.Body = EdgeOnTo, 0
		p.Housing = h.lines
		p.Plate = p.Housing + grid
	}
	return p
}

// end is the end of the needle that is brought into the gate.
func (h handling) end() Seat {
	if h.seat != 0 {
		return SouthEnd
	}
	return NorthEnd
}
