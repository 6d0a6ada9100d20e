package leg

import (
	"math"
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
)

// route is a plan of legs that follow each other northwards on the British grid, each so
// many metres long, on 28 November 2026 in the zone of London.
func route(lengths ...float64) *plan.Plan {
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28})
	t := p.Timing
	t.Start, t.Zone, t.RestMinPerHour = plan.ClockTime(9, 0), "Europe/London", 0
	p = p.SetTiming(t)
	n := 743_000.0
	for i, m := range lengths {
		l := plan.Leg{ID: plan.ID(rune('a' + i)), From: plan.AtPosition(typed(27700, 400_000, n)), To: plan.AtPosition(typed(27700, 400_000, n+m))}
		p, n = p.AddLeg(l), n+m
	}
	return p
}

// onGround is the route with a leg on another ground.
func onGround(p *plan.Plan, i int, g pace.Ground) *plan.Plan {
	l := p.Legs[i]
	l.Ground = g
	return p.SetLeg(l)
}

func with(p *plan.Plan, f func(*plan.Timing)) *plan.Plan {
	t := p.Timing
	f(&t)
	return p.SetTiming(t)
}

func clocks(t *testing.T, p *plan.Plan) string {
	t.Helper()
	var out []string
	for _, r := range readerOf(t, p).Legs() {
		words := r.ClockWords(p.Date)
		if words == "" {
			words = "-"
		}
		out = append(out, words)
	}
	return strings.Join(out, " ")
}

// counted is the route with no climb and no descent counted on any leg.
func counted(p *plan.Plan) *plan.Plan {
	for _, l := range p.Legs {
		l.Climb, l.Descent = plan.Count(0), plan.Count(0)
		p = p.SetLeg(l)
	}
	return p
}

// Where the climb of a leg is not known, its end may be reached later than the clock says, and
// so may all after it.
func TestClockWithoutClimb(t *testing.T) {
	t.Parallel()
	p := counted(route(4000, 2000, 2000))
	l := p.Legs[1]
	l.Climb = plan.Counted{}
	p = p.SetLeg(l)
	if got := clocks(t, p); got != "10:00 10:30 or later 11:00 or later" {
		t.Error(got)
	}
	p = with(p, func(t *plan.Timing) { t.Start = plan.ClockTime(23, 30) })
	if got := clocks(t, p); got != "00:30 (day 2) 01:00 or later (day 2) 01:30 or later (day 2)" {
		t.Error(got)
	}
}

