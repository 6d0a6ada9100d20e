package session

import (
	"strings"

	"legwright/app/plan"
)

// SetTitle names the plan.
func (s *Session) SetTitle(text string) error {
	return s.do("change title", "", s.ifOther(s.Plan().Title, tidy(text), s.Plan().SetTitle))
}

// SetDate sets the day of the outing from text such as 2026-11-25. The error
// is a *plan.BadDate.
func (s *Session) SetDate(text string) error {
	d, err := plan.ParseDate(text)
	if err != nil {
		return err
	}
	if d == s.Plan().Date {
		return nil
	}
	return s.do("change date", "", s.Plan().SetDate(d))
}

// SetParty sets compass, speeds and paces. The error is a *plan.Invalid.
func (s *Session) SetParty(p plan.Party) error {
	if p == s.Plan().Party {
		return nil
	}
	return s.do("change party", "", s.Plan().SetParty(p))
}

// ifOther returns the plan changed by set where the text is another, else the
// plan as it is.
func (s *Session) ifOther(old, text string, set func(string) *plan.Plan) *plan.Plan {
	if old == text {
		return s.Plan()
	}
	return set(text)
}

// tidy returns a name as it is kept: blanks trimmed, each run of white space
// one blank.
func tidy(text string) string { return strings.Join(strings.Fields(text), " ") }

// tidyNote returns a note as it is kept: trimmed, with plain line ends.
func tidyNote(text string) string {
	return strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
}
