package session

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/plan"
)

// The main job: a sheet, two control points, three legs, saved and opened.
func TestFromScanToSavedPlan(t *testing.T) {
	t.Parallel()
	s, m, d := bench(t)
	cairn, hut := mark(t, s, "Cairn", 600, 600), mark(t, s, "Hut", 1200, 1400)
	from, to := endAt(t, s, 603, 598), endAt(t, s, 1000, 900)
	if from.Mark != cairn || to.Mark != "" {
		t.Fatalf("press snapped to %+v, release to %+v, want the cairn and nothing", from, to)
	}
	one, err := s.KeepLeg(from, to)
	must(t, err)
	if s.Selection() != (Selection{plan.OfLeg, one}) {
		t.Errorf("selection %+v, want the new leg", s.Selection())
	}
	_, err = s.KeepLeg(endAt(t, s, 1002, 903), endAt(t, s, 1196, 1404))
	must(t, err)
	if l := s.Plan().Legs[1]; !l.From.Same(s.Plan().Legs[0].To) || l.To.Mark != hut {
		t.Errorf("leg 2 runs from %+v to %+v, want from the end of leg 1 to the hut", l.From, l.To)
	}
	if !s.Dirty() || s.Path() != "" || !errors.Is(s.Save(), ErrNoPath) {
		t.Errorf("dirty %v, path %q before saving", s.Dirty(), s.Path())
	}
	must(t, s.SaveAs("/plans/isle.legplan"))
	if s.Dirty() || s.Path() != "/plans/isle.legplan" || len(d.steps) != 0 || d.path != s.Path() {
		t.Errorf("after saving: dirty %v, path %q, journal %v of %q", s.Dirty(), s.Path(), d.steps, d.path)
	}
	other := New(m, nil, today)
	must(t, other.Open("/plans/isle.legplan"))
	rows := other.Rows()
	if len(rows) != 2 || rows[0].From != "Cairn" || rows[0].To != "A" || rows[1].From != "A" || rows[1].To != "Hut" {
		t.Errorf("ledger after opening: %+v", rows)
	}
	// 400 px right and 300 px down at 5 m: 2500 m on 126.87°.
	r := rows[0].Reading
	if math.Abs(r.GridM-2500) > 1e-6 || math.Abs(r.Grid.Angle().Deg()-126.869898) > 1e-6 {
		t.Errorf("leg 1: %v m on %v°", r.GridM, r.Grid.Angle().Deg())
	}
	if !r.Has(caution.Unchecked) || !r.Has(caution.NoRedundancy) {
		t.Errorf("leg 1 is not marked: %v", r.Cautions)
	}
}

func TestFilesAndTheUnsavedPlan(t *testing.T) {
	t.Parallel()
	s, m, d := bench(t)
	must(t, s.SaveAs("/p"))
	must(t, s.SetTitle("mine"))
	m.put("/p", plan.New(plan.Date{}).SetTitle("theirs"))
	if err := s.Save(); !errors.Is(err, ErrChangedOnDisk) || !s.Dirty() {
		t.Errorf("Save: %v, dirty %v, want ErrChangedOnDisk", err, s.Dirty())
	}
	must(t, s.Save(OverChanged))
	if m.files["/p"].Title != "mine" || s.Dirty() {
		t.Error("Save(OverChanged) did not save")
	}
	must(t, s.SetTitle("again"))
	s.Undo()
	if s.Dirty() {
		t.Error("dirty after undoing back to what is in the file")
	}
	s.Redo()
	m.fail = errors.New("disk full")
	if err := s.Save(); err == nil || !s.Dirty() || len(d.steps) == 0 {
		t.Error("a failed save cleared the journal or the dirty mark")
	}
	now := s.Plan()
	if err := s.Open("/none"); err == nil || s.Plan() != now {
		t.Errorf("a failed Open: %v, and the plan is %q", err, s.Plan().Title)
	}
	m.put("/old", plan.New(plan.Date{}).Noted([]string{"a position was moved to where the sheet has it"}))
	mended, err := s.Read("/old")
	must(t, err)
	other := New(m, nil, today)
	if other.Take(mended); !other.Dirty() {
		t.Error("a plan that was corrected while it was read counts as saved")
	}
	m.put("/bad", plan.New(plan.Date{}).SetTitle("a\x00"))
	var bad *plan.Invalid
	if err := s.Open("/bad"); !errors.As(err, &bad) || s.Plan() != now {
		t.Errorf("opening an invalid plan: %v", err)
	}
	must(t, s.Close(true))
	if !d.closed || len(d.steps) == 0 {
		t.Error("closing with keep gave the journal up")
	}
	must(t, s.Close(false))
	if len(d.steps) != 0 {
		t.Error("closing without keep left the journal")
	}
}

