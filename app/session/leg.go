package session

import (
	"legwright/app/leg"
	"legwright/app/plan"
)

// KeepLeg adds a leg at the end of the route and selects it. Errors:
// leg.ErrNoBearing, and those of a position that cannot be computed.
func (s *Session) KeepLeg(from, to plan.End) (plan.ID, error) {
	if _, err := s.LiveEnds(from, to); err != nil {
		return "", err
	}
	l := plan.Leg{ID: s.Plan().NextID(plan.OfLeg), From: from, To: to}
	if err := s.add("keep leg", l.ID, s.Plan().AddLeg(l)); err != nil {
		return "", err
	}
	return l.ID, nil
}

// KeepSight adds a sight and selects it. Errors are those of KeepLeg.
func (s *Session) KeepSight(from, to plan.End) (plan.ID, error) {
	if _, err := s.LiveEnds(from, to); err != nil {
		return "", err
	}
	t := plan.Sight{ID: s.Plan().NextID(plan.OfSight), From: from, To: to}
	if err := s.add("keep sight", t.ID, s.Plan().AddSight(t)); err != nil {
		return "", err
	}
	return t.ID, nil
}

// ReverseLeg swaps the ends of a leg.
func (s *Session) ReverseLeg(id plan.ID) error {
	if s.Plan().LegIndex(id) < 0 {
		return &NotFound{"leg", id}
	}
	return s.do("reverse leg", "", s.Plan().ReverseLeg(id))
}

// MoveLegUp moves a leg one place towards the start of the route.
func (s *Session) MoveLegUp(id plan.ID) error { return s.moveLeg(id, -1) }

// MoveLegDown moves a leg one place towards the end of the route.
func (s *Session) MoveLegDown(id plan.ID) error { return s.moveLeg(id, 1) }

func (s *Session) moveLeg(id plan.ID, by int) error {
	i := s.Plan().LegIndex(id)
	if i < 0 {
		return &NotFound{"leg", id}
	}
	if i+by < 0 || i+by >= len(s.Plan().Legs) {
		return nil
	}
	return s.do("move leg in route", "", s.Plan().MoveLeg(id, by))
}

// Rows returns the ledger: a row for every leg, in route order.
func (s *Session) Rows() []leg.Row { return s.Reader().Legs() }
