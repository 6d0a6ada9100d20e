package escape

import (
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/misread"
	"legwright/app/plan"
	"legwright/app/units"
)

// SlipM is how far a party is followed that walks on a slip, metres on the ground.
const SlipM = 300

// SlipWay is where a usual slip with the compass leads in the first SlipM metres.
type SlipWay struct {
	Slip misread.Slip
	To   geodesy.Grid
}

// slips are the slips that are judged on the ground.
func judgedSlips() []misread.Slip {
	return []misread.Slip{misread.HalfTurn, misread.WrongSign, misread.CorrectedTwice, misread.TensMisread}
}

// Slips returns where the slips would take a party that means to walk a reading, from its
// start on the reading's grid. Without a magnetic bearing there are no slips of the GMA.
func Slips(r leg.Reading, from geodesy.Grid) (out []SlipWay) {
	task := misread.Task{Right: r.Grid.Angle(), North: units.TrueNorth}
	if r.HasMagnetic {
		task = misread.Task{Right: r.Magnetic.Angle(), North: units.MagneticNorth, GMA: r.GMA}
	}
	scale := 1.0
	if r.GridM > 0 && r.GroundM > 0 {
		scale = r.GridM / r.GroundM
	}
	for _, s := range judgedSlips() {
		for _, made := range task.Made(s) {
			sin, cos := math.Sincos((r.Grid.Angle() + made - task.Right).Rad())
			out = append(out, SlipWay{s, geodesy.Grid{E: from.E + SlipM*scale*sin, N: from.N + SlipM*scale*cos}})
		}
	}
	return out
}

// slips marks a compass leg that a slip would turn into one that meets a hazard. Hazards
// that the leg itself meets are stops already.
func (j *judge) slips(l *Leg) {
	if l.Along != "" {
		return
	}
	own := map[plan.ID]bool{}
	for _, n := range j.r.Reaches(l.Way[0], l.Way[1], l.scale) {
		own[n.Hazard] = true
	}
	marked := map[misread.Slip]bool{}
	for _, w := range Slips(l.Reading, l.Way[0]) {
		for _, n := range j.r.Reaches(l.Way[0], w.To, l.scale) {
			if !marked[w.Slip] && !own[n.Hazard] {
				marked[w.Slip] = true
				l.add(caution.Of(caution.SlipMeets, w.Slip.Words(), metres(math.Floor(n.DistM)), n.Title))
			}
		}
	}
}
