package teach

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/app/units"
)

// A task of a test is a leg, a GMA and a compass drawn from a seed.
func drawTask(r *rand.Rand) CompassTask {
	t := CompassTask{
		Leg: units.NewGridBearing(units.Degrees(r.Float64() * 360)), GMA: units.GMA(units.Degrees(r.Float64()*40 - 20)),
		HasMagnetic: true, LengthM: 50 + r.Float64()*3000,
	}
	t.Compass.Circle = units.Circles()[r.IntN(4)]
	switch r.IntN(3) {
	case 1:
		t.Compass.Set, t.Compass.SetTo = true, t.GMA.Angle()
	case 2:
		t.Compass.Set, t.Compass.SetTo = true, units.Degrees(r.Float64()*50-25)
	}
	return t
}

func ways() []Way { return []Way{MapToGround, GroundToMap} }

// apart is the angle between two directions in degrees.
func apart(a, b units.Angle) float64 { return math.Abs((a - b).Signed().Deg()) }

// TestDoneRightEndsOnTheLine compares the right way with the definitions of app/units:
// the walk goes along the line, and so along its magnetic bearing; what is plotted is the
// line; the ring shows what the reading says to set.
func TestDoneRightEndsOnTheLine(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 1))
	for range 1000 {
		task := drawTask(r)
		for _, way := range ways() {
			o := Stepping{Way: way}.Outcome(task)
			if d := apart(o.Bearing.Angle(), task.Leg.Angle()); !o.Known || d > 1e-9 || o.MissM > 1e-6 {
				t.Fatalf("%+v, way %d: got %v° off and %v m out, want none", task, way, d, o.MissM)
			}
			got, want := o.Magnetic(task.GMA).Angle(), task.Leg.Magnetic(task.GMA).Angle()
			if apart(got, want) > 1e-9 {
				t.Fatalf("%+v, way %d: got %v° magnetic, want %v°", task, way, got.Deg(), want.Deg())
			}
		}
		set := Stepping{Step: LastStep}.Posture(task).Index()
		if want := task.Leg.Angle() - task.rest(); apart(set, want) > 1e-9 {
			t.Fatalf("%+v: got %v° at the index, want %v°", task, set.Deg(), want.Deg())
		}
	}
}

// TestSeatIsWhatTheAnglesSay compares the end of the needle that the words put in the
// gate with where needle and gate stand, at every step of every way.
func TestSeatIsWhatTheAnglesSay(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 2))
	for range 300 {
		task := drawTask(r)
		for _, way := range ways() {
			for _, wrong := range append(Wrongs(), DoneRight) {
				for step := range LastStep + 1 {
					s := Stepping{way, step, wrong}
					p := s.Posture(task)
					north, south := apart(p.Needle, p.Gate), apart(p.Needle+halfTurn, p.Gate)
					corrected := way == GroundToMap && step == 3 // the ring has gone on by the GMA, which may be small
					switch {
					case p.Seat == NorthEnd && north > 1e-9, p.Seat == SouthEnd && south > 1e-9:
						t.Fatalf("%+v, %+v: got seat %d with the needle's ends %v° and %v° from the gate", s, task, p.Seat, north, south)
					case p.Seat == NoEnd && !corrected && (!task.Compass.Set || task.fits()) && min(north, south) < 10:
						t.Fatalf("%+v, %+v: got no end seated, but one is %v° from the gate", s, task, min(north, south))
					}
				}
			}
		}
	}
}

