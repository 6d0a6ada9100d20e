package leg

import (
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
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
func Slips(r Reading, from geodesy.Grid) (out []SlipWay) {
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

// SlipsMeet says which slips turn a reading between two positions on the grid of Common, as a leg
// of the route or of a way off, into a way that meets a danger, or comes nearer to it than the leg
// may. scale is how many metres on the ground a metre of the grid is there.
func (r *Reader) SlipsMeet(x Reading, from, to geodesy.Grid, scale float64, off bool) (list []caution.Caution) {
	if x.GridM <= 0 {
		return nil
	}
	own := map[plan.ID]float64{} // how near the leg itself comes
	for _, n := range r.Reaches(from, to, scale) {
		if own[n.Hazard] = n.DistM; off { // which is a note on the route, and a stop on a way off
			own[n.Hazard] = 0
		}
	}
	marked := map[misread.Slip]bool{}
	for _, w := range Slips(x, from) {
		for _, n := range r.Reaches(from, w.To, scale) {
			mayM, met := own[n.Hazard]
			if !marked[w.Slip] && !n.AtStart && (!met || n.DistM < mayM) {
				marked[w.Slip] = true
				list = append(list, caution.Of(caution.SlipMeets, w.Slip.Words(), n.Words()))
			}
		}
	}
	return list
}
