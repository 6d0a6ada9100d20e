package misread_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/misread"
	"legwright/app/units"
)

// The example of FM 3-25.26, section 6-6 (from memory): magnetic 190° with an easterly
// GMA of 9° is 199° grid, since easterly magnetic to grid adds. The wrong answers follow
// from the same rule.
func TestSlipsOfTheGMA(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		north       units.North
		gma, right  float64
		wrong       float64
		twice, none float64
	}{
		{units.GridNorth, 9, 199, 181, 208, 190},     // 190 mag − 9; 190 + 18; 190 itself
		{units.MagneticNorth, 9, 190, 208, 181, 199}, // 199 grid + 9; 199 − 18; 199 itself
		{units.GridNorth, -12, 353, 17, 341, 5},      // 5 mag, westerly: take 12 off
		{units.MagneticNorth, -12, 5, 341, 17, 353},
	} {
		task := misread.Task{Right: units.Degrees(c.right), North: c.north, GMA: units.GMA(units.Degrees(c.gma))}
		for s, want := range map[misread.Slip]float64{misread.WrongSign: c.wrong, misread.CorrectedTwice: c.twice, misread.NotCorrected: c.none} {
			got := task.Made(s)
			if len(got) != 1 || between(got[0].Deg(), want) > 1e-9 {
				t.Errorf("%s of %v° %s, GMA %v°: got %v, want %v°", s.Code(), c.right, c.north, c.gma, degrees(got), want)
			}
			if found := task.Explain(units.Degrees(want), units.Degrees(2)); !slices.Contains(sorted(found), s) {
				t.Errorf("%v° %s, GMA %v°, said %v°: got %s, want %s among them", c.right, c.north, c.gma, want, codes(found), s.Code())
			}
		}
	}
}

// A true bearing, and one whose north nobody said, have no slips of the GMA; nor has a
// position where there is none.
func TestNoSlipOfTheGMA(t *testing.T) {
	t.Parallel()
	gma := units.GMA(units.Degrees(12))
	for _, task := range []misread.Task{
		{Right: 1, North: units.TrueNorth, GMA: gma},
		{Right: 1, North: units.NoNorth, GMA: gma},
		{Right: 1, North: units.GridNorth},
	} {
		for _, off := range []float64{-24, -12, 12, 24} {
			for _, f := range task.Explain(task.Right+units.Degrees(off), units.Degrees(2)) {
				if f.Slip.OfGMA() {
					t.Errorf("%+v said %v° on: got %s", task, off, f.Slip.Code())
				}
			}
		}
	}
}

// A slip that moves the answer by twice the tolerance or less is never named, and is
// listed as too small to be recognised.
func TestTooSmallToBeTold(t *testing.T) {
	t.Parallel()
	task := misread.Task{Right: units.Degrees(123), North: units.MagneticNorth, GMA: units.GMA(units.Degrees(3))}
	for _, c := range []struct {
		tolerance float64
		want      []misread.Slip
	}{
		{1, nil},
		{1.5, []misread.Slip{misread.CorrectedTwice, misread.NotCorrected}}, // exactly twice
		{3, []misread.Slip{misread.WrongSign, misread.CorrectedTwice, misread.NotCorrected}},
		{5, []misread.Slip{misread.WrongSign, misread.CorrectedTwice, misread.NotCorrected, misread.TensMisread}},
		{90, misread.Slips()},
		{-1, nil},
	} {
		got := task.TooSmall(units.Degrees(c.tolerance))
		if !slices.Equal(got, c.want) {
			t.Errorf("tolerance %v°: too small %v, want %v", c.tolerance, got, c.want)
		}
		for _, s := range got {
			for _, made := range task.Made(s) {
				if slices.Contains(sorted(task.Explain(made, units.Degrees(c.tolerance))), s) {
					t.Errorf("tolerance %v°: %s is too small and yet named", c.tolerance, s.Code())
				}
			}
		}
	}
}

// Nearer findings come first, and what makes the same figure keeps the list's order.
func TestNearestFirst(t *testing.T) {
	t.Parallel()
	task := misread.Task{Right: units.Degrees(85), North: units.GridNorth, GMA: units.GMA(units.Degrees(10))}
	if got := codes(task.Explain(units.Degrees(94), units.Degrees(3))); got != "[north-for-south gma-twice tens-misread]" {
		t.Errorf("085 said 094: got %s", got) // all three make 095: the list's order
	}
	// The mirror makes 275, 3° away, and the wrong end 265, 7° away.
	if got := codes(task.Explain(units.Degrees(272), units.Degrees(8))); got != "[east-for-west anticlockwise half-turn]" {
		t.Errorf("085 said 272: got %s", got)
	}
	for _, f := range task.Explain(units.Degrees(277), units.Degrees(4)) {
		if want := 277 - f.Makes.Deg(); math.Abs(f.Off.Deg()-want) > 1e-9 {
			t.Errorf("%s: off %v°, want %v°", f.Slip.Code(), f.Off.Deg(), want)
		}
	}
}

func TestNothingOfNoAngle(t *testing.T) {
	t.Parallel()
	task := misread.Task{Right: 1, North: units.GridNorth, GMA: 0.2}
	nan := units.Angle(math.NaN())
	if task.Explain(nan, 0.1) != nil || task.IsRight(nan, 0.1) || task.Made(0) != nil {
		t.Error("a slip is named for what is not an angle, or made by what is not a slip")
	}
}

// Each slip has words of its own; none is left to the empty text.
func TestEverySlipHasItsWords(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, s := range misread.Slips() {
		for _, text := range []string{s.Code(), s.Words(), s.Advice()} {
			if text == "" || seen[text] {
				t.Errorf("slip %d: %q is empty or said of another one", s, text)
			}
			seen[text] = true
		}
		if !strings.HasSuffix(s.Advice(), ".") || strings.HasSuffix(s.Words(), ".") {
			t.Errorf("slip %d: %q and %q, want words without and a sentence with a full stop", s, s.Words(), s.Advice())
		}
	}
}

// The sentence holds the right figure and the one made, each with its north, and says
// which way the GMA went.
func TestSay(t *testing.T) {
	t.Parallel()
	east, west := units.GMA(units.Degrees(12)), units.GMA(units.Degrees(-17))
	for _, c := range []struct {
		north units.North
		gma   units.GMA
		slip  misread.Slip
		want  []string
	}{
		{units.GridNorth, east, misread.HalfTurn, []string{"057° grid becomes 237° grid"}},
		{units.MagneticNorth, east, misread.WrongSign, []string{"12° east was added, not taken off", "057° mag becomes 081° mag"}},
		{units.MagneticNorth, west, misread.WrongSign, []string{"17° west was taken off, not added", "057° mag becomes 023° mag"}},
		{units.GridNorth, east, misread.CorrectedTwice, []string{"was added once too often", "057° grid becomes 069° grid"}},
		{units.GridNorth, east, misread.NotCorrected, []string{"The GMA of 12° east was not applied, so this is the magnetic bearing", "becomes 045° grid"}},
		{units.MagneticNorth, east, misread.NotCorrected, []string{"was not taken off, so this is the grid bearing", "becomes 069° mag"}},
	} {
		task := misread.Task{Right: units.Degrees(57), North: c.north, GMA: c.gma}
		got := task.Say(misread.Finding{Slip: c.slip, Makes: task.Made(c.slip)[0]})
		for _, part := range c.want {
			if !strings.Contains(got, part) {
				t.Errorf("%s: %q, want %q in it", c.slip.Code(), got, part)
			}
		}
	}
}
