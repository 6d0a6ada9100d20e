package session

import (
	"testing"
	"time"

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

// Escape takes a drag back as a whole even if the plan was saved during it, and then
// the session notifies of all that the drag touched.
func TestCancellingADragDuringWhichThePlanWasSaved(t *testing.T) {
	t.Parallel()
	s, _, d := bench(t)
	park(t, s, "Hut")
	must(t, s.SaveAs("/plans/walk.legplan"))
	m, from := s.Plan().Marks[0], s.Plan()
	move := func(e float64) {
		m.Position.Grid.E = e
		must(t, s.MovePoint(m.ID, 0, plan.AtPosition(m.Position)))
	}
	s.BeginDrag()
	move(251_000)
	w, err := s.BeginSave("")
	must(t, err)
	must(t, w.Write())
	s.EndSave(w)
	move(252_000)
	var told Change
	s.OnChange(func(c Change) { told = c })
	s.CancelDrag()
	if s.Plan() != from || told.Moving || !told.What.Has(MarksChanged) || !told.What.Has(FileChanged) {
		t.Errorf("back %v, told %+v, want all that the drag touched", s.Plan() == from, told)
	}
	if !s.Dirty() || len(d.steps) == 0 {
		t.Errorf("unsaved %v, journal %v: the file has the mark where it was dragged", s.Dirty(), d.steps)
	}
}

// A plan is saved at the time of its file, by the clock of its zone, until it is changed: a
// paper says when the plan that it is of was saved, or that it was not.
func TestSavedAt(t *testing.T) {
	t.Parallel()
	s, m, _ := bench(t)
	must(t, s.SetZone("Europe/Oslo"))
	if at := s.SavedAt(); !at.IsZero() {
		t.Errorf("before it is saved: %v, want no time", at)
	}
	must(t, s.SaveAs("/plans/walk.legplan"))
	const want = "2026-11-25T11:00:00+01:00"
	if got := s.SavedAt().Format(time.RFC3339); got != want {
		t.Errorf("saved at %s, want %s", got, want)
	}
	park(t, s, "later")
	if at := s.SavedAt(); !at.IsZero() {
		t.Errorf("after a change: %v, want no time", at)
	}
	s.Undo()
	if got := s.SavedAt().Format(time.RFC3339); got != want {
		t.Errorf("after undo: %s, want %s", got, want)
	}
	back := New(m, nil, today)
	must(t, back.Open("/plans/walk.legplan"))
	if got := back.SavedAt().Format(time.RFC3339); got != want {
		t.Errorf("opened again: %s, want %s", got, want)
	}
}
