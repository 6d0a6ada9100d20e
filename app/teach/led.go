package teach

import (
	"math"
	"slices"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/units"
)

// StopOf returns the stop that stands against walking on a reading, in the words of
// caution.Lead, or "". That of a training GMA does not count: what a lesson declares is
// there to be set.
func StopOf(r leg.Reading) string {
	return caution.Lead(slices.DeleteFunc(slices.Clone(r.Cautions), func(c caution.Caution) bool {
		return c.Code == caution.TrainingGMA
	}), caution.OnLeg)
}

// Led returns where a mistake leads that has been made by this step. It reports false
// where none has been made, where it changes nothing, and where no magnetic bearing can
// be trusted.
func (s Stepping) Led(t CompassTask) (Outcome, bool) {
	o := s.Outcome(t)
	return o, s.slipped(t) && o.Known && !o.Harmless(t)
}

// LedWords say in two lines beside a line on the sheet where the mistake leads: "this slip
// leads 24° too far south," and "148 m off after 357 m". On the way to the map the line is the one that is
// drawn back from the feature.
func (s Stepping) LedWords(t CompassTask, o Outcome) string {
	begins, ahead := "this slip leads ", t.Leg.Angle()
	if s.Way == GroundToMap {
		begins, ahead = "this line runs ", t.Leg.Back().Angle()
	}
	side := units.Angle(math.Copysign(quarterTurn.Rad(), o.Off.Rad()))
	size := sizeOf(t.Compass.Circle.Close(o.Bearing, units.GMA(o.Off)).GMA)
	where := size + " too far " + cardinalNear(ahead+side)
	if o.opposite(t) {
		where = "the opposite way"
	}
	return begins + where + ",\n" + units.ErrorM(o.MissM) + " off after " + units.Metres(t.GroundM, 0)
}

// cardinalNear names the cardinal direction nearest to a bearing.
func cardinalNear(a units.Angle) string {
	return cardinal(int(math.Round(a.Turn().Rad() / quarterTurn.Rad())))
}
