package misread_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"legwright/app/misread"
	"legwright/app/units"
)

const legs = 1000

// randomTask is a leg between two random positions, asked on any circle, from the map
// or from the compass, with a training GMA of 8° to 20° on either side.
func randomTask(r *rand.Rand) misread.Task {
	bearing, ok := units.GridBearingOf(r.Float64()*4000-2000, r.Float64()*4000-2000)
	if !ok {
		return randomTask(r)
	}
	gma := 8 + 12*r.Float64()
	if r.IntN(2) == 0 {
		gma = -gma
	}
	t := misread.Task{
		Right:  bearing.Angle(),
		North:  []units.North{units.GridNorth, units.MagneticNorth}[r.IntN(2)],
		GMA:    units.GMA(units.Degrees(gma)),
		Circle: units.Circles()[r.IntN(4)],
	}
	if t.North == units.MagneticNorth {
		t.Right = bearing.Magnetic(t.GMA).Angle()
	}
	return t
}

// expected works a slip out in degrees and whole figures, apart from the code tested.
func expected(t misread.Task, s misread.Slip) []float64 {
	deg, gma := t.Right.Deg(), t.GMA.Angle().Deg()
	grid, magnetic := deg, deg-gma // of the same line
	if t.North == units.MagneticNorth {
		grid, magnetic = deg+gma, deg
	}
	asked := func(onGrid, onMagnetic float64) []float64 {
		if t.North == units.MagneticNorth {
			return []float64{onMagnetic}
		}
		return []float64{onGrid}
	}
	switch s {
	case misread.HalfTurn:
		return []float64{deg + 180}
	case misread.AlongEastings:
		return []float64{deg + 90, deg + 270}
	case misread.EastForWest, misread.Anticlockwise:
		return []float64{360 - deg}
	case misread.NorthForSouth:
		return []float64{180 - deg}
	case misread.WrongSign: // from the compass, and from the map
		return asked(magnetic-gma, grid+gma)
	case misread.CorrectedTwice:
		return asked(magnetic+2*gma, grid-2*gma)
	case misread.NotCorrected:
		return asked(magnetic, grid)
	case misread.TensMisread:
		ten := map[units.Circle]float64{units.WholeDegrees: 10, units.HalfDegrees: 10, units.Mils6400: 5.625, units.Gon400: 9}[t.Circle]
		return []float64{deg - ten, deg + ten}
	}
	return digitPairs(t)
}

// digitPairs swaps the digits of a figure by taking it apart as a number.
func digitPairs(t misread.Task) []float64 {
	count, places := int(t.Circle.PerTurn()), 3
	if t.Circle == units.Mils6400 {
		places = 4
	}
	step := t.Circle.Step().Deg() / 360 * t.Circle.PerTurn()
	printed := math.Mod(math.Round(t.Right.Deg()/360*t.Circle.PerTurn()/step)*step, t.Circle.PerTurn())
	whole := int(printed)
	var out []float64
	for i := range places {
		for j := range i {
			a, b := int(math.Pow10(i)), int(math.Pow10(j))
			da, db := whole/a%10, whole/b%10
			swapped := whole + (db-da)*a + (da-db)*b
			if da != db && swapped < count {
				out = append(out, (float64(swapped)+printed-float64(whole))/t.Circle.PerTurn()*360)
			}
		}
	}
	return out
}

func between(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 360)) }

// within lists the slips that the oracle finds behind an answer.
func within(t misread.Task, said, tolerance float64) []misread.Slip {
	var out []misread.Slip
	for _, s := range misread.Slips() {
		if slices.ContainsFunc(expected(t, s), func(deg float64) bool {
			return between(deg, said) <= tolerance && between(deg, t.Right.Deg()) > 2*tolerance
		}) {
			out = append(out, s)
		}
	}
	return out
}

func sorted(list []misread.Finding) []misread.Slip {
	var out []misread.Slip
	for _, f := range list {
		out = append(out, f.Slip)
	}
	slices.Sort(out)
	return out
}