// TestStepsMoveWhatTheyName holds what stays still at each step of the way from the map:
// the housing turns on a plate that lies still, and the walk turns the body alone.
func TestStepsMoveWhatTheyName(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 3))
	for range 300 {
		task := drawTask(r)
		var p [LastStep + 1]Posture
		for step := range p {
			p[step] = Stepping{Step: step}.Posture(task)
		}
		switch b := task.Leg.Angle(); {
		case apart(p[0].Plate, b) < 30, apart(p[1].Plate, b) > 1e-9:
			t.Fatalf("%+v: plate at %v° before and %v° after the first step, want only the second on the line", task, p[0].Plate.Deg(), p[1].Plate.Deg())
		case apart(p[0].Index(), p[1].Index()) > 1e-9:
			t.Fatalf("%+v: the ring turned on the plate at the first step", task)
		case apart(p[2].Plate, b) > 1e-9, apart(p[3].Plate, b) > 1e-9:
			t.Fatalf("%+v: the plate moved while the housing was turned", task)
		case apart(p[2].Housing, 0) > 1e-9, apart(p[2].Index(), b) > 1e-9:
			t.Fatalf("%+v: housing at %v° after the second step, want grid north", task, p[2].Housing.Deg())
		case apart(p[3].Index(), p[4].Index()) > 1e-9:
			t.Fatalf("%+v: the ring turned on the plate while the body turned", task)
		case apart(p[3].Body, 0) > 1e-9, apart(p[4].Body, p[4].Plate) > 1e-9:
			t.Fatalf("%+v: body at %v° and %v°, want the map's head and the arrow", task, p[3].Body.Deg(), p[4].Body.Deg())
		}
		if (p[3].Index() == p[2].Index()) != (task.rest() == 0) {
			t.Fatalf("%+v: the ring was corrected on a housing that allows for the GMA, or was not on one that does not", task)
		}
	}
}

// TestWrongWaysByHand compares each mistake with worked examples: a leg of 057° grid and
// 1000 m with a GMA of 12° east, on a plain housing, on one set to the GMA and on one set
// to 3° east. The figures follow from true = grid + γ and magnetic = grid − GMA.
func TestWrongWaysByHand(t *testing.T) {
	t.Parallel()
	plain := CompassTask{Leg: units.NewGridBearing(units.Degrees(57)), GMA: units.GMA(units.Degrees(12)), HasMagnetic: true, LengthM: 1000}
	fit, other := plain, plain
	fit.Compass = plan.Compass{Set: true, SetTo: units.Degrees(12.4)}
	other.Compass = plan.Compass{Set: true, SetTo: units.Degrees(3)}
	cases := []struct {
		wrong                     Wrong
		plain, fit, other         float64 // walked, ° grid
		toMap, toMapFit, toMapOff float64 // plotted
	}{
		{DoneRight, 57, 57, 57, 57, 57, 57},
		{PlateReversed, 237, 237, 237, 237, 237, 237},
		{HousingUpsideDown, 237, 237, 237, 237, 237, 237},
		{SouthEndSeated, 237, 237, 237, 237, 237, 237},
		{LinesAlongEastings, 327, 327, 327, 147, 147, 147},
		{CorrectedWrongWay, 81, 81, 75, 33, 33, 39},
		{CorrectedTwice, 45, 45, 54, 69, 69, 60},
	}
	for _, c := range cases {
		for i, task := range []CompassTask{plain, fit, other} {
			got := Stepping{MapToGround, 0, c.wrong}.Outcome(task)
			if want := []float64{c.plain, c.fit, c.other}[i]; apart(got.Bearing.Angle(), units.Degrees(want)) > 1e-9 {
				t.Errorf("%s, compass %d: got %v° walked, want %v°", c.wrong.Words(), i, got.Bearing.Angle().Deg(), want)
			}
			got = Stepping{GroundToMap, 0, c.wrong}.Outcome(task)
			if want := []float64{c.toMap, c.toMapFit, c.toMapOff}[i]; apart(got.Bearing.Angle(), units.Degrees(want)) > 1e-9 {
				t.Errorf("%s, compass %d: got %v° plotted, want %v°", c.wrong.Words(), i, got.Bearing.Angle().Deg(), want)
			}
		}
	}
}

