package session

// While something follows the pointer or is nudged, each move is told with
// Change.Moving. Whoever shows more than the thing itself need not listen to those:
// the end of the drag, or the first act after the nudges, is told with all that the
// moves touched.

// owe keeps what moves touch, and adds it to the first change that is no move.
func (s *Session) owe(what Aspect, moving bool) Aspect {
	if moving {
		s.owed |= what
		return what
	}
	what |= s.owed
	s.owed = 0
	return what
}

// EndNudge ends a row of nudges, see NudgeControlPoint: what they touched is told
// once more. Without nudges it does nothing.
func (s *Session) EndNudge() {
	if !s.dragging && s.owed != 0 {
		s.tell(0, s.hist.UndoName())
	}
}