// Every slip made on a thousand random legs, said as exactly as a person reads, is
// named; and no slip is named that the oracle does not find within the tolerance, so
// that it stands alone wherever no other comes near.
func TestTheSlipMadeIsNamed(t *testing.T) {
	t.Parallel()
	const tolerance = 2.0
	for _, s := range misread.Slips() {
		r := rand.New(rand.NewPCG(15, uint64(s)))
		named, alone := 0, 0
		for range legs {
			task := randomTask(r)
			for _, made := range expected(task, s) {
				if between(made, task.Right.Deg()) <= 2*tolerance {
					continue
				}
				said := made + (2*r.Float64()-1)*tolerance*0.999
				want := within(task, said, tolerance)
				got := sorted(task.Explain(units.Degrees(said).Turn(), units.Degrees(tolerance)))
				if !slices.Contains(got, s) || !slices.Equal(got, want) {
					t.Fatalf("%s of %+v said %.3f°: got %v, want %v", s.Code(), task, said, got, want)
				}
				named++
				if len(got) == 1 {
					alone++
				}
			}
		}
		mirrored := s == misread.EastForWest || s == misread.Anticlockwise
		if named < legs*8/10 || (alone < named/2) != mirrored || mirrored && alone != 0 {
			t.Errorf("%s: named %d times, %d of them alone", s.Code(), named, alone)
		}
	}
}

// A right answer, read as exactly as the tolerance asks, has no slip.
func TestARightAnswerHasNoSlip(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 99))
	for range legs {
		task, tolerance := randomTask(r), r.Float64()*10
		said := (task.Right + units.Degrees((2*r.Float64()-1)*tolerance)).Turn()
		if got := task.Explain(said, units.Degrees(tolerance)); got != nil || !task.IsRight(said, units.Degrees(tolerance)) {
			t.Fatalf("%+v said %v°, tolerance %v°: got %v, want none", task, said.Deg(), tolerance, got)
		}
	}
}

func TestMadeAgainstPlainArithmetic(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 7))
	for range legs {
		task := randomTask(r)
		for _, s := range misread.Slips() {
			if got, want := degrees(task.Made(s)), expected(task, s); !sameSet(got, want) {
				t.Fatalf("%s of %+v: made %v, want %v", s.Code(), task, got, want)
			}
		}
	}
}

// What a slip makes is led back to the right answer by its inverse: to the figure that
// was printed where digits are swapped.
func TestUndoneLeadsBack(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 8))
	for range legs {
		task := randomTask(r)
		for _, s := range misread.Slips() {
			right := task.Right.Deg()
			if s == misread.DigitsSwapped {
				right = printedDeg(t, task)
			}
			for _, made := range task.Made(s) {
				other := task
				other.Right = 0 // the inverse does not look at it
				if !slices.ContainsFunc(degrees(other.Undone(s, made)), func(d float64) bool { return between(d, right) < 1e-9 }) {
					t.Fatalf("%s of %+v makes %v°, undone %v, want %v°", s.Code(), task, made.Deg(), degrees(other.Undone(s, made)), right)
				}
			}
		}
	}
}

func printedDeg(t *testing.T, task misread.Task) float64 {
	t.Helper()
	a, err := units.ParseBearing(task.Circle.Figure(task.Right), task.Circle)
	if err != nil {
		t.Fatal(err)
	}
	return a.Deg()
}

func degrees(list []units.Angle) []float64 {
	var out []float64
	for _, a := range list {
		out = append(out, a.Deg())
	}
	return out
}

func sameSet(got, want []float64) bool {
	if len(got) != len(want) {
		return false
	}
	for _, w := range want {
		if !slices.ContainsFunc(got, func(g float64) bool { return between(g, w) < 1e-9 }) {
			return false
		}
	}
	return true
}