// TestMissIsTheDistanceBetweenTheEnds computes the miss from the ends.
func TestMissIsTheDistanceBetweenTheEnds(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 4))
	for range 300 {
		task := drawTask(r)
		sin, cos := math.Sincos(task.Leg.Angle().Rad())
		for _, wrong := range Wrongs() {
			for _, way := range ways() {
				o := Stepping{way, 0, wrong}.Outcome(task)
				e, n := o.End(task, way)
				if way == MapToGround {
					e, n = e-task.LengthM*sin, n-task.LengthM*cos
				}
				if got := math.Hypot(e, n); math.Abs(got-o.MissM) > 1e-6 {
					t.Fatalf("%s, way %d: got ends %v m apart, want %v m", wrong.Words(), way, got, o.MissM)
				}
			}
		}
	}
}

// TestWithoutMagneticNothingIsSet steps on a line without a magnetic bearing.
func TestWithoutMagneticNothingIsSet(t *testing.T) {
	t.Parallel()
	task := CompassTask{Leg: units.NewGridBearing(units.Degrees(57)), LengthM: 500}
	for _, way := range ways() {
		for step := range LastStep + 1 {
			s := Stepping{way, step, CorrectedTwice}
			if p := s.Posture(task); p.HasNeedle || p.Seat != NoEnd {
				t.Errorf("way %d, step %d: got needle %v, seat %d, want neither", way, step, p.HasNeedle, p.Seat)
			}
			if w := s.Words(task); (step > task.Reach(way)) != strings.HasPrefix(w.Do, "Stop here") || strings.Contains(w.Index, "mag") {
				t.Errorf("way %d, step %d: got %q, figure %q", way, step, w.Do, w.Index)
			}
		}
		s := Stepping{Way: way, Wrong: PlateReversed}
		if o := s.Outcome(task); o.Known || s.OutcomeWords(task, "A", "B") != (OutcomeWords{}) {
			t.Errorf("way %d: got the outcome %+v, want none", way, o)
		}
	}
}

// TestFiguresAgree compares the figures of the ring with each other: where a correction
// is printed, the figure before it and after it differ by what the words say.
func TestFiguresAgree(t *testing.T) {
	t.Parallel()
	task := CompassTask{Leg: units.NewGridBearing(units.Degrees(56.6)), GMA: units.GMA(units.Degrees(12.3)), HasMagnetic: true, LengthM: 500}
	fit := task
	fit.Compass = plan.Compass{Set: true, SetTo: units.Degrees(12.3)}
	cases := []struct {
		name         string
		task         CompassTask
		way          Way
		wrong        Wrong
		before, then string // figures at the index at steps 2 and 3
	}{
		{"right", task, MapToGround, DoneRight, "057° grid", "044° mag"},
		{"right, to map", task, GroundToMap, DoneRight, "044° mag", "057° grid"},
		{"wrong way", task, MapToGround, CorrectedWrongWay, "057° grid", "070° mag"},
		{"wrong way, to map", task, GroundToMap, CorrectedWrongWay, "044° mag", "031° grid"},
		{"twice", task, MapToGround, CorrectedTwice, "057° grid", "031° mag"},
		{"set housing", fit, MapToGround, DoneRight, "057° grid", "057° grid"},
		{"set housing, to map", fit, GroundToMap, DoneRight, "057° grid", "057° grid"},
		{"set housing, twice", fit, MapToGround, CorrectedTwice, "057° grid", "044° grid"},
		{"set to the other side", fit, GroundToMap, CorrectedWrongWay, "033° grid", "033° grid"},
		{"upside down", task, MapToGround, HousingUpsideDown, "237° grid", "224° mag"},
	}
	for _, c := range cases {
		for step, want := range []string{"", "", c.before, c.then} {
			if got := (Stepping{c.way, step, c.wrong}).Words(c.task).Index; got != want {
				t.Errorf("%s, step %d: got %q at the index, want %q", c.name, step, got, want)
			}
		}
	}
}

