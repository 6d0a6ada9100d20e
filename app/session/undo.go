package session

import "legwright/app/plan"

// Undo takes the last act back. It reports false where there is none.
func (s *Session) Undo() bool {
	s.settle()
	before := s.Plan()
	name, ok := s.hist.Undo()
	if ok {
		s.moved(before, "undo "+name)
	}
	return ok
}

// Redo makes the act again that was taken back last. It reports false where
// there is none.
func (s *Session) Redo() bool {
	s.settle()
	before := s.Plan()
	name, ok := s.hist.Redo()
	if ok {
		s.moved(before, "redo "+name)
	}
	return ok
}

// UndoName returns the name of the act that Undo would take back, or "".
func (s *Session) UndoName() string { return s.hist.UndoName() }

// RedoName returns the name of the act that Redo would make, or "".
func (s *Session) RedoName() string { return s.hist.RedoName() }

// BeginDrag opens a drag: until EndDrag or CancelDrag, moves of one thing make
// one step together.
func (s *Session) BeginDrag() {
	s.settle()
	s.hist.Seal()
	s.dragging, s.drag = true, drag{from: s.Plan()}
}

// EndDrag ends the drag and keeps its step. It notifies once more of what the moves touched.
func (s *Session) EndDrag() {
	if !s.dragging {
		return
	}
	s.dragging = false
	s.hist.Seal()
	if s.Dirty() {
		s.record(s.hist.UndoName())
	}
	s.rest()
}

// CancelDrag ends the drag and puts everything back to where it was before.
func (s *Session) CancelDrag() {
	if !s.dragging {
		return
	}
	s.dragging, s.loose = false, nil // what was loose goes back
	before := s.Plan()
	dropped := s.hist.Drop()
	if s.Plan() == s.drag.from {
		if dropped {
			s.changed(before, "")
		}
		s.EndNudge() // which the drag cut short
		return
	}
	// The plan was saved during the drag, which made its first part a step of its own.
	for s.Plan() != s.drag.from {
		if _, ok := s.hist.Undo(); !ok {
			break
		}
	}
	s.moved(before, "")
}

func (s *Session) moved(before *plan.Plan, step string) {
	s.dragging = false
	if s.Dirty() {
		s.journal.Append(step, s.Plan())
	} else {
		s.journal.Clear() // the file has it all
	}
	s.handTo(before)
	s.changed(before, step)
}
