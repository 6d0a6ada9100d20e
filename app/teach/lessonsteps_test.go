package teach_test

import (
	"testing"

	"legwright/app/teach"
)

// TestPresenterStepsTheCompass goes through two lines by the presenter's keys alone while
// the compass is shown: hidden, shown, four steps, next line; and back.
func TestPresenterStepsTheCompass(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	l.SetRow(rowOf(1, 2))
	l.SetEstimateFirst(true)
	l.SetStepping(teach.Stepping{Way: teach.GroundToMap})
	type at struct {
		line   string
		hidden bool
		step   int
	}
	see := func() at {
		line, _ := l.Line()
		s, on := l.Stepping()
		if !on || s.Way != teach.GroundToMap {
			t.Fatalf("got stepping %+v, %v", s, on)
		}
		return at{line.Name, l.Hidden(), s.Step}
	}
	forth := []at{
		{"leg 1", true, 0},
		{"leg 1", false, 0},
		{"leg 1", false, 1},
		{"leg 1", false, 2},
		{"leg 1", false, 3},
		{"leg 1", false, 4},
		{"leg 2", true, 0},
		{"leg 2", false, 0},
		{"leg 2", false, 1},
	}
	for i, want := range forth {
		if l.Next(); see() != want {
			t.Errorf("after %d times next: got %+v, want %+v", i+1, see(), want)
		}
	}
	back := []at{{"leg 2", false, 0}, {"leg 1", true, 0}, {"leg 1", true, 0}}
	for i, want := range back {
		if l.Previous(); see() != want {
			t.Errorf("after %d times previous: got %+v, want %+v", i+1, see(), want)
		}
	}
}

// TestAnotherLineIsDoneRight holds that a mistake does not follow to another line, and
// that the compass stays put away.
func TestAnotherLineIsDoneRight(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	told := 0
	l.OnChange(func() { told++ })
	l.Show(lineOf(1))
	wrong := teach.Stepping{Step: 9, Wrong: teach.CorrectedTwice}
	l.SetStepping(wrong)
	l.SetStepping(wrong)
	if s, on := l.Stepping(); !on || s != wrong.To(teach.LastStep) || told != 2 {
		t.Errorf("got %+v, %v after %d changes told, want %+v after 2", s, on, told, wrong.To(teach.LastStep))
	}
	l.ClearStepping()
	l.ClearStepping()
	if _, on := l.Stepping(); on || told != 3 {
		t.Errorf("put away: got shown %v after %d changes told, want 3", on, told)
	}
	l.Show(lineOf(2))
	if s, on := l.Stepping(); on || s != (teach.Stepping{}) {
		t.Errorf("on another line: got %+v, %v, want the first step done right, not shown", s, on)
	}
	l.SetRow(rowOf(2, 3))
	l.SetStepping(teach.Stepping{})
	l.ClearStepping()
	if l.Next(); see(l) != "leg 3" {
		t.Errorf("next with the compass put away: got %q, want the next line", see(l))
	}
}

func see(l *teach.Lesson) string { line, _ := l.Line(); return line.Name }
