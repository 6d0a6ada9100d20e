package teach_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

func endAt(e, n float64) plan.End {
	return plan.AtPosition(plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: "27700", Origin: plan.Imported})
}

// lineOf is leg number n of a plan made up here.
func lineOf(n int) teach.Line {
	x := float64(n) * 100
	return teach.Line{ID: plan.ID(fmt.Sprintf("leg-%d", n)), Name: fmt.Sprintf("leg %d", n), From: endAt(x, 0), To: endAt(x, 500)}
}

func rowOf(numbers ...int) []teach.Line {
	var out []teach.Line
	for _, n := range numbers {
		out = append(out, lineOf(n))
	}
	return out
}

// state is all that a lesson tells.
type state struct {
	Line                       teach.Line
	Has, Hidden, EstimateFirst bool
	N, Of                      int
	Ask                        teach.Ask
	North, GuessNorth          units.North
	Training                   units.GMA
	Trains                     bool
	Bearings                   []units.Angle
	DistancesM                 []float64
	Drawn                      bool
}

func stateOf(l *teach.Lesson) state {
	s := state{
		Hidden: l.Hidden(), EstimateFirst: l.EstimateFirst(), Ask: l.Ask(), North: l.North(), GuessNorth: l.GuessNorth(),
		Bearings: l.Bearings(), DistancesM: l.Numbers(teach.AskDistance), Drawn: l.GuessesDrawn(),
	}
	s.Line, s.Has = l.Line()
	s.N, s.Of = l.Place()
	s.Training, s.Trains = l.Training()
	return s
}

// TestPresenterWalksTheRow goes through a row by one key alone: hidden, shown, next.
func TestPresenterWalksTheRow(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.SetRow(rowOf(1, 2, 3))
	l.SetEstimateFirst(true)
	var got []string
	for range 8 {
		l.Next()
		n, of := l.Place()
		got = append(got, fmt.Sprintf("%d/%d %v", n, of, l.Hidden()))
	}
	want := []string{"1/3 true", "1/3 false", "2/3 true", "2/3 false", "3/3 true", "3/3 false", "3/3 false", "3/3 false"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	l.Previous()
	if n, _ := l.Place(); n != 2 || !l.Hidden() {
		t.Errorf("back from line 3: at line %d, hidden %v", n, l.Hidden())
	}
}

// TestWithoutEstimatingOneKeyIsOneLine: figures are shown from the start.
func TestWithoutEstimatingOneKeyIsOneLine(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.SetRow(rowOf(1, 2))
	for want := 1; want <= 2; want++ {
		l.Next()
		if n, _ := l.Place(); n != want || l.Hidden() {
			t.Errorf("at line %d, hidden %v; want line %d, shown", n, l.Hidden(), want)
		}
	}
}

// TestDrawnLineBetween: after a line of its own the lesson goes on where the row was.
func TestDrawnLineBetween(t *testing.T) {
	t.Parallel()
	drawn := teach.Line{From: endAt(7, 7), To: endAt(70, 70)}
	for _, c := range []struct {
		go_  func(*teach.Lesson)
		want plan.ID
	}{{(*teach.Lesson).Next, "leg-3"}, {(*teach.Lesson).Previous, "leg-2"}} {
		l := teach.NewLesson()
		l.SetRow(rowOf(1, 2, 3))
		l.Next()
		l.Next()
		l.Show(drawn)
		if n, of := l.Place(); n != 0 || of != 3 {
			t.Errorf("a drawn line has place %d of %d", n, of)
		}
		c.go_(l)
		if got, _ := l.Line(); got.ID != c.want {
			t.Errorf("went to %q, want %q", got.ID, c.want)
		}
	}
}

// TestRowChanges: a leg that is deleted leaves the row and the lesson, one that is moved
// or renamed stays the lesson's, and the next one is the one that came after it.
func TestRowChanges(t *testing.T) {
	t.Parallel()
	at2 := func() *teach.Lesson {
		l := teach.NewLesson()
		l.SetRow(rowOf(1, 2, 3))
		l.Next()
		l.Next()
		must(t, l.GuessBearing(1))
		return l
	}
	l := at2()
	l.SetRow(rowOf(3, 2, 1, 4))
	if n, of := l.Place(); n != 2 || of != 4 || len(l.Bearings()) != 1 {
		t.Errorf("put in another order: line %d of %d, %d guesses", n, of, len(l.Bearings()))
	}
	renamed := rowOf(1, 2, 3)
	renamed[1].Name = "to the cairn"
	l.SetRow(renamed)
	if got, _ := l.Line(); got.Name != "to the cairn" || len(l.Bearings()) != 1 {
		t.Errorf("renamed: %q, %d guesses", got.Name, len(l.Bearings()))
	}
	moved := rowOf(1, 2, 3)
	moved[1].To = endAt(1, 1)
	l.SetRow(moved)
	if got, _ := l.Line(); got.To != moved[1].To || len(l.Bearings()) != 0 {
		t.Errorf("moved: ends at %v, %d guesses of the old line", got.To.Position.Grid, len(l.Bearings()))
	}
	for _, c := range []struct {
		go_  func(*teach.Lesson)
		want plan.ID
	}{{(*teach.Lesson).Next, "leg-3"}, {(*teach.Lesson).Previous, "leg-1"}} {
		l = at2()
		l.SetRow(rowOf(1, 3))
		if _, ok := l.Line(); ok || len(l.Bearings()) != 0 {
			t.Errorf("deleted: still a line %v, with %d guesses", ok, len(l.Bearings()))
		}
		c.go_(l)
		if got, _ := l.Line(); got.ID != c.want {
			t.Errorf("went to %q, want %q", got.ID, c.want)
		}
	}
}

// TestHiddenStaysHidden names every act that must not show figures.
func TestHiddenStaysHidden(t *testing.T) {
	t.Parallel()
	for name, act := range map[string]func(*teach.Lesson){
		"draw":             func(l *teach.Lesson) { l.Show(teach.Line{From: endAt(0, 0), To: endAt(9, 9)}) },
		"another line":     func(l *teach.Lesson) { l.Show(lineOf(3)) },
		"clear":            (*teach.Lesson).Clear,
		"back":             (*teach.Lesson).Previous,
		"delete":           func(l *teach.Lesson) { l.SetRow(nil) },
		"no more estimate": func(l *teach.Lesson) { l.SetEstimateFirst(false) },
		"north":            (*teach.Lesson).NextNorth,
		"guess":            func(l *teach.Lesson) { _ = l.GuessBearing(1) },
		"ask":              func(l *teach.Lesson) { l.SetAsk(teach.AskDistance) },
		"train":            func(l *teach.Lesson) { _ = l.SetTraining(units.GMA(units.Degrees(12))) },
	} {
		for _, estimate := range []bool{true, false} {
			l := teach.NewLesson()
			l.SetRow(rowOf(1, 2, 3))
			l.Next()
			l.Next()
			l.SetEstimateFirst(estimate)
			l.SetHidden(true)
			act(l)
			if !l.Hidden() {
				t.Errorf("%s, estimating first %v: shows figures that were hidden", name, estimate)
			}
		}
	}
}

// TestRandomWalks holds after every act: a hidden figure is shown by Next and SetHidden
// alone; one act that changed something is one call, one that changed nothing is none; the
// place fits the row; guesses stay within bounds and belong to one line.
func TestRandomWalks(t *testing.T) {
	t.Parallel()
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 15))
		l := teach.NewLesson()
		calls := 0
		l.OnChange(func() { calls++ })
		var row []teach.Line
		for range 400 {
			before, had := stateOf(l), calls
			act := r.IntN(13)
			row = doAct(l, r, act, row)
			after := stateOf(l)
			want := 0
			if !reflect.DeepEqual(before, after) {
				want = 1
			}
			// another row may differ in what is not reached yet, which a state does not tell
			if got := calls - had; got != want && (act != actRow || got > 1 || got < want) {
				t.Fatalf("seed %d: act %d told %d times, changed %v", seed, act, got, want == 1)
			}
			checkWalk(t, act, before, after, row)
		}
	}
}

