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
	l := plan.Leg{ID: s.Plan().NextLegID(), From: from, To: to}
	if err := s.add("keep leg", l.ID, s.Plan().InsertLeg(len(s.Plan().Legs), l)); err != nil {
		return "", err
	}
	return l.ID, nil
}

// KeepSight adds a sight and selects it. Errors are those of KeepLeg.
func (s *Session) KeepSight(from, to plan.End) (plan.ID, error) {
	if _, err := s.LiveEnds(from, to); err != nil {
		return "", err
	}
	t := plan.Sight{ID: s.Plan().NextSightID(), From: from, To: to}
	if err := s.add("keep sight", t.ID, s.Plan().AddSight(t)); err != nil {
		return "", err
	}
	return t.ID, nil
}

// MoveLegEnd moves one end of a leg or sight. An end that stood on a mark
// leaves it; the neighbouring leg that joined there moves along. Errors:
// *NotFound, leg.ErrNoBearing.
func (s *Session) MoveLegEnd(id plan.ID, which plan.Which, to plan.End) error {
	p := s.Plan()
	if l, ok := p.LegByID(id); ok {
		if l.End(which) == to {
			return nil
		}
		next := p.MoveLegEnd(id, which, to)
		if err := s.readable(next, id); err != nil {
			return err
		}
		return s.do("move leg end", endKey(id, which), next)
	}
	t, ok := p.SightByID(id)
	if !ok {
		return &NotFound{"leg or sight", id}
	}
	if t.End(which) == to {
		return nil
	}
	if _, err := s.LiveEnds(otherEnd(t, which), to); err != nil {
		return err
	}
	return s.do("move sight end", endKey(id, which), p.MoveSightEnd(id, which, to))
}

func otherEnd(t plan.Sight, which plan.Which) plan.End { return t.End(plan.ToEnd - which) }

func endKey(id plan.ID, which plan.Which) string {
	if which == plan.FromEnd {
		return string(id) + " from"
	}
	return string(id) + " to"
}

// readable returns why the leg of that plan, or a neighbour that moved with
// it, has no bearing.
func (s *Session) readable(p *plan.Plan, id plan.ID) error {
	i := p.LegIndex(id)
	for k := max(i-1, 0); k <= min(i+1, len(p.Legs)-1); k++ {
		l := p.Legs[k]
		if old, ok := s.Plan().LegByID(l.ID); ok && old == l {
			continue
		}
		if _, err := s.Reader().Read(p.Resolve(l.From), p.Resolve(l.To)); err != nil {
			return err
		}
	}
	return nil
}

// ReverseLeg exchanges the ends of a leg.
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
