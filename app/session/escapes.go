package session

import (
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
)

// escapes are the escapes as they were judged last, or as they wait to be.
type escapes struct {
	of     *leg.Reader // nil for never
	judged escape.Judged
}

// legsAtOnce is how many legs of escapes are judged within a part of a frame.
const legsAtOnce = 8

// Escapes returns the plan's escapes with what there is to say of them, judged once a plan
// and never while something moves. More than a few legs are judged beside the window, where
// JudgeBeside named it. Until then they wait, see escape.Waiting, and EscapesJudged tells when
// they are judged: no verdict stands that is older than the plan.
func (s *Session) Escapes() escape.Judged {
	r, e := s.Reader(), &s.escapes
	if e.of != r && (sameOff(e.of, r) || e.judged.Waits && e.of.SharesRows(r)) {
		e.of = r
	}
	if e.of == r && !e.judged.Waits {
		return e.judged
	}
	free := !s.moving() && !s.waits()
	if free && (s.beside.start == nil || legsOff(s.Plan()) <= legsAtOnce) {
		*e = escapes{r, escape.Of(r)}
		return e.judged
	}
	if e.of != r {
		*e = escapes{r, escape.Waiting(r)}
	}
	if now := s.beside.now; free && (now == nil || !sameOff(now.of, r)) {
		w := &Judging{of: r}
		s.beside.use(w)
		s.beside.start(w)
	}
	return e.judged
}

// legsOff is how many legs the escapes of a plan have.
func legsOff(p *plan.Plan) (n int) {
	for _, e := range p.Escapes {
		n += len(e.Legs)
	}
	return n
}

// sameOff reports whether there is the same to say of the escapes of two readers' plans.
func sameOff(r, next *leg.Reader) bool {
	return r == next || r != nil && r.Model() == next.Model() && r.Waits() == next.Waits() && !differences(r.Plan(), next.Plan()).Has(AnyEscape)
}
