package teach_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"legwright/app/teach"
	"legwright/app/units"
)

func TestGuessesAreBounded(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	if err := l.GuessBearing(1); !errors.Is(err, teach.ErrNoLine) {
		t.Errorf("without a line: %v", err)
	}
	l.Show(lineOf(1))
	for i := range teach.MostGuesses {
		must(t, l.GuessBearing(units.Degrees(float64(i))))
		must(t, l.GuessNumber(teach.AskDistance, float64(i+1)))
	}
	if err := l.GuessBearing(1); !errors.Is(err, teach.ErrAllGuessed) {
		t.Errorf("guess 31: %v", err)
	}
	if err := l.GuessNumber(teach.AskDistance, 1); !errors.Is(err, teach.ErrAllGuessed) {
		t.Errorf("guess 31: %v", err)
	}
	l.RemoveGuess(0)
	if got := l.Bearings(); len(got) != teach.MostGuesses-1 || got[0] != units.Degrees(1) {
		t.Errorf("removed the first: %d left, from %v", len(got), got[0].Deg())
	}
	if len(l.Numbers(teach.AskDistance)) != teach.MostGuesses {
		t.Error("a guess of the kind that is not asked went too")
	}
	l.ClearGuesses()
	if len(l.Bearings()) != 0 {
		t.Error("cleared, and there are guesses")
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 1e6 + 1} {
		if l.ClearGuesses(); l.GuessNumber(teach.AskDistance, bad) == nil {
			t.Errorf("took a distance of %v m", bad)
		}
	}
	if l.GuessBearing(units.Angle(math.NaN())) == nil {
		t.Error("took a bearing that is no number")
	}
}

// TestGuessesKeepTheirNorth: what was guessed from grid north stays so when the coach
// turns to magnetic.
func TestGuessesKeepTheirNorth(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.Show(lineOf(1))
	must(t, l.GuessBearing(units.Degrees(60)))
	l.SetNorth(units.MagneticNorth)
	if got := l.GuessNorth(); got != units.GridNorth {
		t.Errorf("guesses count from %v", got)
	}
	l.ClearGuesses()
	if got := l.GuessNorth(); got != units.MagneticNorth {
		t.Errorf("without guesses the next counts from %v", got)
	}
}

func TestTrainingIsBounded(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	for deg, ok := range map[float64]bool{12: true, -17: true, 0: true, 90: true, 90.1: false, -200: false, math.NaN(): false} {
		if err := l.SetTraining(units.GMA(units.Degrees(deg))); (err == nil) != ok {
			t.Errorf("%v°: %v", deg, err)
		}
	}
}

func degrees(list ...float64) []units.Angle {
	var out []units.Angle
	for _, d := range list {
		out = append(out, units.Degrees(d))
	}
	return out
}

func TestCircularMedian(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		of   []float64
		want float64 // below zero: none
	}{
		{nil, -1},
		{[]float64{57}, 57},
		{[]float64{350, 355, 0, 10, 20}, 0},
		{[]float64{350, 10}, 0},
		{[]float64{355, 10, 40, 358}, 4},
		{[]float64{50, 60, 60, 240}, 55},
		{[]float64{50, 60, 70, 240}, 60},
		{[]float64{50, 58, 60, 60, 62}, 60},
		{[]float64{0, 180}, -1},
		{[]float64{0, 90, 180, 270}, -1},
		{[]float64{0, 120, 240}, -1},
	} {
		got, ok := teach.CircularMedian(degrees(c.of...))
		if ok != (c.want >= 0) || ok && math.Abs((got-units.Degrees(c.want)).Signed().Deg()) > 1e-6 {
			t.Errorf("%v: %.4f, %v; want %v", c.of, got.Deg(), ok, c.want)
		}
	}
}

// TestCircularMedianAgainstBruteForce tries every quarter of a degree round the circle:
// the sum for guesses in whole degrees bends at whole degrees alone. None lies less far
// from the guesses, and where only one arc does as well the median is its middle.
func TestCircularMedianAgainstBruteForce(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 15))
	none := 0
	for i := range 2000 {
		spread, from := 1+r.IntN(360), r.IntN(360)
		var guesses []float64
		for range 1 + r.IntN(teach.MostGuesses) {
			guesses = append(guesses, float64((from+r.IntN(spread))%360))
		}
		if i%4 == 0 { // each with one that points the opposite way
			for _, g := range guesses {
				guesses = append(guesses, math.Mod(g+180, 360))
			}
		}
		middle, arcs := middleOf(guesses)
		got, ok := teach.CircularMedian(degrees(guesses...))
		switch {
		case ok != (arcs == 1):
			t.Errorf("%v: a median %v, but %d arcs are best", guesses, ok, arcs)
		case !ok:
			none++
		case math.Abs((got - units.Degrees(middle)).Signed().Deg()) > 1e-6:
			t.Errorf("%v: %.3f, want the middle %.3f", guesses, got.Deg(), middle)
		}
	}
	if none < 10 || none > 1000 {
		t.Errorf("%d of 2000 had no median: the draws show nothing", none)
	}
}

// middleOf returns the middle of the last arc on which the sum of distances is smallest,
// and how many separate arcs there are.
func middleOf(guesses []float64) (middle float64, arcs int) {
	const steps = 1440
	var sums [steps]float64
	least := math.Inf(1)
	for i := range sums {
		sums[i] = sumFrom(float64(i)/4, guesses)
		least = min(least, sums[i])
	}
	best := func(i int) bool { return sums[(i+steps)%steps] <= least+1e-6 }
	for i := range sums {
		if !best(i) || best(i-1) {
			continue
		}
		arcs++
		last := i
		for best(last + 1) {
			last++
		}
		middle = float64(i+last) / 8
	}
	return middle, arcs
}

func sumFrom(deg float64, guesses []float64) (sum float64) {
	for _, g := range guesses {
		d := math.Abs(math.Mod(g-deg+720, 360))
		sum += min(d, 360-d)
	}
	return sum
}

func TestMedianDistance(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.Show(lineOf(1))
	if _, ok := l.MedianNumber(teach.AskDistance); ok {
		t.Error("a median of nothing")
	}
	for i, want := range []float64{300, 600, 400, 350} {
		must(t, l.GuessNumber(teach.AskDistance, []float64{300, 900, 400, 100}[i]))
		if got, ok := l.MedianNumber(teach.AskDistance); !ok || got != want {
			t.Errorf("after %d guesses: %v, want %v", i+1, got, want)
		}
	}
}

// Guesses are drawn by a step of their own before the figures show; without guesses there
// is no such step, and those of another line begin anew.
func TestGuessesAreDrawnFirst(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.SetRow(rowOf(1, 2))
	l.SetEstimateFirst(true)
	l.Next()
	l.DrawGuesses()
	if l.GuessesDrawn() {
		t.Error("guesses are drawn that nobody made")
	}
	for _, deg := range []float64{40, 50} {
		if err := l.GuessBearing(units.Degrees(deg)); err != nil {
			t.Fatal(err)
		}
	}
	var got []bool
	for range 3 {
		got = append(got, l.GuessesDrawn(), l.Hidden())
		l.Next()
	}
	if want := []bool{false, true, true, true, true, false}; !slices.Equal(got, want) {
		t.Errorf("drawn and hidden step by step: %v, want %v", got, want)
	}
	if n, _ := l.Place(); n != 2 || l.GuessesDrawn() {
		t.Errorf("at line %d guesses are drawn %v, want 2 and not", n, l.GuessesDrawn())
	}
}
