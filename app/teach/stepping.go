package teach

import (
	"slices"

	"legwright/app/misread"
)

// Way says which of the two uses of a compass and a map is stepped through.
type Way int

// The ways. MapToGround takes a bearing off the map and walks on it; GroundToMap sights
// a feature and plots the back bearing on the map.
const (
	MapToGround Way = iota
	GroundToMap
)

// LastStep is the last of a way's steps. Step 0 is the compass before the first.
const LastStep = 4

// Wrong is one usual mistake in handling the compass, shown on request.
type Wrong int

// The mistakes (common practice, no source). DoneRight is none.
const (
	DoneRight Wrong = iota
	PlateReversed
	HousingUpsideDown
	SouthEndSeated
	LinesAlongEastings // the lines that run east and west
	CorrectedWrongWay
	CorrectedTwice
)

// Wrongs lists the mistakes in the order in which they are offered, without DoneRight.
func Wrongs() []Wrong {
	return []Wrong{
		PlateReversed, HousingUpsideDown, SouthEndSeated, LinesAlongEastings,
		CorrectedWrongWay, CorrectedTwice,
	}
}

// Hows lists the ways in which the steps are done: right, then with each mistake.
func Hows() []Wrong { return append([]Wrong{DoneRight}, Wrongs()...) }

// Words names the mistake for people.
func (w Wrong) Words() string {
	switch w {
	case PlateReversed:
		return "plate reversed"
	case HousingUpsideDown:
		return "housing upside down"
	case SouthEndSeated:
		return "wrong end of the needle"
	case LinesAlongEastings:
		return misread.AlongEastings.Words()
	case CorrectedWrongWay:
		return "corrected the wrong way"
	case CorrectedTwice:
		return "corrected twice"
	}
	return "done right"
}

// at returns the step of a way in which the mistake is made, LastStep + 1 for none.
func (w Wrong) at(way Way) int {
	onMap := 2 // where housing and grid lines are brought together
	needle := LastStep
	if way == GroundToMap {
		onMap, needle = LastStep, 2
	}
	switch w {
	case PlateReversed:
		return 1
	case HousingUpsideDown, LinesAlongEastings:
		return onMap
	case SouthEndSeated:
		return needle
	case CorrectedWrongWay, CorrectedTwice:
		return 3
	}
	return LastStep + 1
}

// Stepping is where a lesson stands in stepping through the compass. The zero value is
// the way from map to ground, done right, before its first step.
type Stepping struct {
	Way   Way
	Step  int // 0 to LastStep
	Wrong Wrong
}

// Next returns the step after this one; it reports false at the last.
func (s Stepping) Next() (Stepping, bool) {
	if s.Step >= LastStep {
		return s, false
	}
	return s.To(s.Step + 1), true
}

// Previous returns the step before this one; it reports false at the first.
func (s Stepping) Previous() (Stepping, bool) {
	if s.Step <= 0 {
		return s, false
	}
	return s.To(s.Step - 1), true
}

// To returns the same way at another step, kept within the way's steps.
func (s Stepping) To(step int) Stepping {
	s.Step = min(max(step, 0), LastStep)
	return s
}

// Other returns the other way, before its first step.
func (s Stepping) Other() Stepping {
	if s.Way == MapToGround {
		s.Way = GroundToMap
	} else {
		s.Way = MapToGround
	}
	return s.To(0)
}

// NextWrong returns the same step with the next mistake, and after the last with none.
func (s Stepping) NextWrong() Stepping {
	all := Hows()
	s.Wrong = all[(slices.Index(all, s.Wrong)+1)%len(all)]
	return s
}

// slipped reports whether the mistake has been made by this step.
func (s Stepping) slipped(t CompassTask) bool {
	return s.Wrong != DoneRight && s.Step >= s.from(t)
}

// from returns the step from which the mistake stands in the figures. An angle that was
// set to the wrong side of an adjustable housing is there before the first step.
func (s Stepping) from(t CompassTask) int {
	if s.Wrong == CorrectedWrongWay && t.fits() {
		return 0
	}
	return s.Wrong.at(s.Way)
}
