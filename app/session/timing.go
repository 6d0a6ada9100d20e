package session

import (
	"time"

	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
)

// SetTiming sets how walking times are worked out. The error is a *plan.Invalid.
func (s *Session) SetTiming(t plan.Timing) error {
	return s.do("change walking time", "", s.retimed(t))
}

// SetStart sets when the party sets out from text such as 9:30, or that nothing is known
// of it from an empty one. The error is a *plan.BadTime.
func (s *Session) SetStart(text string) error {
	start, err := plan.ParseTimeOfDay(text)
	if err != nil {
		return err
	}
	t := s.Plan().Timing
	t.Start = start
	return s.do("change start", "", s.retimed(t))
}

// SetZone sets the time zone from text such as Europe/London or London. The error is a
// *light.BadZone.
func (s *Session) SetZone(text string) error {
	zone, err := light.ZoneTyped(text)
	if err != nil {
		return err
	}
	t := s.Plan().Timing
	t.Zone = zone.String()
	return s.do("change time zone", "", s.retimed(t))
}

// retimed is the plan with a timing, or as it is where that is its own.
func (s *Session) retimed(t plan.Timing) *plan.Plan {
	if t == s.Plan().Timing {
		return s.Plan()
	}
	return s.Plan().SetTiming(t)
}

// SetLegGround says what a leg is walked on.
func (s *Session) SetLegGround(id plan.ID, g pace.Ground) error {
	l, ok := s.Plan().LegByID(id)
	if !ok {
		return &NotFound{"leg", id}
	}
	if l.Ground == g {
		return nil
	}
	l.Ground = g
	return s.do("change ground", "", s.Plan().SetLeg(l))
}

// StartIsPast reports whether the party's start lies before now.
func (s *Session) StartIsPast() bool {
	at, ok := s.Plan().Timing.StartOn(s.Plan().Date)
	return ok && at.Before(s.now())
}

// emptyPlan is a plan without anything for today, in the time zone of the clock if that has a name.
func emptyPlan(now time.Time) *plan.Plan {
	p := plan.New(plan.DateOf(now))
	t := p.Timing
	if zone, err := light.Zone(now.Location().String()); err == nil {
		t.Zone = zone.String()
	}
	return p.SetTiming(t)
}
