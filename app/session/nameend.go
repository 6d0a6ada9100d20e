package session

import (
	"strings"
	"unicode"

	"legwright/app/plan"
)

// NameEnd gives an end of a leg or sight a name. If the end stands on a mark, the
// mark gets the name. Otherwise a mark is made where the end is, and every end that
// is joined to it there stands on the mark from then on. The error is a *NotFound,
// or a *Refused for a name that is empty or that another mark has.
func (s *Session) NameEnd(id plan.ID, which plan.Which, name string) error {
	e, err := s.endByID(id, which)
	if err != nil {
		return err
	}
	if e.Mark != "" {
		return s.Rename(e.Mark, name)
	}
	m := plan.Mark{ID: s.Plan().NextID(plan.OfMark), Name: tidy(name), Position: e.Position}
	if m.Name == "" {
		return refuse("the end needs a name: type one")
	}
	if err := s.freeName(m.ID, m.Name); err != nil {
		return err
	}
	return s.do("name the end", "", s.Plan().MarkEnds(e, m))
}

// endByID returns one end of a leg or sight, or a *NotFound.
func (s *Session) endByID(id plan.ID, which plan.Which) (plan.End, error) {
	if l, ok := s.Plan().LegByID(id); ok {
		return l.End(which), nil
	}
	if t, ok := s.Plan().SightByID(id); ok {
		return t.End(which), nil
	}
	return plan.End{}, &NotFound{"leg or sight", id}
}

// isName reports whether a text that is neither a mark nor a reference can be meant
// as a new name. A reference with a slip in it must not become one: a name has no
// digits, or a word of three letters and at most four digits ("Point 1045").
func isName(text string) bool {
	digits, run, longest := 0, 0, 0
	for _, r := range text {
		run++
		if !unicode.IsLetter(r) {
			run = 0
		}
		longest = max(longest, run)
		if unicode.IsDigit(r) {
			digits++
		}
	}
	if strings.ContainsRune(text, '°') || strings.Contains(strings.ToLower(text), "latlon") {
		return false
	}
	return longest > 0 && (digits == 0 || longest >= 3 && digits <= 4)
}

// mistyped returns a mark, other than own, whose name differs from a new one in a
// single letter: then that mark was most likely meant. Names of up to three letters,
// and names that differ in a digit, are different names.
func (s *Session) mistyped(name string, own plan.ID) (plan.Mark, bool) {
	for _, m := range s.Plan().Marks {
		if m.ID != own && oneLetterOff([]rune(strings.ToLower(m.Name)), []rune(strings.ToLower(name))) {
			return m, true
		}
	}
	return plan.Mark{}, false
}

// endByLabel returns the end without a mark that people see under that letter.
func (s *Session) endByLabel(text string) (plan.End, bool) {
	p := s.Plan()
	labels := p.Labels()
	for e := range p.Ends {
		if e.Mark == "" && strings.EqualFold(labels.Of(e), tidy(text)) {
			return e, true
		}
	}
	return plan.End{}, false
}

// oneLetterOff reports whether one letter was changed, left out or added.
func oneLetterOff(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(a) < 4 || len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if i < len(b) && unicode.IsDigit(b[i]) {
		return false
	}
	j := len(b) - len(a)
	return string(b[i+1:]) == string(a[min(i+1-j, len(a)):])
}
