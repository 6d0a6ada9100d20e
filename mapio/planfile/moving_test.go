package planfile_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// crowdedSession is a session with a sheet of 52 control points, a mark picked on it and
// a leg typed from there.
func crowdedSession(t *testing.T, journal *planfile.Journal) *session.Session {
	t.Helper()
	s := session.New(planfile.NewStore(), journal, func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) })
	must(t, s.OpenSheet(session.Picture{Path: "/maps/isle.png", Width: 2000, Height: 2000}))
	for i := range 52 {
		col, row := 200+100*(i%13), 300+400*(i/13)
		_, err := s.AddControlPoint(calib.PicturePt{Col: float64(col), Row: float64(row)}, fmt.Sprintf("NL %05d %05d", 50_000+5*col, 99_000-5*row))
		must(t, err)
	}
	pos, err := s.PositionAt(calib.PicturePt{Col: 700, Row: 700}, 0.5)
	must(t, err)
	_, err = s.AddMark("Cairn", pos)
	must(t, err)
	_, err = s.LegFromTyped(plan.AtPosition(pos), "120", session.GridNorth, "400 m")
	must(t, err)
	return s
}

// crashed is the plan that would be restored if the bench died now.
func crashed(t *testing.T, journal *planfile.Journal, state string) *plan.Plan {
	t.Helper()
	must(t, journal.Flush())
	files, err := filepath.Glob(filepath.Join(state, "*.journal"))
	must(t, err)
	dead := t.TempDir()
	for _, f := range files {
		text, err := os.ReadFile(f)
		must(t, err)
		must(t, os.WriteFile(filepath.Join(dead, filepath.Base(f)), text, 0o600))
	}
	left, err := planfile.Pending([]string{dead})
	must(t, err)
	if len(left) != 1 {
		t.Fatalf("left behind %d plans, want one", len(left))
	}
	return left[0].Plan
}

// samePlaces reports whether a restored plan has the control points of another, and all
// its positions where that one has them, and nothing had to be mended.
func samePlaces(got, want *plan.Plan) bool {
	return got.Mended == nil && reflect.DeepEqual(got.Sheets[0].Points, want.Sheets[0].Points) &&
		got.Marks[0].Position.Grid == want.Marks[0].Position.Grid &&
		reflect.DeepEqual(got.Legs[0].From.Position.Grid, want.Legs[0].From.Position.Grid) &&
		reflect.DeepEqual(got.Legs[0].To.Position, want.Legs[0].To.Position)
}

// A bench may die while one of many control points moves, or while the sheet is being
// calibrated beside the window: what comes back is the plan before the moves or after
// them, never points with positions that belong to others.
func TestABenchDiesWhileAPointMoves(t *testing.T) {
	t.Parallel()
	state := t.TempDir()
	journal := planfile.OpenJournal([]string{state}, "")
	t.Cleanup(func() { must(t, journal.Close()) })
	s := crowdedSession(t, journal)
	var under *session.Judging
	s.JudgeBeside(func(w *session.Judging) { under = w })
	before := s.Plan()
	is := func(when string, want *plan.Plan) {
		t.Helper()
		if got := crashed(t, journal, state); !samePlaces(got, want) {
			t.Errorf("%s: restored %v, %+v, %+v, mended %v", when, got.Sheets[0].Points[0].At, got.Marks, got.Legs, got.Mended)
		}
	}
	nudge := func() {
		t.Helper()
		sheet, _ := s.Sheet()
		to := sheet.Points[0].At
		for range 4 {
			to.Col += 4
			must(t, s.NudgeControlPoint(0, to))
		}
	}
	rest := func(when string) {
		t.Helper()
		is(when+", at rest", before)
		under.Do()
		is(when+", calibrated", before)
		s.EndJudging(under)
		if after := s.Plan(); samePlaces(after, before) || after.Marks[0].Position.Grid == before.Marks[0].Position.Grid {
			t.Fatalf("%s: the mark did not move: the test tries nothing", when)
		}
		before = s.Plan()
		is(when+", judged", before)
	}
	nudge()
	is("nudged", before)
	s.EndNudge()
	rest("nudged")
	s.BeginDrag()
	nudge()
	is("dragged", before)
	s.EndDrag()
	rest("dragged")
	nudge()
	s.EndNudge()
	must(t, s.SetTitle("Round")) // an act does not wait
	is("after an act", s.Plan())
	nudge()
	must(t, s.Close(true)) // the system ends the bench
	is("closed", s.Plan())
}
