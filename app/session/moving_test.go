package session

import (
	"fmt"
	"reflect"
	"testing"

	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
)

// crowded is the sheet of bench with 49 control points more, of each printed line.
func crowded(sheet plan.Sheet) plan.Sheet {
	for i := range 49 {
		col, row := 400+200*(i%7), 400+200*(i/7)
		text := fmt.Sprintf("%d %d", 50_000+5*col, 800_000-5*row)
		c := sheet.Points[0]
		c.At, c.Text = at(float64(col), float64(row)), text
		c.Ref.E, c.Ref.N = float64(50_000+5*col), float64(800_000-5*row)
		sheet = sheet.WithPoint(c)
	}
	return sheet
}

// crowd gives the sheet many control points.
func (a acted) crowd() {
	if sheet := mustSheet(a.t, a.Session); len(sheet.Points) <= atOnce {
		must(a.t, a.do("make", "", a.Plan().SetSheet(crowded(sheet))))
	}
}

// sheetsOf are the sheets on which control points move: fitted at each move, and once
// they rest.
func sheetsOf() map[string]func(plan.Sheet) plan.Sheet {
	return map[string]func(plan.Sheet) plan.Sheet{
		"few points":  func(s plan.Sheet) plan.Sheet { return s },
		"many points": crowded,
	}
}

// checked is a session with a leg on a sheet of that kind, which two pillars check.
func checked(t *testing.T, kind func(plan.Sheet) plan.Sheet) (*Session, *memory, *diary) {
	t.Helper()
	s, m, d := bench(t)
	must(t, s.do("make", "", s.Plan().SetSheet(kind(pillared(mustSheet(t, s))))))
	mark(t, s, "Cairn", 900, 850)
	_, err := s.KeepLeg(endAt(t, s, 600, 600), endAt(t, s, 900, 900))
	must(t, err)
	_, err = s.LegFromTyped(s.Plan().Legs[0].To, "120", GridNorth, "400 m")
	must(t, err)
	must(t, s.SaveAs("/plans/isle.legplan"))
	if !s.Verdict().Checked {
		t.Fatalf("the made sheet is unchecked: %+v", s.Verdict())
	}
	return s, m, d
}

// severity says how little may be done on the sheet shown: the greater, the less.
func severity(s *Session) int {
	sheet, _ := s.Sheet()
	switch {
	case caution.Stops(s.Reader().CautionsOfSheet(sheet.ID), caution.All):
		return 2
	case !s.Verdict().Checked:
		return 1
	}
	return 0
}

// fresh is the verdict of a reader that knows of no plan before.
func fresh(t *testing.T, s *Session) check.Verdict {
	t.Helper()
	r, err := leg.NewReader(s.Plan())
	must(t, err)
	return r.Verdict(mustSheet(t, s).ID)
}

func sameVerdict(a, b check.Verdict) bool {
	return a.Checked == b.Checked && a.Waits == b.Waits && reflect.DeepEqual(a.Cautions, b.Cautions) && reflect.DeepEqual(a.Evidence, b.Evidence)
}

// While a control point moves the sheet and every reading on it are never better than
// before or after; once it rests the verdict is that of a reader made anew.
func TestNothingIsCheckedWhileAPointMoves(t *testing.T) {
	t.Parallel()
	for kind, make := range sheetsOf() {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			s, _, _ := checked(t, make)
			moves := 0
			s.OnChange(func(c Change) {
				if !c.Moving {
					return
				}
				moves++
				if v := s.Verdict(); !v.Waits || v.Checked || severity(s) != 2 || !caution.Has(v.Cautions, caution.NotJudged) || !caution.Has(v.Cautions, caution.Unchecked) {
					t.Errorf("move %d: %+v", moves, v)
				}
				for i, r := range s.Rows() {
					if r.Err != nil || !r.Reading.Stopped() || !r.Reading.Has(caution.NotJudged) || !r.Reading.Has(caution.Unchecked) {
						t.Errorf("move %d, leg %d: %v, %v", moves, i+1, r.Err, r.Reading.Cautions)
					}
				}
			})
			reached := map[int]bool{}
			for _, to := range []float64{200.2, 330, 200.1, 200} { // sound, far out, sound again
				before := severity(s)
				must(t, s.NudgeControlPoint(0, at(to-0.1, 200)))
				while := severity(s)
				must(t, s.NudgeControlPoint(0, at(to, 200)))
				s.EndNudge()
				after := severity(s)
				if while < before || while < after {
					t.Errorf("to %v: severity %d while it moves, %d before, %d after", to, while, before, after)
				}
				if v := s.Verdict(); !sameVerdict(v, fresh(t, s)) {
					t.Errorf("to %v: at rest %+v, judged anew %+v", to, v, fresh(t, s))
				}
				reached[after] = true
				s.BeginDrag()
				must(t, s.MoveControlPoint(0, at(to-3, 200)))
				must(t, s.MoveControlPoint(0, at(to, 200)))
				s.EndDrag()
				if v := s.Verdict(); !sameVerdict(v, fresh(t, s)) {
					t.Errorf("dragged to %v: %+v", to, v)
				}
			}
			if moves != 16 || !reached[0] || !reached[2] {
				t.Errorf("%d moves, reached %v: the test tries too little", moves, reached)
			}
		})
	}
}

