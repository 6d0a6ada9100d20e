package session

import "legwright/app/plan"

// PositionsOf returns the position of a mark, or of both ends of a leg or sight; none
// for any other ID.
func (s *Session) PositionsOf(id plan.ID) []plan.Position {
	p := s.Plan()
	if l, ok := p.LegByID(id); ok {
		return []plan.Position{p.Resolve(l.From), p.Resolve(l.To)}
	}
	if l, ok := p.SightByID(id); ok {
		return []plan.Position{p.Resolve(l.From), p.Resolve(l.To)}
	}
	if m, ok := p.MarkByID(id); ok {
		return []plan.Position{m.Position}
	}
	return nil
}

// LettersNote says which sheet supplied the letters of a reference that was typed
// without them, such as "Its grid letters come from isle.tif, which is unchecked.";
// "" for a mark, leg or sight whose letters were all typed.
func (s *Session) LettersNote(id plan.ID) string {
	for _, pos := range s.PositionsOf(id) {
		if from, _ := s.Reader().LettersSource(pos); from != "" {
			return "Its grid letters come from " + from + "."
		}
	}
	return ""
}