func TestRecover(t *testing.T) {
	t.Parallel()
	m, d := newMemory(), &diary{}
	m.put("/p", plan.New(plan.Date{}))
	base := m.stamp["/p"]
	s := New(m, d, today)
	must(t, s.RecoverAs("/p", base, plan.New(plan.Date{}).SetTitle("found")))
	if !s.Dirty() || s.Path() != "/p" || d.last == nil || d.last.Title != "found" {
		t.Errorf("recovered: dirty %v, path %q, journal %v", s.Dirty(), s.Path(), d.steps)
	}
	m.put("/p", plan.New(plan.Date{}).SetTitle("theirs"))
	if err := s.Save(); !errors.Is(err, ErrChangedOnDisk) {
		t.Errorf("Save after the file changed: %v, want ErrChangedOnDisk", err)
	}
	must(t, s.Recover(plan.New(plan.Date{})))
	if s.Path() != "" || !s.Dirty() {
		t.Error("Recover without a path kept one")
	}
}

// Whatever is done, undo leads back to the beginning and redo to the end, and
// no act makes a plan that cannot be.
func TestRandomActs(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s, _, _ := bench(t)
		first := s.Plan()
		for range rapid.IntRange(1, 25).Draw(rt, "acts") {
			act(rt, s)
			must(t, s.Plan().Validate())
			if _, ok := s.Plan().Sheet(); !ok {
				rt.Fatal("the sheet is gone")
			}
		}
		last := s.Plan()
		for s.Plan() != first && s.Undo() {
		}
		if s.Plan() != first {
			rt.Fatal("undo did not lead back")
		}
		for s.Redo() {
		}
		if s.Plan() != last {
			rt.Fatal("redo did not lead forth")
		}
	})
}

func act(rt *rapid.T, s *Session) {
	pt := func() calib.PicturePt {
		return at(rapid.Float64Range(0, 2000).Draw(rt, "col"), rapid.Float64Range(0, 2000).Draw(rt, "row"))
	}
	aim := Aim{PickSigmaPx: 0.5, SnapRadiusPx: 100}
	from, _, err := s.EndAt(pt(), aim)
	if err != nil {
		return
	}
	to, _, _ := s.EndAt(pt(), aim)
	p, id := s.Plan(), plan.ID("none")
	if len(p.Legs) > 0 {
		id = rapid.SampledFrom(p.Legs).Draw(rt, "leg").ID
	}
	switch rapid.IntRange(0, 9).Draw(rt, "act") {
	case 0:
		_, _ = s.AddMark("", p.Resolve(from))
	case 1, 2:
		_, _ = s.KeepLeg(from, to)
	case 3:
		_, _ = s.KeepSight(from, to)
	case 4:
		_ = s.MovePoint(id, rapid.IntRange(0, 1).Draw(rt, "which"), to)
	case 5:
		_ = s.SetLegField(id, FieldGrid, "123")
	case 6:
		_ = s.MoveLegDown(id)
	case 7:
		_ = s.Remove(id)
	case 8:
		if len(p.Marks) > 0 {
			_ = s.Remove(p.Marks[0].ID)
		}
	case 9:
		_ = s.MoveControlPoint(0, pt())
	}
}