// The first move of a control point is for everybody, for no sheet counts as checked from
// then on; those that follow pass.
func TestTheFirstMoveOfAPointIsForEverybody(t *testing.T) {
	t.Parallel()
	s, _, _ := checked(t, crowded)
	var passing []bool
	s.OnChange(func(c Change) { passing = append(passing, c.Passing()) })
	for range 2 {
		must(t, s.NudgeControlPoint(0, at(200.1, 200)))
		must(t, s.NudgeControlPoint(0, at(200.2, 200)))
		must(t, s.NudgeControlPoint(0, at(200.3, 200)))
		s.EndNudge()
	}
	if want := []bool{false, true, true, false, false, true, true, false}; !reflect.DeepEqual(passing, want) {
		t.Errorf("passing %v, want %v", passing, want)
	}
}

// A row of moves is judged once, when it rests: beside the window where that takes long.
func TestARowOfMovesIsJudgedOnce(t *testing.T) {
	t.Parallel()
	for kind, want := range map[string]int{"few points": 0, "many points": 3} {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			s, _, _ := checked(t, sheetsOf()[kind])
			readers, begun := map[*leg.Reader]bool{}, 0
			s.JudgeBeside(func(w *Judging) {
				begun++
				if !s.Verdict().Waits {
					t.Error("the sheet does not wait for what judges it")
				}
				w.Do()
				s.EndJudging(w)
			})
			note := func(Change) {
				if r := s.Reader(); !r.Waits() {
					readers[r] = true
				}
			}
			s.OnChange(note)
			row := func() {
				for i := range 5 {
					must(t, s.NudgeControlPoint(0, at(200.1+float64(i)/10, 200)))
				}
			}
			row()
			s.EndNudge()
			row()
			s.EndNudge()
			s.EndNudge() // of nothing
			s.BeginDrag()
			row()
			s.EndDrag()
			if len(readers) != 3 || begun != want {
				t.Errorf("judged %d times, %d of them beside, want 3 and %d", len(readers), begun, want)
			}
		})
	}
}

// What is saved and exported while a point moves has the full verdict on the plan as it
// is then.
func TestSavedWhileAPointMoves(t *testing.T) {
	t.Parallel()
	for kind, make := range sheetsOf() {
		for _, to := range []float64{200.1, 330} {
			t.Run(fmt.Sprintf("%s to %v", kind, to), func(t *testing.T) {
				t.Parallel()
				s, m, _ := checked(t, make)
				s.JudgeBeside(func(*Judging) {}) // which never comes to an end
				must(t, s.NudgeControlPoint(0, at(to, 200)))
				must(t, s.SaveAs("/plans/nudged.legplan"))
				want := fresh(t, s)
				saved := m.files["/plans/nudged.legplan"]
				if got := saved.Sheets[0]; got.WasChecked != want.Checked || want.Checked != (to < 300) || got.Points[0].At.Col != to {
					t.Errorf("saved as checked %v at column %v, judged anew %v", got.WasChecked, got.Points[0].At.Col, want.Checked)
				}
				must(t, s.NudgeControlPoint(0, at(to+0.1, 200)))
				s.EndNudge() // as whoever exports does
				x, err := leg.Export(s.Plan(), nil)
				must(t, err)
				want = fresh(t, s)
				if caution.Has(x.Cautions, caution.NotJudged) || caution.Has(x.Cautions, caution.Unchecked) == want.Checked || caution.Stops(x.Cautions, caution.All) != (to > 300) {
					t.Errorf("exported with %v, judged anew %v", x.Cautions, want.Cautions)
				}
				if got := s.Judged().Verdict(mustSheet(t, s).ID); !sameVerdict(got, want) {
					t.Errorf("Judged has %+v, judged anew %+v", got, want)
				}
			})
		}
	}
}

