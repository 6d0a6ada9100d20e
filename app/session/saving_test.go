package session

import (
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

func park(t *testing.T, s *Session, name string) {
	t.Helper()
	_, err := s.AddMark(name, plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: 250_000, N: 790_000}, 5))
	must(t, err)
}

// What is done while the plan is written stays unsaved, goes into the journal, and can
// be undone to what was saved.
func TestSavingBesideTheWindow(t *testing.T) {
	t.Parallel()
	s, _, d := bench(t)
	park(t, s, "before")
	w, err := s.BeginSave("/plans/walk.legplan")
	must(t, err)
	park(t, s, "meanwhile")
	must(t, w.Write())
	s.EndSave(w)
	if !s.Dirty() || s.Path() != "/plans/walk.legplan" || len(d.steps) != 1 || d.path != s.Path() {
		t.Errorf("unsaved %v, file %q, journal %v of %q, want the mark set meanwhile unsaved and kept", s.Dirty(), s.Path(), d.steps, d.path)
	}
	s.Undo()
	if s.Dirty() || len(s.Plan().Marks) != 1 {
		t.Errorf("after undo: unsaved %v, %d marks, want the plan as it was saved", s.Dirty(), len(s.Plan().Marks))
	}
	back := New(w.store, nil, today)
	must(t, back.Open("/plans/walk.legplan"))
	if n := len(back.Plan().Marks); n != 1 {
		t.Errorf("the file has %d marks, want the one set before", n)
	}
}

// A plan that was opened while the one before was written is not taken for it.
func TestSavingEndsAfterAnotherPlan(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	park(t, s, "before")
	w, err := s.BeginSave("/plans/walk.legplan")
	must(t, err)
	s.NewPlan()
	must(t, w.Write())
	s.EndSave(w)
	if s.Path() != "" || s.Dirty() {
		t.Errorf("the new plan has the file %q, unsaved %v, want none and saved", s.Path(), s.Dirty())
	}
}
