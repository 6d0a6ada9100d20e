package session

import (
	"errors"
	"testing"
	"time"

	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
)

// A new plan has the time zone of the clock where that has a name; never an offset.
func TestZoneOfANewPlan(t *testing.T) {
	t.Parallel()
	oslo, err := light.Zone("Europe/Oslo")
	must(t, err)
	for zone, want := range map[*time.Location]string{
		oslo: "Europe/Oslo", time.UTC: "UTC", time.Local: "", time.FixedZone("CET", 3600): "", time.FixedZone("", 0): "",
	} {
		at := time.Date(2026, 11, 25, 9, 0, 0, 0, zone)
		if zone == time.Local && time.Local.String() != "Local" {
			continue // the tests' own zone has a name
		}
		s := New(nil, nil, func() time.Time { return at })
		if got := s.Plan().Timing.Zone; got != want {
			t.Errorf("%v: the plan has %q, want %q", zone, got, want)
		}
		s.NewPlan()
		if got := s.Plan().Timing.Zone; got != want {
			t.Errorf("%v: the next plan has %q, want %q", zone, got, want)
		}
	}
}

// Start, zone, rule and ground are acts that can be undone; what cannot be is refused and
// changes nothing, and what is so already is no act.
func TestTimingActs(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	id, err := s.KeepLeg(endAt(t, s, 800, 800), endAt(t, s, 900, 700))
	must(t, err)
	good := s.Plan().Timing
	good.Fitness, good.Load = 25, true
	for _, act := range []struct {
		name string
		do   func() error
		made func(*plan.Plan) bool
	}{
		{"start", func() error { return s.SetStart("0930") }, func(p *plan.Plan) bool { return p.Timing.Start == plan.ClockTime(9, 30) }},
		{"zone", func() error { return s.SetZone("auckland") }, func(p *plan.Plan) bool { return p.Timing.Zone == "Pacific/Auckland" }},
		{"timing", func() error { return s.SetTiming(good) }, func(p *plan.Plan) bool { return p.Timing == good }},
		{"ground", func() error { return s.SetLegGround(id, pace.Path) }, func(p *plan.Plan) bool { return p.Legs[0].Ground == pace.Path }},
	} {
		before := s.Plan()
		must(t, act.do())
		after := s.Plan()
		if !act.made(after) {
			t.Errorf("%s: %+v", act.name, after.Timing)
		}
		if must(t, act.do()); s.Plan() != after {
			t.Errorf("%s: the same again is an act", act.name)
		}
		if s.Undo(); s.Plan() != before {
			t.Errorf("%s is not one step of undo", act.name)
		}
	}
	before, bad := s.Plan(), s.Plan().Timing
	bad.Method = "rope"
	var invalid *plan.Invalid
	var time *plan.BadTime
	var zone *light.BadZone
	var gone *NotFound
	if err := s.SetTiming(bad); !errors.As(err, &invalid) {
		t.Errorf("the rule: %v", err)
	}
	if err := s.SetStart("noonish"); !errors.As(err, &time) {
		t.Errorf("the start: %v", err)
	}
	if err := s.SetZone("+01:00"); !errors.As(err, &zone) {
		t.Errorf("the zone: %v", err)
	}
	if err := s.SetLegGround("gone", pace.Path); !errors.As(err, &gone) {
		t.Errorf("the leg: %v", err)
	}
	if err := s.SetLegGround(id, "lava"); !errors.As(err, &invalid) || s.Plan() != before {
		t.Errorf("the ground: %v", err)
	}
}

// A start lies in the past by the clock of its zone: nine in Auckland is the evening
// before in UTC.
func TestStartIsPast(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	s := New(nil, nil, func() time.Time { return now })
	must(t, s.SetDate("2026-11-25"))
	for _, c := range []struct {
		start, zone string
		want        bool
	}{{"8:59", "UTC", true}, {"9:01", "UTC", false}, {"21:00", "Pacific/Auckland", true}, {"23:00", "Pacific/Auckland", false}, {"", "UTC", false}} {
		must(t, s.SetZone(c.zone))
		must(t, s.SetStart(c.start))
		if got := s.StartIsPast(); got != c.want {
			t.Errorf("%s in %s is past: %v, want %v", c.start, c.zone, got, c.want)
		}
	}
}
