package session

import "legwright/app/plan"

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