// On the central meridian a kilometre of the grid is 1000.4 m of ground: at 4 km/h a
// quarter of an hour, with the rests that belong to it. The clock goes on from leg to leg,
// and stops where a time is not known.
func TestClock(t *testing.T) {
	t.Parallel()
	p := counted(route(4000, 2000, 2000))
	rests := func(t *plan.Timing) { t.RestMinPerHour = 10 }
	for _, c := range []struct {
		name string
		p    *plan.Plan
		want string
	}{
		{"without rests", p, "10:00 10:30 11:00"},
		{"ten minutes an hour", with(p, rests), "10:10 10:45 11:20"},
		{"a path", onGround(p, 0, pace.Path), "09:48 10:18 10:48"},
		{"rough", onGround(p, 1, pace.Rough), "10:00 10:50 11:20"},
		{"through plantation", onGround(p, 1, pace.Plantation), "10:00 - -"},
		{"no start", with(p, func(t *plan.Timing) { t.Start = plan.TimeOfDay{} }), "- - -"},
		{"no zone", with(p, func(t *plan.Timing) { t.Zone = "" }), "- - -"},
		{"no date", p.SetDate(plan.Date{}), "- - -"},
		{"a break of the route", p.Remove("b"), "10:00 -"},
		{"past midnight", with(p, func(t *plan.Timing) { t.Start = plan.ClockTime(23, 30) }), "00:30 (day 2) 01:00 (day 2) 01:30 (day 2)"},
		// By Tranter's table the two hours of the route are 1 h at fitness 15 and 3.25 h at 50.
		{"fit", with(p, func(t *plan.Timing) { t.Fitness = 15 }), "09:30 09:45 10:00"},
		{"unfit", with(p, func(t *plan.Timing) { t.Fitness = 50 }), "10:38 11:26 12:15"},
		{"too much", with(p, func(t *plan.Timing) { t.Fitness, t.Load = 50, true }), "- - -"},
		// Tobler on the flat off a path: 0.6 · 5.037 km/h.
		{"Tobler", with(p, func(t *plan.Timing) { t.Method, t.Fitness, t.Load = pace.Tobler, 50, true }), "10:19 10:59 11:39"},
	} {
		if got := clocks(t, c.p); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	// Summer time ended at 02:00 on 25 October 2026: an hour after half past one is half
	// past one.
	night := with(p, func(t *plan.Timing) { t.Start = plan.ClockTime(0, 30) }).SetDate(plan.Date{Year: 2026, Month: time.October, Day: 25})
	if got := clocks(t, night); got != "01:30 01:00 01:30" {
		t.Errorf("the night when clocks go back: %s", got)
	}
}

// 1 km down 150 m is 8.5° as a whole, which Langmuir credits with 5 minutes. Counted on the map it
// may be level first and steep then, so its time is that without a correction.
func TestCountedDescentSavesNoTime(t *testing.T) {
	t.Parallel()
	p := route(1000)
	l := p.Legs[0]
	l.Climb, l.Descent = plan.Count(0), plan.Count(150)
	p = with(p.SetLeg(l), func(t *plan.Timing) { t.Langmuir = true })
	if got := clocks(t, p); got != "09:15" {
		t.Errorf("a counted descent of 150 m in 1 km ends at %s, want 09:15", got)
	}
}

// Climb and descent that are known count: 10 minutes for 100 m of climb, and Langmuir's
// correction where the descent is steep.
func TestClimbTakesTime(t *testing.T) {
	t.Parallel()
	p := route(1000, 1000)
	l := p.Legs[0]
	l.Climb, l.Descent = plan.Count(150), plan.Count(0)
	p = p.SetLeg(l)
	l = p.Legs[1]
	l.Climb, l.Descent = plan.Count(0), plan.Count(300)
	p = p.SetLeg(l)
	for _, c := range []struct {
		p    *plan.Plan
		want string
	}{
		{p, "09:30 09:45"},
		{with(p, func(t *plan.Timing) { t.Langmuir = true }), "09:30 09:55"},
	} {
		if got := clocks(t, c.p); got != c.want {
			t.Errorf("%+v: %s, want %s", c.p.Timing, got, c.want)
		}
	}
}

// The legs of a route share the ratio of Tranter's table, and add up to its hours; another
// route of the plan has its own.
func TestLegsShareTranter(t *testing.T) {
	t.Parallel()
	p := with(route(4000, 8000, 1000, 4000), func(t *plan.Timing) { t.Fitness = 25 }).Remove("c")
	rows := readerOf(t, p).Legs()
	plain := readerOf(t, with(p, func(t *plan.Timing) { t.Fitness = 0 })).Legs()
	ratio := func(i int) float64 { return rows[i].Time.Hours() / plain[i].Time.Hours() }
	want, ok := pace.Tranter(25, plain[0].Time.Hours()+plain[1].Time.Hours())
	if sum := rows[0].Time.Hours() + rows[1].Time.Hours(); !ok || math.Abs(sum-want) > 1e-6 || math.Abs(ratio(0)-ratio(1)) > 1e-6 {
		t.Errorf("the route takes %v h, want %v; ratios %v and %v", sum, want, ratio(0), ratio(1))
	}
	if math.Abs(ratio(2)-0.75) > 1e-6 {
		t.Errorf("the short route has the ratio %v, want 0.75", ratio(2))
	}
}

// Cautions about time: each where it belongs and nowhere else. On this ground the sun sets
// at 15:38 on that day and civil twilight ends at 16:24 (PyEphem 4.1.4 at 56.57° N 2° W).
func TestCautionsAboutTime(t *testing.T) {
	t.Parallel()
	at := func(hour, minute int) *plan.Plan {
		return with(route(1000, 1000), func(t *plan.Timing) { t.Start = plan.ClockTime(hour, minute) })
	}
	through := func(hour, minute int) *plan.Plan { // at 4 km/h the second leg takes a day
		return with(route(1000, 96_000), func(t *plan.Timing) { t.Start = plan.ClockTime(hour, minute) })
	}
	for _, c := range []struct {
		name  string
		p     *plan.Plan
		codes [2]string
		light light.Phase // of the second leg
	}{
		{"by day", at(9, 0), [2]string{"", ""}, light.Daylight},
		{"sunset at the end", at(15, 12), [2]string{"", "after-sunset"}, light.Twilight},
		{"twilight ends on the second leg", at(15, 58), [2]string{"after-sunset", "in-the-dark"}, light.Dark},
		{"before sunrise", at(7, 45), [2]string{"", ""}, light.Twilight}, // which is at 8:14
		{"before dawn", at(6, 30), [2]string{"in-the-dark", "in-the-dark"}, light.Dark},
		{"the night falls on the way", through(9, 0), [2]string{"", "in-the-dark"}, light.Dark},
		{"another zone", with(at(9, 0), func(t *plan.Timing) { t.Zone, t.Start = "Asia/Tokyo", plan.ClockTime(20, 0) }), [2]string{"zone-off-sun", "zone-off-sun"}, light.Daylight},
		{"another zone, no start", with(at(9, 0), func(t *plan.Timing) { t.Zone, t.Start = "Asia/Tokyo", plan.TimeOfDay{} }), [2]string{"zone-off-sun", "zone-off-sun"}, light.Unknown},
		{"too much", with(at(9, 0), func(t *plan.Timing) { t.Fitness, t.Night = 50, true }), [2]string{"too-much", "too-much"}, light.Unknown},
	} {
		rows := readerOf(t, c.p).Legs()
		for i, r := range rows {
			if got := caution.Format(r.TimeCautions); got != c.codes[i] {
				t.Errorf("%s: leg %d has %q, want %q", c.name, i+1, got, c.codes[i])
			}
			for _, k := range r.TimeCautions {
				if k.Affects != caution.Time || !strings.Contains(k.Text(), " ") || strings.Contains(k.Text(), "{") {
					t.Errorf("%s: %+v says %q", c.name, k, k.Text())
				}
			}
			if r.Reading.Stopped() {
				t.Errorf("%s: time alone stops leg %d", c.name, i+1)
			}
		}
		if rows[1].Light != c.light {
			t.Errorf("%s: the light is %v, want %v", c.name, rows[1].Light, c.light)
		}
	}
	if words := readerOf(t, through(9, 0)).Legs()[1].TimeCautions[0].Text(); !strings.Contains(words, "between 09:15 and") {
		t.Errorf("the leg through the night says %q", words)
	}
	dark := readerOf(t, at(15, 58)).Legs()[1].TimeCautions[0].Text()
	if !strings.Contains(dark, "it ends at 16:28") || !strings.Contains(dark, "twilight ends at 16:2") {
		t.Errorf("the dark leg says %q", dark)
	}
	// Nobody gets through plantation: that leg alone is stopped, wherever it is shown.
	rows := readerOf(t, onGround(route(1000, 1000), 1, pace.Plantation)).Legs()
	if rows[0].Reading.Stopped() || !rows[1].Reading.Stopped() || !rows[1].Reading.Has(caution.NoWayThrough) {
		t.Errorf("cautions %v and %v", rows[0].Reading.Cautions, rows[1].Reading.Cautions)
	}
}

// A line that is only dragged takes what a leg of its length takes, off a path.
func TestWalkingOfAReading(t *testing.T) {
	t.Parallel()
	for name, p := range map[string]*plan.Plan{
		"plain":    route(3000),
		"Tobler":   with(route(3000), func(t *plan.Timing) { t.Method = pace.Tobler }),
		"Tranter":  with(route(3000), func(t *plan.Timing) { t.Fitness = 40 }),
		"too much": with(route(3000), func(t *plan.Timing) { t.Fitness, t.Load = 50, true }),
	} {
		row := readerOf(t, p).Legs()[0]
		if got := row.Reading.Walking(p); (got - row.Time).Abs() > time.Millisecond {
			t.Errorf("%s: %v, as a leg %v", name, got, row.Time)
		}
	}
}

// The day of a route is nowhere longer than at any end of its legs, and a sunset is written
// alike wherever it stands.
func TestDayOfARoute(t *testing.T) {
	t.Parallel()
	r := readerOf(t, route(1000, 90_000))
	d, ok := r.Day()
	if !ok {
		t.Fatal("no day")
	}
	noon := time.Date(2026, time.November, 28, 12, 0, 0, 0, time.UTC)
	for i, row := range r.Legs() {
		for _, at := range []geodesy.LatLon{row.Reading.FromLatLon, row.Reading.ToLatLon} {
			own := light.Around(at, noon)
			if d.Sunset.At.After(own.Sunset.At) || d.Dusk.At.After(own.Dusk.At) || d.Sunrise.At.Before(own.Sunrise.At) || d.Dawn.At.Before(own.Dawn.At) {
				t.Errorf("leg %d: the day of the route is %v, there it is %v", i+1, d, own)
			}
		}
	}
	if off := light.Around(r.Legs()[1].Reading.ToLatLon, noon).Sunset.At.Sub(d.Sunset.At); off < 0 || off > 2*time.Minute {
		t.Errorf("sunset is %v before that of the end in the north, where it sets first", off)
	}
	if words := r.SunsetWords(); !strings.Contains(words, "Sunset "+d.Sunset.At.Format("15:04")+",") {
		t.Errorf("%q, with sunset at %v", words, d.Sunset.At)
	}
}

// A sum of walking times names the legs that it leaves out.
func TestUntimedWords(t *testing.T) {
	t.Parallel()
	p := route(1000, 1000, 1000)
	for i, want := range []string{"", " (not counting leg 2)", " (not counting legs 2, 3)"} {
		if i > 0 {
			p = onGround(p, i, pace.Plantation)
		}
		if got := UntimedWords(readerOf(t, p).Legs()); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