// TestWrongFiguresClose has a coach reckon each wrong correction from the printed figures
// of the right one: g grid, m magnetic and G = g − m give g + G or g − 2G to set, and what
// is walked is G more than that. On the way to the map they give m − G and m + 2G.
func TestWrongFiguresClose(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 6))
	hand := CompassTask{Leg: units.NewGridBearing(units.Degrees(17.8)), GMA: units.GMA(units.Degrees(2.6)), HasMagnetic: true, LengthM: 500}
	for n := range 1000 {
		task := hand
		if n > 0 {
			task = drawTask(r)
			task.Compass.Set = false
		}
		c := task.Compass.Circle
		g, m := stepsOf(task.Leg.Angle(), c), stepsOf(task.Leg.Magnetic(task.GMA).Angle(), c)
		gma := g - m
		cases := []struct {
			s            Stepping
			index, leads int
		}{
			{Stepping{MapToGround, 3, CorrectedWrongWay}, g + gma, g + 2*gma},
			{Stepping{MapToGround, 3, CorrectedTwice}, g - 2*gma, g - gma},
			{Stepping{GroundToMap, 3, CorrectedWrongWay}, m - gma, m - gma},
			{Stepping{GroundToMap, 3, CorrectedTwice}, m + 2*gma, m + 2*gma},
		}
		for _, x := range cases {
			north := " mag"
			if x.s.Way == GroundToMap {
				north = " grid"
			}
			if got, want := x.s.Words(task).Index, c.Figure(units.Angle(x.index)*c.Step())+north; got != want {
				t.Errorf("%+v, %+v: got %q at the index, want %q", task, x.s, got, want)
			}
			o := x.s.Outcome(task)
			if got, want := c.Figure(o.Bearing.Angle()), c.Figure(units.Angle(x.leads)*c.Step()); got != want {
				t.Errorf("%+v, %+v: leads along %q, want %q", task, x.s, got, want)
			}
		}
	}
	if got := (Stepping{MapToGround, 3, CorrectedWrongWay}).Words(hand).Index; got != "021° mag" {
		t.Errorf("018° grid with a GMA of 3° east: got %q, want 021° mag", got)
	}
}

// stepsOf is a printed bearing in steps of the ring.
func stepsOf(a units.Angle, c units.Circle) int { return int(math.Round(float64(a.Turn() / c.Step()))) }

// TestSlipIsSaidOnceItIsMade holds when a mistake is named.
func TestSlipIsSaidOnceItIsMade(t *testing.T) {
	t.Parallel()
	task := CompassTask{Leg: units.NewGridBearing(units.Degrees(57)), GMA: units.GMA(units.Degrees(-17)), HasMagnetic: true, LengthM: 500}
	cases := []struct {
		wrong         Wrong
		ground, toMap int // the first step with the slip in words
	}{
		{PlateReversed, 1, 1},
		{HousingUpsideDown, 2, 4},
		{LinesAlongEastings, 2, 4},
		{SouthEndSeated, 4, 2},
		{CorrectedWrongWay, 3, 3},
		{CorrectedTwice, 3, 3},
		{DoneRight, 5, 5},
	}
	for _, c := range cases {
		for step := range LastStep + 1 {
			if got := (Stepping{MapToGround, step, c.wrong}).Words(task).Slip != ""; got != (step >= c.ground) {
				t.Errorf("%s, to the ground, step %d: got a slip said %v", c.wrong.Words(), step, got)
			}
			if got := (Stepping{GroundToMap, step, c.wrong}).Words(task).Slip != ""; got != (step >= c.toMap) {
				t.Errorf("%s, to the map, step %d: got a slip said %v", c.wrong.Words(), step, got)
			}
		}
	}
}

// TestStepsStayWithinTheWay walks past both ends.
func TestStepsStayWithinTheWay(t *testing.T) {
	t.Parallel()
	s, ok := Stepping{Step: LastStep}.Next()
	if ok || s.Step != LastStep {
		t.Errorf("after the last step: got %+v, %v", s, ok)
	}
	if s, ok = (Stepping{}).Previous(); ok || s.Step != 0 {
		t.Errorf("before the first step: got %+v, %v", s, ok)
	}
	if s, ok = (Stepping{Step: 1, Wrong: PlateReversed}).Next(); !ok || s.Step != 2 || s.Wrong != PlateReversed {
		t.Errorf("from step 1: got %+v, %v", s, ok)
	}
}
