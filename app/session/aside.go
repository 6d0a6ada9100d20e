package session

import (
	"legwright/app/history"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Aside is an open plan with all that the session holds of it: its file, its history,
// what is unsaved, selected and shown.
type Aside struct {
	hist          *history.History
	saved         *plan.Plan
	path          string
	stamp         Stamp
	sel           Selection
	shown, before plan.ID
	reader        *leg.Reader
}

// Aside returns the open plan, so that PutBack can bring it back once another one has
// taken its place.
func (s *Session) Aside() Aside {
	s.settle()
	return Aside{s.hist, s.saved, s.path, s.stamp, s.sel, s.shown, s.before, s.reader}
}

// PutBack puts a plan in place of the open one, which is lost, as it was when Aside
// returned it: what was unsaved is unsaved again, and can be undone.
func (s *Session) PutBack(a Aside) {
	s.journal.Clear()
	s.adopt(a.hist.Now(), a.path, a.stamp)
	s.hist, s.saved, s.reader = a.hist, a.saved, a.reader
	s.sel, s.shown, s.before, s.snaps = a.sel, a.shown, a.before, nil
	if s.Dirty() {
		s.journal.Append("return to the previous plan", s.Plan())
	}
	s.tell(Everything, "open")
}
