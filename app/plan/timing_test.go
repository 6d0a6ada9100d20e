package plan

import (
	"errors"
	"math"
	"testing"
	"time"

	"legwright/app/pace"
)

func TestTimesOfDay(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"9:30": "09:30", "09.30": "09:30", "0930": "09:30", "930": "09:30", "9h30": "09:30", "9": "09:00", "21 h": "21:00", " 23:59 ": "23:59",
		"9:30 am": "09:30", "9:30pm": "21:30", "12am": "00:00", "0:00": "00:00", "": "",
		"24:00": "x", "9:60": "x", "9:3:0": "x", "half nine": "x", "-1": "x", "99": "x", "1234567": "x",
	} {
		got, err := ParseTimeOfDay(text)
		var bad *BadTime
		if want == "x" {
			if !errors.As(err, &bad) || got.Set || bad.Text != text {
				t.Errorf("%q is read as %v, %v", text, got, err)
			}
		} else if err != nil || got.String() != want || got.Set != (want != "") {
			t.Errorf("%q is read as %q, %v, want %q", text, got, err, want)
		}
	}
}

// The start is by the clock of the plan's zone: in London half past nine is 8 h 30 UTC in
// summer. Without time, zone or day there is none.
func TestStartOn(t *testing.T) {
	t.Parallel()
	timing := DefaultTiming()
	timing.Start, timing.Zone = ClockTime(9, 30), "Europe/London"
	for month, want := range map[time.Month]int{time.January: 9, time.July: 8} {
		at, ok := timing.StartOn(Date{2026, month, 1})
		if u := at.UTC(); !ok || u.Hour() != want || u.Minute() != 30 || at.Hour() != 9 {
			t.Errorf("the start in %v is %v", month, at)
		}
	}
	for name, lacks := range map[string]Timing{"zone": {Start: timing.Start}, "time": {Zone: timing.Zone}} {
		if _, ok := lacks.StartOn(Date{2026, 1, 1}); ok {
			t.Errorf("there is a start without a %s", name)
		}
	}
	if _, ok := timing.StartOn(Date{}); ok {
		t.Error("there is a start without a day")
	}
}

// Load, night and head wind drop a line of Tranter's table each, and where there is none
// the route is too much; other rules know no table.
func TestTimingOnRoute(t *testing.T) {
	t.Parallel()
	fit := Timing{Method: pace.NaismithMetric, Fitness: 20}
	for _, c := range []struct {
		t     Timing
		hours float64
		want  float64
		ok    bool
	}{
		{Timing{Method: pace.NaismithMetric}, 9, 9, true},
		{Timing{Method: pace.Tobler, Fitness: 50}, 9, 9, true},
		{fit, 9, 8.75, true},
		{Timing{Method: fit.Method, Fitness: 20, Load: true}, 9, 11.5, true},
		{Timing{Method: fit.Method, Fitness: 20, Load: true, Night: true}, 9, 14.5, true},
		{Timing{Method: fit.Method, Fitness: 20, Load: true, Night: true, HeadWind: true}, 9, 0, false},
		{Timing{Method: fit.Method, Fitness: 40, HeadWind: true, Night: true}, 2, 0, false},
	} {
		if got, ok := c.t.OnRoute(c.hours); ok != c.ok || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v over %v h: %v, %v, want %v", c.t, c.hours, got, ok, c.want)
		}
	}
}

func TestTimingIsValidated(t *testing.T) {
	t.Parallel()
	good := DefaultTiming()
	good.Start, good.Zone, good.Fitness = ClockTime(23, 59), "Pacific/Auckland", 30
	if err := good.Validate(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*Timing){
		"method":        func(t *Timing) { t.Method = "rope" },
		"no method":     func(t *Timing) { t.Method = "" },
		"fitness":       func(t *Timing) { t.Fitness = 17 },
		"rests":         func(t *Timing) { t.RestMinPerHour = -1 },
		"endless rests": func(t *Timing) { t.RestMinPerHour = math.Inf(1) },
		"rests NaN":     func(t *Timing) { t.RestMinPerHour = math.NaN() },
		"start":         func(t *Timing) { t.Start = TimeOfDay{true, 1440} },
		"no start":      func(t *Timing) { t.Start = TimeOfDay{false, 30} },
		"offset":        func(t *Timing) { t.Zone = "+01:00" },
		"machine's own": func(t *Timing) { t.Zone = "Local" },
	} {
		bad := good
		spoil(&bad)
		var want *Invalid
		if err := bad.Validate(); !errors.As(err, &want) {
			t.Errorf("%s: %v, want an *Invalid", name, err)
		}
		p := New(Date{2026, 1, 1}).SetTiming(bad)
		if err := p.Validate(); !errors.As(err, &want) {
			t.Errorf("%s: the plan is valid", name)
		}
	}
}