// figures writes angles in a circle's units.
func figures(list []units.Angle, c units.Circle) []string {
	var out []string
	for _, a := range list {
		out = append(out, strconv.FormatFloat(math.Round(a.Rad()/2/math.Pi*c.PerTurn()*1e6)/1e6, 'f', -1, 64))
	}
	slices.Sort(out)
	return out
}

// Tens and digits are those of the circle that the party carries.
func TestTensAndDigitsOfTheCircle(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		circle       units.Circle
		right        float64 // in the circle's units
		tens, digits []string
	}{
		{units.WholeDegrees, 57, []string{"47", "67"}, []string{"75"}}, // 507 and 750 are past the turn
		{units.WholeDegrees, 123, []string{"113", "133"}, []string{"132", "213", "321"}},
		{units.WholeDegrees, 359, []string{"349", "9"}, nil}, // 395, 539 and 953
		{units.HalfDegrees, 57.5, []string{"47.5", "67.5"}, []string{"75.5"}},
		{units.Mils6400, 1010, []string{"1110", "910"}, []string{"110", "1100", "11", "1001"}},
		{units.Mils6400, 50, []string{"150", "6350"}, []string{"500", "5000", "5"}},
		{units.Gon400, 63, []string{"53", "73"}, []string{"36", "360"}},
		{units.Gon400, 395, []string{"385", "5"}, []string{"359"}},
	} {
		task := misread.Task{Right: units.Angle(c.right / c.circle.PerTurn() * 2 * math.Pi), North: units.GridNorth, Circle: c.circle}
		slices.Sort(c.tens)
		slices.Sort(c.digits)
		if got := figures(task.Made(misread.TensMisread), c.circle); !slices.Equal(got, c.tens) {
			t.Errorf("%v %v: tens make %v, want %v", c.circle, c.right, got, c.tens)
		}
		if got := figures(task.Made(misread.DigitsSwapped), c.circle); !slices.Equal(got, c.digits) {
			t.Errorf("%v %v: swapped digits make %v, want %v", c.circle, c.right, got, c.digits)
		}
	}
}

// On the edges of the circle mirrored bearings meet: what makes no difference there is
// not named, and half a turn looks the same as a mirror, as a quarter does halfway between.
func TestEdgesOfTheCircle(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ right, said, want string }{
		{"000", "180", "[half-turn north-for-south]"},
		{"180", "000", "[half-turn north-for-south]"},
		{"090", "270", "[half-turn east-for-west anticlockwise]"},
		{"270", "090", "[half-turn east-for-west anticlockwise]"},
		{"359", "180", "[half-turn north-for-south]"}, // 179 and 181
		{"359", "010", "[tens-misread]"},
		{"000", "350", "[tens-misread]"},
		{"000", "000", "[]"},
		{"359", "001", "[]"}, // mirrored, but only 2° away
		{"090", "090", "[]"},
		{"045", "315", "[lines-along-eastings east-for-west anticlockwise]"},
		{"045", "135", "[lines-along-eastings north-for-south]"},
		{"045", "225", "[half-turn]"},
		{"057", "237", "[half-turn]"},
		{"057", "327", "[lines-along-eastings]"}, // 057 − 90
		{"057", "147", "[lines-along-eastings]"}, // 057 + 90
		{"057", "075", "[digits-swapped]"},
		{"057", "100", "[]"},
	} {
		task := misread.Task{Right: bearing(t, c.right), North: units.GridNorth}
		if got := codes(task.Explain(bearing(t, c.said), units.Degrees(2))); got != c.want {
			t.Errorf("%s said %s: got %s, want %s", c.right, c.said, got, c.want)
		}
	}
}

func bearing(t *testing.T, text string) units.Angle {
	t.Helper()
	a, err := units.ParseBearing(text, units.WholeDegrees)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func codes(list []misread.Finding) string {
	out := []string{}
	for _, f := range list {
		out = append(out, f.Slip.Code())
	}
	return fmt.Sprint(out)
}
