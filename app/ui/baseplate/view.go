package baseplate

import (
	"math"

	"legwright/app/teach"
	"legwright/app/units"
)

// Point is a position in the picture: right and up from its middle, as fractions of half
// the side.
type Point [2]float64

// View is everything that a picture shows.
type View struct {
	teach.Posture         // how compass and walker stand
	Stand         float64 // from the middle to the walker
	From, To      Point   // the ends of the line
	Ground        float64 // 0 on the map, 1 on the ground

	Led   Led
	Index string // the figure at the index with its north, "" for none
	Names Names

	Stop   bool // nobody may walk on this: the figure is struck through
	Hidden bool // a question mark is drawn, and nothing else
	Circle units.Circle
}

// Led is the line along which the compass leads; the zero value is none.
type Led struct {
	Shown    bool
	Wrong    bool // it is not the line
	From, To Point
}

// Names are what is written at the ends of the line; empty for FROM and TO.
type Names struct{ From, To string }

// The measures of the plate.
const (
	plateHead  = 0.84
	plateTail  = -0.54
	plateHalf  = 0.47 // from the middle to a long edge
	beside     = plateHalf + 0.016
	lineBehind = -0.40 // FROM, along the plate's edge
	lineAhead  = 0.76  // TO
	lineInHand = 0.90
	lineBack   = 1.16
	standMap   = 0.90 // the walker looks at the map from below
	standHand  = 0.74 // and holds the compass before the body
)

// along returns the position r along an angle and w to its right.
func along(a units.Angle, r, w float64) Point {
	sin, cos := math.Sincos(a.Rad())
	return Point{r*sin + w*cos, r*cos - w*sin}
}

func (p Point) plus(q Point) Point { return Point{p[0] + q[0], p[1] + q[1]} }

// ViewOf returns the view of a step. Names and Stop are the caller's to set.
func ViewOf(s teach.Stepping, t teach.CompassTask) View {
	p, leg := s.Posture(t), t.Leg.Angle()
	v := View{Posture: p, Circle: t.Compass.Circle, Index: s.Words(t).Index, Stand: standMap}
	last := s.Step == teach.LastStep && t.HasMagnetic
	wrong := last && !s.Outcome(t).Harmless(t)
	switch p.Place {
	case teach.InHand:
		v.Ground, v.Stand = 1, standHand
		v.To = along(leg, lineInHand, 0)
		if wrong {
			v.Led = Led{Shown: true, Wrong: true, To: along(p.Plate, lineInHand, 0)}
		}
	case teach.EdgeOnTo:
		v.To = along(p.Plate, lineAhead, beside)
		v.From = v.To.plus(along(leg, -lineBack, 0))
		v.Led = Led{Shown: true, Wrong: wrong, From: v.To, To: v.To.plus(along(p.Plate, -lineBack, 0))}
	default:
		v.From, v.To = along(leg, lineBehind, beside), along(leg, lineAhead, beside)
	}
	return v
}

// Between returns the view on the way from a to b, at 0 a itself and at 1 b: what turns
// goes the shorter way round, and the ring turns on the plate. What is written is b's.
func Between(a, b View, at float64) View {
	if !(at < 1) {
		return b
	}
	if !(at > 0) {
		return a
	}
	v := b
	turned := func(from, to units.Angle) units.Angle {
		return from + units.Angle(at*(to-from).Signed().Rad())
	}
	mixed := func(from, to float64) float64 { return from + at*(to-from) }
	v.Plate = turned(a.Plate, b.Plate)
	v.Housing = v.Plate - turned(a.Plate-a.Housing, b.Plate-b.Housing)
	v.Gate = v.Housing + turned(a.Gate-a.Housing, b.Gate-b.Housing)
	v.Needle, v.Body = turned(a.Needle, b.Needle), turned(a.Body, b.Body)
	v.Stand, v.Ground = mixed(a.Stand, b.Stand), mixed(a.Ground, b.Ground)
	v.From = Point{mixed(a.From[0], b.From[0]), mixed(a.From[1], b.From[1])}
	v.To = Point{mixed(a.To[0], b.To[0]), mixed(a.To[1], b.To[1])}
	v.Led = Led{}
	return v
}
