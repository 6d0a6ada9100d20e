package lessondraw_test

import (
	"math"
	"testing"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/lessondraw"
	"legwright/app/ui/uitest"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// stand is a lesson that shows the first leg of the demo's plan.
func stand(t *testing.T) (*teach.Lesson, *session.Session, overlay.Sketch, leg.Reading) {
	t.Helper()
	s := uitest.DemoSession(t)
	first := s.Plan().Legs[0]
	l := teach.NewLesson()
	l.Show(teach.Line{ID: first.ID, From: first.From, To: first.To})
	r, err := s.Reader().Read(s.Plan().Resolve(first.From), s.Plan().Resolve(first.To))
	if err != nil {
		t.Fatal(err)
	}
	sheet, _ := s.Sheet()
	k, ok := overlay.SketchOn(s.Reader(), sheet.ID)
	if !ok {
		t.Fatal("no sketch of the demo's sheet")
	}
	return l, s, k, r
}

// What is drawn follows the lesson: nothing without a line, guesses only once they are
// shown, the arc from the north that is asked.
func TestDrawnOfALesson(t *testing.T) {
	t.Parallel()
	l, _, k, r := stand(t)
	l.SetHidden(true)
	for _, deg := range []float64{50, 60, 70} {
		if err := l.GuessBearing(units.Degrees(deg)); err != nil {
			t.Fatal(err)
		}
	}
	hidden := lessondraw.Of(k, l, r, plan.Compass{})
	if hidden.Line == nil || len(hidden.Norths.Lines) != 3 || len(hidden.Fan) != 0 || hidden.Line.Label != "" {
		t.Errorf("hidden: line %v, %d norths, %d guesses; want the line, 3 and none", hidden.Line, len(hidden.Norths.Lines), len(hidden.Fan))
	}
	l.SetHidden(false)
	for _, n := range units.Norths() {
		l.SetNorth(n)
		got := lessondraw.Of(k, l, r, plan.Compass{})
		if len(got.Fan) != 4 || !got.Fan[3].Median || got.Arc.North != n {
			t.Errorf("%v: %d lines of guesses, an arc from %v", n, len(got.Fan), got.Arc.North)
		}
	}
	l.SetAsk(teach.AskDistance)
	if got := lessondraw.Of(k, l, r, plan.Compass{}); len(got.Fan) != 0 {
		t.Errorf("%d guesses of the bearing are drawn where the distance is asked", len(got.Fan))
	}
	if err := l.GuessNumber(teach.AskDistance, 400); err != nil {
		t.Fatal(err)
	}
	if got := lessondraw.Of(k, l, r, plan.Compass{}); len(got.Fan) != 2 || !got.Fan[0].Across {
		t.Errorf("a guessed distance: %+v", got.Fan)
	}
	l.Clear()
	if got := lessondraw.Of(k, l, r, plan.Compass{}); !got.Empty() {
		t.Errorf("without a line %+v is drawn", got)
	}
}

// A line whose ends lie on no sheet is not drawn.
func TestALineOffTheSheet(t *testing.T) {
	t.Parallel()
	l, s, k, r := stand(t)
	l.Show(teach.Line{From: plan.AtPosition(plan.Position{}), To: plan.AtPosition(plan.Position{})})
	if got := lessondraw.Of(k, l, r, s.Plan().Party.Compass); !got.Empty() {
		t.Errorf("%+v is drawn", got)
	}
}

func TestWatermark(t *testing.T) {
	t.Parallel()
	l, _, k, r := stand(t)
	if got := lessondraw.Of(k, l, r, plan.Compass{}).Watermark; got != "" {
		t.Errorf("without a training GMA: %q", got)
	}
	if err := l.SetTraining(units.GMA(units.Degrees(-17))); err != nil {
		t.Fatal(err)
	}
	if got := lessondraw.Of(k, l, r, plan.Compass{}).Watermark; got != "TRAINING GMA 17° west" {
		t.Errorf("got %q", got)
	}
}

// A bearing counted from any north comes back as the reading's own grid bearing.
func TestGridOf(t *testing.T) {
	t.Parallel()
	_, _, _, r := stand(t)
	for n, a := range map[units.North]units.Angle{
		units.GridNorth: r.Grid.Angle(), units.MagneticNorth: r.Magnetic.Angle(), units.TrueNorth: r.True.Angle(),
	} {
		got, ok := lessondraw.GridOf(r, n, a)
		if !ok || math.Abs((got.Angle()-r.Grid.Angle()).Signed().Deg()) > 1e-9 {
			t.Errorf("%v: %.4f°, %v; want %.4f°", n, got.Angle().Deg(), ok, r.Grid.Angle().Deg())
		}
	}
	r.HasMagnetic = false
	if _, ok := lessondraw.GridOf(r, units.MagneticNorth, 1); ok {
		t.Error("a bearing from a magnetic north that is not known")
	}
	if _, ok := lessondraw.GridOf(r, units.NoNorth, 1); ok {
		t.Error("a bearing from no north")
	}
}