// settled reports whether everything picked on the sheets lies where they have it, and
// nothing waits to be judged.
func settled(s *Session) error {
	if s.loose != nil {
		return fmt.Errorf("the sheet %s is loose", s.loose.from.ID)
	}
	if p := s.Plan(); p.RepairPositions() != p {
		return fmt.Errorf("positions lie elsewhere than their sheet has them: %v", p.RepairPositions().Mended)
	}
	if s.Reader().Waits() {
		return fmt.Errorf("a sheet waits to be judged")
	}
	return nil
}

// Positions follow a control point of many once it rests, as if the sheet had been
// calibrated at each move, in one step of undo.
func TestPositionsFollowOnceAPointRests(t *testing.T) {
	t.Parallel()
	s, _, d := checked(t, crowded)
	before := s.Plan()
	var unmoved, told Aspect
	s.OnChange(func(c Change) {
		if told = c.What; c.Moving {
			unmoved |= c.What
		}
	})
	for i := range 20 {
		must(t, s.NudgeControlPoint(0, at(200+float64(i), 200)))
	}
	if unmoved.Has(AnyThing) || s.Plan().Sheets[0].Points[0].At.Col != 219 {
		t.Errorf("while it moves told %b, at %v", unmoved, s.Plan().Sheets[0].Points[0].At)
	}
	s.EndNudge()
	want := before.SetSheet(mustSheet(t, s))
	if got := s.Plan(); !reflect.DeepEqual(got.Marks, want.Marks) || !reflect.DeepEqual(got.Legs, want.Legs) || got.Marks[0] == before.Marks[0] {
		t.Errorf("marks %+v, want %+v", got.Marks, want.Marks)
	}
	if !told.Has(MarksChanged|LegsChanged) || !told.Has(CalibrationChanged) || d.last != s.Plan() {
		t.Errorf("at rest told %b; in the journal is the plan as it is now: %v", told, d.last == s.Plan())
	}
	after := s.Plan()
	if s.Undo(); s.Plan() != before {
		t.Error("one undo does not lead back over the row")
	}
	if s.Redo(); s.Plan() != after || settled(s) != nil {
		t.Error("redo leads elsewhere", settled(s))
	}
	s.BeginDrag()
	must(t, s.MoveControlPoint(1, at(1700, 1800)))
	s.CancelDrag()
	if s.Plan() != after || settled(s) != nil {
		t.Error("a cancelled drag leaves", settled(s))
	}
}

// Whatever is done while a control point of many moves, or while the sheet is calibrated
// beside the window, is done on a plan in which everything lies where the moved point
// puts it.
func TestEveryActSettlesASheet(t *testing.T) {
	t.Parallel()
	for name, c := range intentions() {
		for _, resting := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, resting %v", name, resting), func(t *testing.T) {
				t.Parallel()
				a := ready(t)
				a.OnChange(func(Change) {}) // whom quiet tells
				a.crowd()
				must(t, a.SaveAs("/plans/isle.legplan"))
				a.JudgeBeside(func(*Judging) {})
				must(t, a.NudgeControlPoint(1, at(1790, 1800)))
				if resting {
					a.EndNudge()
				}
				if settled(a.Session) == nil || a.loose == nil || resting != a.judging() {
					t.Fatal("the sheet is not loose: the test tries nothing")
				}
				must(t, c.act(a))
				a.EndNudge()
				a.Reader()
				for w := a.beside.now; w != nil; w = a.beside.now {
					w.Do()
					a.EndJudging(w)
				}
				if err := settled(a.Session); err != nil {
					t.Error(err)
				}
				for range 3 {
					if a.Undo(); settled(a.Session) != nil {
						t.Error("undone:", settled(a.Session))
					}
				}
			})
		}
	}
}

