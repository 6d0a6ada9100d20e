package session

import "testing"

// A plan that was put aside comes back with its file, with what is unsaved, and with
// its steps of undo.
func TestAPlanPutAsideComesBackWhole(t *testing.T) {
	t.Parallel()
	s, _, d := bench(t)
	park(t, s, "Hut")
	must(t, s.SaveAs("/plans/walk.legplan"))
	stamp := s.Stamp()
	park(t, s, "Ford")
	before, sel := s.Plan(), s.Selection()
	was := s.Aside()
	s.NewPlan()
	must(t, s.SetTitle("another"))
	s.PutBack(was)
	if s.Plan() != before || s.Path() != "/plans/walk.legplan" || s.Stamp() != stamp || s.Selection() != sel || !s.Dirty() {
		t.Errorf("back %v, file %q, selected %+v, unsaved %v", s.Plan() == before, s.Path(), s.Selection(), s.Dirty())
	}
	if len(d.steps) != 1 {
		t.Errorf("the journal has %v, want the unsaved plan alone", d.steps)
	}
	if !s.Undo() || s.Dirty() {
		t.Error("undo does not lead back to what was saved")
	}
	must(t, s.Save())
}
