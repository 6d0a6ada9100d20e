package teach

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// TestLedWordsByHand compares the words beside a wrong line with worked examples. A leg of
// 357 m with a GMA of 12° east, corrected the wrong way, is 24° off clockwise, and
// 2 · 357 · sin 12° = 148.4 m at its end; twice is 12° anticlockwise and
// 2 · 357 · sin 6° = 74.6 m. To the right of a line to the north-east lies the south-east,
// nearer south from 045° on; drawn back, a line turns to the same hand.
func TestLedWordsByHand(t *testing.T) {
	t.Parallel()
	cases := []struct {
		deg   float64
		way   Way
		wrong Wrong
		want  string
	}{
		{57, MapToGround, CorrectedWrongWay, "this slip leads 24° too far south,\n148 m off after 357 m"},
		{30, MapToGround, CorrectedWrongWay, "this slip leads 24° too far east,\n148 m off after 357 m"},
		{200, MapToGround, CorrectedWrongWay, "this slip leads 24° too far west,\n148 m off after 357 m"},
		{57, MapToGround, CorrectedTwice, "this slip leads 12° too far north,\n75 m off after 357 m"},
		{300, MapToGround, PlateReversed, "this slip leads the opposite way,\n714 m off after 357 m"},
		{57, MapToGround, LinesAlongEastings, "this slip leads 90° too far north,\n505 m off after 357 m"},
		{57, GroundToMap, CorrectedWrongWay, "this line runs 24° too far south,\n148 m off after 357 m"},
		{200, GroundToMap, CorrectedTwice, "this line runs 12° too far east,\n75 m off after 357 m"},
	}
	for _, c := range cases {
		task := CompassTask{Leg: units.NewGridBearing(units.Degrees(c.deg)), GMA: units.GMA(units.Degrees(12)), HasMagnetic: true, LengthM: 357, GroundM: 357}
		s := Stepping{Way: c.way, Step: LastStep, Wrong: c.wrong}
		o, ok := s.Led(task)
		if got := s.LedWords(task, o); !ok || got != c.want {
			t.Errorf("%v°, way %d, %s: %v, got %q, want %q", c.deg, c.way, c.wrong.Words(), ok, got, c.want)
		}
	}
}

// TestLedOnceItIsMade holds from which step a mistake leads anywhere, and that none does
// that changes nothing or for which there is no bearing to set.
func TestLedOnceItIsMade(t *testing.T) {
	t.Parallel()
	task := CompassTask{Leg: units.NewGridBearing(units.Degrees(57)), GMA: units.GMA(units.Degrees(12)), HasMagnetic: true, LengthM: 357}
	small, without := task, task
	small.GMA, without.HasMagnetic = units.GMA(units.Degrees(0.1)), false
	for step := range LastStep + 1 {
		for _, c := range []struct {
			name  string
			wrong Wrong
			task  CompassTask
			from  int
		}{
			{"right", DoneRight, task, 9},
			{"reversed", PlateReversed, task, 1},
			{"upside down", HousingUpsideDown, task, 2},
			{"twice", CorrectedTwice, task, 3},
			{"south end", SouthEndSeated, task, 4},
			{"twice, a small GMA", CorrectedTwice, small, 9},
			{"reversed, no magnetic bearing", PlateReversed, without, 9},
		} {
			if _, ok := (Stepping{Step: step, Wrong: c.wrong}).Led(c.task); ok != (step >= c.from) {
				t.Errorf("%s, step %d: leads astray %v", c.name, step, ok)
			}
		}
	}
}

// TestNoCorrectionIsNamed holds the third step's name: correcting on a housing that is set
// to the GMA would be correcting twice.
func TestNoCorrectionIsNamed(t *testing.T) {
	t.Parallel()
	plain := CompassTask{Leg: units.NewGridBearing(units.Degrees(57)), GMA: units.GMA(units.Degrees(12)), HasMagnetic: true, LengthM: 357}
	set, other, small, half := plain, plain, plain, plain
	set.Compass = plan.Compass{Set: true, SetTo: units.Degrees(12)}
	other.Compass = plan.Compass{Set: true, SetTo: units.Degrees(3)}
	small.GMA = units.GMA(units.Degrees(0.1))
	half.GMA, half.Compass.Circle = units.GMA(units.Degrees(0.5)), units.HalfDegrees
	for _, c := range []struct {
		name string
		task CompassTask
		want bool
	}{{"plain", plain, true}, {"set to the GMA", set, false}, {"set to another", other, true}, {"a small GMA", small, false}, {"half a degree on a ring of half degrees", half, true}} {
		for _, way := range ways() {
			does := c.task.StepNames(way)[2] == "Correct"
			turns := !strings.HasPrefix(Stepping{Way: way, Step: 3}.Words(c.task).Do, "Leave the housing alone")
			if does != c.want || turns != c.want {
				t.Errorf("%s, way %d: named as a correction %v, said as one %v, want %v", c.name, way, does, turns, c.want)
			}
		}
	}
}

// TestStopOfLeavesOutTraining holds that the stop of a training GMA does not count, and
// every other does.
func TestStopOfLeavesOutTraining(t *testing.T) {
	t.Parallel()
	r := leg.Reading{Cautions: []caution.Caution{caution.Of(caution.TrainingGMA, "12° east")}}
	if got := StopOf(r); got != "" {
		t.Errorf("trained: got %q", got)
	}
	r.Cautions = append(r.Cautions, caution.Of(caution.Mirrored))
	if got := StopOf(r); got != "STOP: picture mirrored" || len(r.Cautions) != 2 {
		t.Errorf("mirrored: got %q, %d cautions left", got, len(r.Cautions))
	}
}
