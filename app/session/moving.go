package session

// While something follows the pointer or is nudged, each move notifies with
// Change.Moving. Whoever shows more than the thing itself need not listen to those:
// the end of the drag, or the first act after the nudges, notifies once more with all
// that the moves touched.

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

// EndNudge ends a row of nudges, see NudgeControlPoint: it notifies once more of
// all that they touched. Without nudges it does nothing.
func (s *Session) EndNudge() {
	if !s.dragging && !s.judging() && (s.owed != 0 || s.loose != nil) {
		s.rest()
	}
}
