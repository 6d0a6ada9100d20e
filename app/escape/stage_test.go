package escape_test

import (
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// The latest time to leave a mark is the hour less the escape's time less a margin. The
// escape of walk takes 23.84 min, so the margin is 60 min. At this place the sun sets on
// that day at 15:38 and civil twilight ends at 16:24 (PyEphem 4.1.4).
func TestTurnBack(t *testing.T) {
	t.Parallel()
	with := func(p *plan.Plan, f func(*plan.Timing)) *plan.Plan {
		x := p.Timing
		f(&x)
		return p.SetTiming(x)
	}
	dusk := func(x *plan.Timing) { x.UntilDusk = true }
	latest := func(x *plan.Timing) { x.Latest = plan.ClockTime(18, 0) }
	for name, c := range map[string]struct {
		p    *plan.Plan
		want string
		code caution.Code
	}{
		"sunset":                    {walk(), "14:14", ""},
		"civil dusk":                {with(walk(), dusk), "15:00", ""},
		"reached in time":           {startAt(walk(), 14, 14), "14:14", ""},
		"reached too late":          {startAt(walk(), 14, 15), "14:14", caution.TurnBackPassed},
		"no start":                  {with(walk(), func(x *plan.Timing) { x.Start = plan.TimeOfDay{} }), "14:14", ""},
		"no zone":                   {with(walk(), func(x *plan.Timing) { x.Zone = "" }), "", caution.TurnBackUnknown},
		"no date":                   {walk().SetDate(plan.Date{}), "", caution.TurnBackUnknown},
		"none chosen":               {walk().ChooseEscape("off", false), "", caution.TurnBackUnknown},
		"its climb is not known":    {edit(walk(), func(e *plan.Escape) { e.Legs[0].Descent = plan.Counted{} }), "", caution.TurnBackUnknown},
		"an hour where the sun set": {with(walk(), latest), "14:14", ""},
		// In four hours and a third of them: 12,000 m at 3 km/h are 240.1 min, 240.1 · 4/3 = 320.13.
		"a third is more than an hour": {edit(walk(), func(e *plan.Escape) {
			e.Legs = []plan.EscapeLeg{{To: plan.AtPosition(at(0, -12_000)), Climb: plan.Count(0), Descent: plan.Count(0)}}
		}), "10:17", ""},
	} {
		s := judged(t, c.p).Stages[0]
		got := ""
		if !s.TurnBack.IsZero() {
			got = s.TurnBack.Format("15:04")
			if s.TurnBack.Second() != 0 || s.TurnBack.Nanosecond() != 0 {
				t.Errorf("%s: %v is no whole minute, and would be shown too late", name, s.TurnBack)
			}
		}
		if got != c.want || (c.code == "") != (len(s.Cautions) == 0) || c.code != "" && !caution.Has(s.Cautions, c.code) {
			t.Errorf("%s: turn back by %q, %v; want %q, %q", name, got, s.Cautions, c.want, c.code)
		}
	}
	june := walk().SetDate(plan.Date{Year: 2026, Month: time.June, Day: 21})
	here, utc := judged(t, june).Stages[0].TurnBack, judged(t, with(june, func(x *plan.Timing) { x.Zone = "UTC" })).Stages[0].TurnBack
	if here.IsZero() || !here.Equal(utc) || here.Hour() != utc.Hour()+1 {
		t.Errorf("in summer turn back by %v, by universal time %v", here, utc)
	}
	if s := judged(t, chosenAtCol(startAt(walk(), 23, 50))).Stages[1]; !strings.Contains(caution.Lead(s.Cautions, caution.Time)+s.Cautions[0].Text(), "00:05 (day 2)") {
		t.Errorf("reached on the next day: %v", s.Cautions)
	}
	if s := judged(t, startAt(walk(), 14, 15)).Stages[0]; !caution.Stops(s.Cautions, caution.Time) {
		t.Error("a mark that is reached after its turn-back time is no stop")
	}
}

// A turn-back time names the hour that it was counted from: the earlier one of the sun's and the
// leader's own. The times are those of TestTurnBack.
func TestTurnBackCountedFrom(t *testing.T) {
	t.Parallel()
	none := plan.TimeOfDay{}
	for _, c := range []struct {
		dusk  bool
		set   plan.TimeOfDay
		event escape.Event
		want  string
	}{
		{false, none, escape.Sunset, "15:38"},
		{true, none, escape.Twilight, "16:24"},
		{false, plan.ClockTime(17, 30), escape.Sunset, "15:38"},
		{true, plan.ClockTime(17, 30), escape.Twilight, "16:24"},
		{false, plan.ClockTime(15, 39), escape.Sunset, "15:38"},
		{false, plan.ClockTime(15, 38), escape.OwnTime, "15:38"},
		{true, plan.ClockTime(16, 0), escape.OwnTime, "16:00"},
		{false, plan.ClockTime(13, 0), escape.OwnTime, "13:00"},
	} {
		p := walk()
		timing := p.Timing
		timing.UntilDusk, timing.Latest = c.dusk, c.set
		if by := judged(t, p.SetTiming(timing)).Stages[0].OffBy; by.Event != c.event || by.At.Format("15:04") != c.want {
			t.Errorf("dusk %v, hour set %v: counted from %s at %v; want %s at %s", c.dusk, c.set, by.Event, by.At, c.event, c.want)
		}
	}
	if by := judged(t, walk().ChooseEscape("off", false)).Stages[0].OffBy; by != (escape.OffBy{}) {
		t.Errorf("without a turn-back time one is counted from %+v", by)
	}
}

// Of two chosen escapes, as a file may have them, the slower one gives the hour.
func TestTurnBackOfTwo(t *testing.T) {
	t.Parallel()
	off, _ := walk().EscapeByID("off")
	slow := off.Clone()
	slow.ID, slow.Legs[0].To = "slow", plan.AtPosition(at(0, -3400))
	slow.Legs[1].Along = ""
	want := judged(t, walk().SetEscape(plan.Escape{ID: "off", Start: off.Start, Chosen: true, Legs: slow.Legs})).Stages[0].TurnBack
	for _, order := range [][]plan.Escape{{off, slow}, {slow, off}} {
		p := walk().Remove("off")
		for _, e := range order {
			p = p.AddEscape(e)
		}
		if got := judged(t, p).Stages[0].TurnBack; !got.Equal(want) {
			t.Errorf("%s before %s: turn back by %v, the slower one by %v", order[0].ID, order[1].ID, got, want)
		}
	}
}

// chosenAtCol adds an escape from the col of walk.
func chosenAtCol(p *plan.Plan) *plan.Plan {
	return p.AddEscape(plan.Escape{ID: "from col", Start: plan.AtMark(p.Marks[1]), Chosen: true, Legs: []plan.EscapeLeg{
		{To: plan.AtPosition(at(1000, -400)), Climb: plan.Count(0), Descent: plan.Count(100)},
	}})
}

// Where the climb of a leg before a mark is not known, the party is later there than the clock
// says, and may be so after the latest time to leave.
func TestReachWithoutClimb(t *testing.T) {
	t.Parallel()
	p := chosenAtCol(walk())
	if s := judged(t, p).Stages; caution.Has(s[0].Cautions, caution.ReachFlat) || !caution.Has(s[1].Cautions, caution.ReachFlat) {
		t.Errorf("the climb of leg 1 is not known: %v, %v", s[0].Cautions, s[1].Cautions)
	}
	if s := judged(t, p).Stages; !s[0].OnFlat || !s[1].BackFlat || s[0].BackFlat || s[1].OnFlat {
		t.Errorf("the climb of leg 1 is not known: %+v", s)
	}
	l := p.Legs[0]
	l.Climb, l.Descent = plan.Count(50), plan.Count(0)
	if s := judged(t, p.SetLeg(l)).Stages; caution.Has(s[1].Cautions, caution.ReachFlat) || s[0].OnFlat || s[1].BackFlat {
		t.Errorf("the climb of leg 1 is counted: %+v", s)
	}
}

// An escape of longer than the day leaves no time to turn back: an hour of the day before
// would read like one of this day.
func TestTurnBackTheDayBefore(t *testing.T) {
	t.Parallel()
	p := edit(walk(), func(e *plan.Escape) {
		e.Legs = []plan.EscapeLeg{{To: plan.AtPosition(at(0, -40_000)), Climb: plan.Count(0), Descent: plan.Count(0)}}
	})
	if s := judged(t, p).Stages[0]; !s.TurnBack.IsZero() || !caution.Stops(s.Cautions, caution.Time) {
		t.Errorf("13 h and a third of them before sunset: turn back by %v, %v", s.TurnBack, s.Cautions)
	}
}

// Where the sun neither sets nor rises, a stop asks for an hour; with one there is a time.
func TestNoSunset(t *testing.T) {
	t.Parallel()
	p := walk()
	move := func(pos plan.Position) plan.Position {
		pos.Code, pos.Grid = geodesy.EPSG(32633), geodesy.Grid{E: pos.Grid.E + 100_000, N: pos.Grid.N + 7_800_000 - 743_000} // 70.3° N 15° E
		return pos
	}
	for i := range p.Marks {
		p = p.MovePoint(p.Marks[i].ID, 0, plan.AtPosition(move(p.Marks[i].Position)))
	}
	p = edit(p, func(e *plan.Escape) {
		e.Legs = []plan.EscapeLeg{{To: plan.AtPosition(move(at(0, -400))), Climb: plan.Count(0), Descent: plan.Count(0)}}
	})
	timing := p.Timing
	timing.Zone = "Europe/Oslo"
	p = p.SetTiming(timing)
	for month, dusk := range map[time.Month]bool{time.June: false, time.December: false, time.May: true} {
		q := p.SetDate(plan.Date{Year: 2026, Month: month, Day: 30})
		timing.UntilDusk = dusk
		s := judged(t, q.SetTiming(timing)).Stages[0]
		if !s.TurnBack.IsZero() || !caution.Has(s.Cautions, caution.NoLatestHour) || !caution.Stops(s.Cautions, caution.Time) {
			t.Errorf("%v: turn back by %v, %v; want a stop that asks for an hour", month, s.TurnBack, s.Cautions)
		}
		hour := timing
		hour.Latest = plan.ClockTime(17, 30)
		// 8 min and an hour before half past five.
		if s := judged(t, q.SetTiming(hour)).Stages[0]; s.TurnBack.Format("15:04") != "16:21" || s.Cautions != nil {
			t.Errorf("%v, with an hour: turn back by %v, %v", month, s.TurnBack, s.Cautions)
		} else if s.OffBy.Event != escape.OwnTime || s.OffBy.At.Format("15:04") != "17:30" {
			t.Errorf("%v, with an hour: counted from %+v", month, s.OffBy)
		}
	}
}

// A mark that the route passes twice has its escapes once, and is passed too late the
// second time.
func TestAMarkPassedTwice(t *testing.T) {
	t.Parallel()
	p := startAt(walk(), 13, 50)
	cairn, _ := p.MarkByID("cairn")
	col, _ := p.MarkByID("col")
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: plan.AtMark(col), To: plan.AtMark(cairn)})
	j := judged(t, p)
	if len(j.Escapes) != 1 || len(j.Stages) != 3 || len(j.Stages[0].Escapes) != 1 || len(j.Stages[2].Escapes) != 0 {
		t.Fatalf("%d escapes, %+v", len(j.Escapes), j.Stages)
	}
	if j.Stages[0].Cautions != nil || !caution.Has(j.Stages[2].Cautions, caution.TurnBackPassed) { // 13:50 and 30 min
		t.Errorf("at first %v, then %v", j.Stages[0].Cautions, j.Stages[2].Cautions)
	}
}
