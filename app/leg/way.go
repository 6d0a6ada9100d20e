package leg

import (
	"math"

	"legwright/app/pace"
	"legwright/app/units"
)

// Way is the way of a leg for the rules of walking time. What is not known of climb and
// descent is level. A descent of the terrain lies where the terrain falls: over the slope of
// the whole leg a steep end behind a level kilometre would count as gentle, which saves time.
func (row Row) Way() []pace.Stretch {
	if row.Descent.From != RiseTerrain {
		return pace.Even(row.Reading.GroundM, row.Climb.M, row.Descent.M)
	}
	var out []pace.Stretch
	restM, left := row.Reading.GroundM, row.Descent.M
	bands := [...]float64{90, pace.SteepDeg, pace.GentleDeg, 0} // the steepest first: what does not count as descent is gentle
	for i, above := range bands[1:] {
		lengthM, dropM := row.Profile.Down(units.Degrees(above), units.Degrees(bands[i]))
		if dropM > left { // small falls that do not count as descent
			lengthM, dropM = lengthM*left/dropM, left
		}
		if dropM > 0 {
			out = append(out, pace.Stretch{LengthM: lengthM, RiseM: -dropM})
		}
		restM, left = restM-lengthM, left-dropM
	}
	return append(out, pace.Stretch{LengthM: max(restM, 0), RiseM: row.Climb.M})
}

// Minutes is how long the way of a leg takes by a rule, without rests; +Inf where nobody gets
// through. own is the ground that the leg itself says, which holds where no area of ground is drawn;
// bog takes what rough ground does. Climb and descent are spread over the whole leg. Nobody knows
// where a descent that was counted is gentle: of Langmuir's corrections it has those alone that add
// time.
func (row Row) Minutes(rule pace.Rule, own pace.Ground) (total float64) {
	if !own.Passable() {
		return math.Inf(1)
	}
	rule.NoSaving = row.Descent.From != RiseTerrain
	for _, s := range row.Shares(row.Reading.GroundM, own) {
		total += s.Of * rule.Minutes(row.Way(), s.Ground)
	}
	return total
}

// Back is the row as a party finds its ground that walks the leg from its end to its start.
func (row Row) Back() Row {
	row.Climb, row.Descent, row.Profile = row.Descent, row.Climb, row.Profile.Reversed()
	return row
}