// What is judged beside the window while the session goes on is taken only if nothing has
// moved since, and told once.
func TestJudgedBesideTheSession(t *testing.T) {
	t.Parallel()
	s, _, _ := checked(t, crowded)
	done := make(chan *Judging, 8)
	s.JudgeBeside(func(w *Judging) {
		go func() {
			w.Do()
			done <- w
		}()
	})
	told := 0
	s.OnChange(func(c Change) {
		if c.What.Has(EvidenceChanged) && !c.Moving {
			told++
		}
	})
	before := s.Plan()
	for i := range 3 { // each row begins while the one before is being judged
		for k := range 4 {
			must(t, s.NudgeControlPoint(0, at(200.1+float64(4*i+k)/10, 200)))
			if s.Rows(); !s.Verdict().Waits {
				t.Error("judged while it moves")
			}
		}
		s.EndNudge()
		s.Select("")
		if !s.Verdict().Waits {
			t.Error("judged at rest, before what judges it came to an end")
		}
		if s.Plan().Marks[0] != before.Marks[0] {
			t.Error("calibrated at rest, before what calibrates it came to an end")
		}
	}
	for range 3 {
		s.EndJudging(<-done)
	}
	if v := s.Verdict(); told != 1 || !v.Checked || !sameVerdict(v, fresh(t, s)) {
		t.Errorf("told %d times, %+v", told, v)
	}
	if s.Plan().Marks[0] == before.Marks[0] || settled(s) != nil {
		t.Error("once calibrated:", settled(s))
	}
	if s.Undo(); s.Plan() != before {
		t.Error("one undo does not lead back over the rows")
	}
	s.Redo()
	must(t, s.NudgeControlPoint(0, at(330, 200)))
	s.EndNudge()
	must(t, s.SetTitle("Round")) // the plan of another act is judged in place of that
	if v := s.Verdict(); !v.Waits || severity(s) != 2 || s.Plan().Marks[0] == before.Marks[0] {
		t.Errorf("after an act: %+v", v)
	}
	for range 2 {
		s.EndJudging(<-done)
	}
	if v := s.Verdict(); told != 2 || v.Waits || !sameVerdict(v, fresh(t, s)) {
		t.Errorf("after an act, told %d times: %+v", told, v)
	}
	must(t, s.NudgeControlPoint(0, at(200.2, 200)))
	s.EndNudge()
	if s.NewPlan(); s.Reader().Waits() {
		t.Error("a new plan waits for the sheets of the one before")
	}
	if s.EndJudging(<-done); s.Reader().Waits() || told != 3 { // a new plan touches everything
		t.Errorf("told %d times, also of the sheets of a plan that is not open", told)
	}
}

// A deleted control point of a sheet with many leaves it to be judged beside the window, and
// one of a sheet with few does not.
func TestADeletedPointIsJudgedBeside(t *testing.T) {
	t.Parallel()
	for name, kind := range sheetsOf() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, _, _ := checked(t, kind)
			var all []*Judging
			s.JudgeBeside(func(w *Judging) { all = append(all, w) })
			s.OnChange(func(Change) { s.Verdict() })
			must(t, s.RemoveControlPoint(0))
			many := len(mustSheet(t, s).Points) > atOnce
			if v := s.Verdict(); v.Waits != many || (len(all) == 1) != many {
				t.Fatalf("waits %v, with %d begun beside; want that %v", v.Waits, len(all), many)
			}
			for _, w := range all {
				w.Do()
				s.EndJudging(w)
			}
			if v := s.Verdict(); v.Waits || !sameVerdict(v, fresh(t, s)) {
				t.Errorf("judged at last: %+v", v)
			}
		})
	}
}

// What is judged beside the window is given up as soon as a point moves on, whether it has
// begun or not, and leaves no verdict.
func TestJudgingIsGivenUp(t *testing.T) {
	t.Parallel()
	s, _, _ := checked(t, crowded)
	var all []*Judging
	s.JudgeBeside(func(w *Judging) { all = append(all, w) })
	for i := range 2 {
		must(t, s.NudgeControlPoint(0, at(200.1+float64(i), 200)))
		s.EndNudge()
	}
	asked := 0
	r, err := all[1].of.ForUntil(func() bool { asked++; return all[0].useless.Load() }, all[1].of.Plan())
	if must(t, err); !r.Waits() || asked == 0 {
		t.Errorf("asked %d times whether to stop, judged all the same", asked)
	}
	r, err = all[1].of.ForUntil(all[1].useless.Load, all[1].of.Plan())
	if must(t, err); r.Waits() {
		t.Error("given up although nothing moved")
	}
	must(t, s.NudgeControlPoint(0, at(202, 200)))
	all[1].Do()
	if s.EndJudging(all[1]); all[1].judged != nil || !s.Verdict().Waits {
		t.Errorf("judged although a point moved on: %+v", s.Verdict())
	}
	s.EndNudge()
	all[2].Do()
	s.EndJudging(all[2])
	if v := s.Verdict(); v.Waits || !sameVerdict(v, fresh(t, s)) {
		t.Errorf("at rest %+v, judged anew %+v", v, fresh(t, s))
	}
}
