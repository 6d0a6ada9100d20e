package sheetview

import (
	"unicode"
	"unicode/utf8"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
)

// Remove deletes a thing and says which one: Delete pressed once too often, as behind the point
// of a hazard, takes all of it.
func Remove(s *session.Session, line *foot.Line, id plan.ID) {
	title := s.Plan().TitleOf(id)
	first, size := utf8.DecodeRuneInString(title)
	line.Try(s.Remove(id), string(unicode.ToUpper(first))+title[size:]+" deleted. Undo restores it.")
}