// The acts of doAct that a check needs to know.
const (
	actNext   = 0
	actShow   = 1
	actHidden = 2
	actRow    = 3
)

func doAct(l *teach.Lesson, r *rand.Rand, act int, row []teach.Line) []teach.Line {
	switch act {
	case actNext:
		l.Next()
	case actShow:
		l.Show([]teach.Line{lineOf(r.IntN(8)), {From: endAt(0, 0), To: endAt(float64(r.IntN(3)), 9)}}[r.IntN(2)])
	case actHidden:
		l.SetHidden(r.IntN(2) == 0)
	case actRow:
		row = nil
		for _, n := range r.Perm(8)[:r.IntN(9)] {
			row = append(row, lineOf(n))
			row[len(row)-1].To = endAt(float64(r.IntN(2)), 900)
		}
		l.SetRow(row)
	case 4:
		l.Previous()
	case 5:
		_ = l.GuessBearing(units.Degrees(float64(r.IntN(360))))
	case 6:
		_ = l.GuessNumber(teach.AskDistance, float64(r.IntN(2000)))
	case 7:
		l.SetEstimateFirst(r.IntN(2) == 0)
	case 8:
		l.SetNorth(units.North(r.IntN(5)))
	case 9:
		l.SetAsk(teach.Ask(r.IntN(6) - 1))
	case 10:
		l.RemoveGuess(r.IntN(4) - 1)
	case 11:
		_ = l.SetTraining(units.GMA(units.Degrees(float64(r.IntN(200)))))
	case 12:
		[]func(){l.Clear, l.ClearGuesses, l.ClearTraining, l.NextNorth}[r.IntN(4)]()
	}
	return row
}

func checkWalk(t *testing.T, act int, before, after state, row []teach.Line) {
	t.Helper()
	place := 0
	for i, line := range row {
		if after.Has && line.ID == after.Line.ID {
			place = i + 1
		}
	}
	shown := before.Hidden && !after.Hidden
	switch {
	case shown && before.Has && act != actNext && act != actHidden:
		t.Fatalf("act %d showed hidden figures", act)
	case shown && act == actNext && before.Line != after.Line:
		t.Fatal("Next showed the figures of another line")
	case after.Has && after.EstimateFirst && !after.Hidden && before.Line.ID != after.Line.ID:
		t.Fatalf("act %d brought a line with its figures shown", act)
	case after.N != place || after.Of != len(row):
		t.Fatalf("act %d: place %d of %d, want %d of %d", act, after.N, after.Of, place, len(row))
	case len(after.Bearings) > teach.MostGuesses || len(after.DistancesM) > teach.MostGuesses:
		t.Fatal("too many guesses")
	case len(after.Bearings)+len(after.DistancesM) > 0 && !after.Has:
		t.Fatal("guesses without a line")
	case before.Line.ID != after.Line.ID && len(after.Bearings)+len(after.DistancesM) > 0:
		t.Fatalf("act %d took the guesses to another line", act)
	case after.North == units.NoNorth:
		t.Fatal("bearings from no north")
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
