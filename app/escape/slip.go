package escape

import (
	"fmt"
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

// slipsOf says which slips turn a compass leg into one that meets a hazard, or comes nearer to it
// than the leg may: own is how near that is by hazard, 0 where the leg crosses it or is a stop already.
func (j *judge) slipsOf(r leg.Reading, from geodesy.Grid, scale float64, own map[plan.ID]float64) (list []caution.Caution) {
	marked := map[misread.Slip]bool{}
	for _, w := range Slips(r, from) {
		for _, n := range j.r.Reaches(from, w.To, scale) {
			mayM, met := own[n.Hazard]
			atStart := n.AlongM == 0 // the slip leads no nearer
			if !marked[w.Slip] && !atStart && (!met || n.DistM < mayM) {
				marked[w.Slip] = true
				list = append(list, caution.Of(caution.SlipMeets, w.Slip.Words(), n.Words()))
			}
		}
	}
	return list
}

// slips marks a compass leg of an escape.
func (j *judge) slips(l *Leg) {
	if l.Along != "" {
		return
	}
	own := map[plan.ID]float64{}
	for _, n := range j.r.Reaches(l.Way[0], l.Way[1], l.scale) {
		own[n.Hazard] = 0
	}
	for _, c := range j.slipsOf(l.Reading, l.Way[0], l.scale, own) {
		l.add(c)
	}
}

// routeSlips are the slips of a leg of the route.
func (j *judge) routeSlips(row leg.Row, l plan.Leg) (list []caution.Caution) {
	if row.Err != nil || j.sys == nil || len(j.p.Hazards) == 0 {
		return nil
	}
	ends, err := j.r.OnCommon(j.at.Of(l.From), j.at.Of(l.To))
	if err != nil || row.Reading.GridM <= 0 {
		return nil
	}
	scale := row.Reading.GroundM / row.Reading.GridM
	own := map[plan.ID]float64{}
	for _, n := range j.r.Reaches(ends[0], ends[1], scale) {
		own[n.Hazard] = n.DistM // near is a note there
	}
	for _, c := range j.slipsOf(row.Reading, ends[0], scale, own) {
		list = append(list, c.About(fmt.Sprintf("leg %d", j.p.LegIndex(l.ID)+1)))
	}
	return list
}
