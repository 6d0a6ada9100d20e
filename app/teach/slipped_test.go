package teach_test

import (
	"strings"
	"testing"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

// guessing is a lesson on a line that bears 057° grid, with guesses from a north.
func guessing(t *testing.T, p *plan.Plan, from, to plan.Position, gmaDeg float64, north units.North, guesses ...float64) (*teach.Lesson, leg.Reading) {
	t.Helper()
	l := teach.NewLesson()
	l.Show(teach.Line{From: plan.AtPosition(from), To: plan.AtPosition(to)})
	if gmaDeg != 0 {
		must(t, l.SetTraining(units.GMA(deg(gmaDeg))))
	}
	l.SetNorth(north)
	for _, g := range guesses {
		must(t, l.GuessBearing(deg(g)))
	}
	r, err := l.Read(reader(t, p))
	must(t, err)
	return l, r
}

// found writes the codes behind each guess: "right", "half-turn", "-" for none.
func found(list []teach.Explained) string {
	var out []string
	for _, e := range list {
		var codes []string
		for _, f := range e.Findings {
			codes = append(codes, f.Slip.Code())
		}
		switch text := strings.Join(codes, "+"); {
		case e.Right:
			out = append(out, "right"+text)
		case text == "":
			out = append(out, "-")
		default:
			out = append(out, text)
		}
	}
	return strings.Join(out, " ")
}

// Each guess of a row has its own slip, or none; by eye only what cannot be a rough guess.
func TestSlipsBehindGuesses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		gma     float64
		north   units.North
		care    teach.Care
		guesses []float64
		want    string
	}{
		{0, units.GridNorth, teach.ByEye, []float64{60, 240, 300, 120, 75, 100, 327}, "right half-turn east-for-west+anticlockwise north-for-south - - -"},
		{0, units.GridNorth, teach.WithCompass, []float64{57, 237, 75, 47, 68, 62, 327, 148}, "right half-turn digits-swapped tens-misread tens-misread - lines-along-eastings lines-along-eastings"},
		// With 12° east the line bears 045° mag; with 17° west 074° mag.
		{12, units.MagneticNorth, teach.WithCompass, []float64{45, 69, 57, 33, 225}, "right gma-wrong-way gma-forgotten+tens-misread+digits-swapped gma-twice+tens-misread half-turn"},
		{-17, units.MagneticNorth, teach.WithCompass, []float64{40, 57, 91}, "gma-wrong-way gma-forgotten gma-twice"},
		{-17, units.MagneticNorth, teach.ByEye, []float64{40, 57}, "gma-wrong-way -"},
	} {
		l, r := guessing(t, plan.New(today()), at(0, 0, 0), around(57, 3000), c.gma, c.north, c.guesses...)
		got := found(l.Explain(r, c.care, units.WholeDegrees))
		if got != c.want {
			t.Errorf("GMA %g°, %s, care %d, guesses %v: got %s, want %s", c.gma, c.north, c.care, c.guesses, got, c.want)
		}
	}
}

// No slip is named before the figures are shown, for a distance, from a north that is not
// known, or on a stop: a slip gives the truth away, or takes a vague figure for the truth.
func TestNoSlipIsNamedTooSoon(t *testing.T) {
	t.Parallel()
	p := plan.New(today())
	l, r := guessing(t, p, at(0, 0, 0), around(57, 3000), 12, units.MagneticNorth, 225)
	if got := l.Explain(r, teach.ByEye, units.WholeDegrees); len(got) != 1 || got[0].Words() == "" {
		t.Fatalf("shown: got %v, want the half turn", got)
	}
	finding := l.Explain(r, teach.ByEye, units.WholeDegrees)[0].Findings[0]
	if say := l.Say(r, finding, units.WholeDegrees); !strings.Contains(say, "045° mag becomes 225° mag") || !strings.HasSuffix(say, finding.Slip.Advice()) {
		t.Errorf("shown: it says %q", say)
	}
	l.SetHidden(true)
	if got, say := l.Explain(r, teach.ByEye, units.WholeDegrees), l.Say(r, finding, units.WholeDegrees); got != nil || say != "" {
		t.Errorf("hidden: got %v, %q", got, say)
	}
	l.SetHidden(false)
	l.SetAsk(teach.AskDistance)
	if got := l.Explain(r, teach.ByEye, units.WholeDegrees); got != nil {
		t.Errorf("a distance is asked: got %v", got)
	}
	undated, noMagnetic := guessing(t, plan.New(plan.Date{}), at(0, 0, 0), around(57, 3000), 0, units.MagneticNorth, 225)
	if got := undated.Explain(noMagnetic, teach.ByEye, units.WholeDegrees); got != nil {
		t.Errorf("no magnetic north: got %v", got)
	}
	grid, noDate := guessing(t, plan.New(plan.Date{}), at(0, 0, 0), around(57, 3000), 0, units.GridNorth, 237)
	if got := found(grid.Explain(noDate, teach.ByEye, units.WholeDegrees)); got != "half-turn" {
		t.Errorf("no date, from grid north: got %q, want the half turn", got)
	}
	vague, stopped := guessing(t, p, at(0, 0, 100), around(57, 300), 0, units.GridNorth, 237)
	if got := vague.Explain(stopped, teach.ByEye, units.WholeDegrees); got != nil || !stopped.Stopped() {
		t.Errorf("on a stop: got %v", got)
	}
}

func TestExplainedWords(t *testing.T) {
	t.Parallel()
	l, r := guessing(t, plan.New(today()), at(0, 0, 0), around(57, 3000), 0, units.GridNorth, 303, 57, 100)
	got := l.Explain(r, teach.WithCompass, units.WholeDegrees)
	want := []string{"east and west mixed up, or the circle read anticlockwise", "", ""}
	for i, e := range got {
		if e.Words() != want[i] || e.Guess != l.Bearings()[i] {
			t.Errorf("guess %d: %q of %.0f°, want %q", i, e.Words(), e.Guess.Deg(), want[i])
		}
	}
	if len(got) != 3 {
		t.Errorf("%d guesses explained, want 3", len(got))
	}
}
