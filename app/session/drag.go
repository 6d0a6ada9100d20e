package session

import "legwright/app/plan"

// drag is what is known of the drag under way, or of the latest one.
type drag struct {
	from *plan.Plan // as it was when the drag began
	to   *plan.Plan // as the latest move of a point left it
	key  string     // which point that was
}

// moveBase returns the plan that a move of a point starts from: in a drag of which all
// was moving that point, the plan as it was before.
func (s *Session) moveBase(key string) *plan.Plan {
	if d := s.drag; s.dragging && s.Plan() == d.to && key == d.key {
		return d.from
	}
	return s.Plan()
}
