package session

import (
	"legwright/app/escape"
	"legwright/app/leg"
)

// escapes are the escapes as they were judged last.
type escapes struct {
	of     *leg.Reader // nil for never
	judged escape.Judged
}

// Escapes returns the plan's escapes with what there is to say of them. They are judged
// once a plan, and never while something moves: until it rests they are as before, and
// whoever shows them waits for a change that is not passing.
func (s *Session) Escapes() escape.Judged {
	r := s.Reader()
	if e := &s.escapes; e.of != r && (e.of == nil || !s.moving()) {
		*e = escapes{r, escape.Of(r)}
	}
	return s.escapes.judged
}
