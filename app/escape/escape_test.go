package escape_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
)

// One escape worked out by hand. Leg 1: 400 m of the grid are 400.16 m of ground, at 3 km/h
// 8.003 min; 100 m of descent at 14° are steeper than 12° and take 100/30 = 3.333 min more
// (Langmuir, handbooks). Leg 2: 700.28 m at 4 km/h are 10.504 min, 20 m of climb 2 min,
// and 40 m of descent on 467 m are gentle. Together 23.84 min. In the dark 2.5 km/h: 9.604
// + 3.333 + 16.807 + 2 = 31.74 min. The sun sets at 15:38 (PyEphem 4.1.4 at 56.57° N 2° W),
// so the latest time to leave is 15:38 − 23.84 min − 60 min, rounded down: 14:14.
func TestByHand(t *testing.T) {
	t.Parallel()
	j := judged(t, walk())
	e := j.Escapes[0]
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"minutes", e.Minutes, 23.84},
		{"minutes in the dark", e.DarkMinutes, 31.744},
		{"leg 1", e.Legs[0].Minutes, 11.337},
		{"leg 2", e.Legs[1].Minutes, 12.504},
		{"off a line", e.OffLineM, 400.16},
		{"longest compass leg", e.LongestM, 400.16},
		{"climb", e.Climb.M, 20},
		{"descent", e.Descent.M, 140},
		{"climbed again", e.AgainM, 20},
	} {
		if math.Abs(c.got-c.want) > 0.005 {
			t.Errorf("%s: got %.4f, want %.4f", c.what, c.got, c.want)
		}
	}
	if e.Name != "E01-1" || e.From != "Cairn" || e.To != "Glen road" || e.Haven != "road" || e.EndsOn != "Peat road" || e.Leg != 1 {
		t.Errorf("%s from %s to %s (%s), ends on %q", e.Name, e.From, e.To, e.Haven, e.EndsOn)
	}
	if got := about(e.Cautions); got != nil {
		t.Errorf("cautions %v beside the usual ones", got)
	}
	for _, c := range []caution.Code{caution.EscapeDraft, caution.DriftNotJudged, caution.SnowNotJudged, caution.SnowNotAnswered, caution.NothingDrawn, caution.SteepnessUnknown} {
		if !caution.Has(e.Cautions, c) {
			t.Errorf("%s does not stand with the escape", c)
		}
	}
	if e.Cautions[0].Code != caution.EscapeDraft || !caution.Stops(e.Cautions, caution.OnLeg) || !e.Draft {
		t.Errorf("the draft is not the first stop: %v", e.Cautions)
	}
	s := j.Stages[0]
	if got := s.TurnBack.Format("15:04"); got != "14:14" || len(j.Stages) != 2 || s.Cautions != nil {
		t.Errorf("turn back by %s, %v; %d stages", got, s.Cautions, len(j.Stages))
	}
	// On and back: 1000.4 m at 4 km/h on the level.
	if s.OnTo != "Col" || j.Stages[1].BackTo != "Cairn" || math.Abs(s.On.Minutes()-15.006) > 0.01 || math.Abs(j.Stages[1].Back.Minutes()-15.006) > 0.01 {
		t.Errorf("on to %s in %v, back to %s in %v", s.OnTo, s.On, j.Stages[1].BackTo, j.Stages[1].Back)
	}
}

// Way back uphill: 100 m of climb take 10 min more than the same descent without
// Langmuir's corrections.
func TestBackTakesTheClimb(t *testing.T) {
	t.Parallel()
	p := walk()
	l := p.Legs[0]
	l.Climb, l.Descent = plan.Count(0), plan.Count(100)
	s := judged(t, p.SetLeg(l)).Stages
	if on, back := s[0].On.Minutes(), s[1].Back.Minutes(); math.Abs(back-on-10) > 0.01 {
		t.Errorf("on in %.2f min, back in %.2f", on, back)
	}
}

// Names follow the route: the first from the start of leg 1, those of the last mark count
// on, and one off the route has no leg.
func TestNames(t *testing.T) {
	t.Parallel()
	p := walk()
	col, _ := p.MarkByID("col")
	hut := plan.Mark{ID: "hut", Name: "Hut", Position: at(5000, 0), InCloud: true}
	p = p.AddMark(hut)
	for id, m := range map[plan.ID]plan.Mark{"x": col, "z": hut} {
		p = p.AddEscape(plan.Escape{ID: id, Start: plan.AtMark(m), Legs: []plan.EscapeLeg{{To: plan.AtPosition(at(400, -800))}}})
	}
	p = p.AddEscape(plan.Escape{ID: "y", Start: plan.AtMark(col), Legs: []plan.EscapeLeg{{To: plan.AtPosition(at(400, -800))}}})
	j := judged(t, p)
	var got []string
	for _, e := range j.Escapes {
		got = append(got, string(e.ID)+" "+e.Name)
	}
	if text := strings.Join(got, ", "); text != "off E01-1, x E02-1, y E02-2, z E00-1" {
		t.Errorf("escapes are %s", text)
	}
	if z, _ := j.ByID("z"); !caution.Has(z.Cautions, caution.EscapeOffRoute) {
		t.Error("an escape from a mark off the route does not say so")
	}
	if len(j.Stages[1].Escapes) != 2 || j.Stages[1].TurnBack != (time.Time{}) || !caution.Has(j.Stages[1].Cautions, caution.TurnBackUnknown) {
		t.Errorf("the last mark has %+v, want no turn-back time, and why", j.Stages[1])
	}
}

// What an escape begins at, ends at and ends on.
func TestStartAndEnd(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		p    *plan.Plan
		want []caution.Code
	}{
		"not known in cloud": {func() *plan.Plan { p := walk(); m := p.Marks[0]; m.InCloud = false; return p.SetMark(m) }(), []caution.Code{caution.EscapeStart}},
		"its mark is gone":   {walk().Remove("cairn"), []caution.Code{caution.EscapeStart, caution.EscapeOffRoute}},
		"no haven": {
			edit(walk(), func(e *plan.Escape) { e.Legs[1].To = plan.AtPosition(at(300, -600)) }), []caution.Code{caution.EscapeNoHaven},
		},
		"no line at the end": {edit(walk(), func(e *plan.Escape) {
			e.Legs = e.Legs[:1]
			e.Legs[0].To = plan.AtPosition(at(-300, -300))
		}), []caution.Code{caution.EscapeNoHaven, caution.EscapeEnd}},
		"a line 150 m behind": {edit(walk(), func(e *plan.Escape) {
			e.Legs = e.Legs[:1]
			e.Legs[0].To = plan.AtPosition(at(20, -250))
		}), []caution.Code{caution.EscapeNoHaven}},
		"a line 250 m behind": {edit(walk(), func(e *plan.Escape) {
			e.Legs = e.Legs[:1]
			e.Legs[0].To = plan.AtPosition(at(20, -150))
		}), []caution.Code{caution.EscapeNoHaven, caution.EscapeEnd}},
		"its line is gone":                     {walk().Remove("path"), []caution.Code{caution.EscapeLongLeg}},
		"its line moved":                       {walk().MovePoint("path", 2, plan.AtPosition(at(300, -700))), []caution.Code{caution.LineAstray}},
		"to a locked hut":                      {walk().AddHaven(plan.Haven{ID: "hut", Kind: plan.LockedShelter, Points: path(300, -800)}).Remove("road"), []caution.Code{caution.HavenNoShelter}},
		"a long compass leg":                   {edit(walk(), func(e *plan.Escape) { e.Legs[0].To = plan.AtPosition(at(0, -510)); e.Legs[1].Along = "" }), []caution.Code{caution.EscapeLongLeg}},
		"climbs again":                         {edit(walk(), func(e *plan.Escape) { e.Legs[1].Climb = plan.Count(51) }), []caution.Code{caution.EscapeClimbsAgain}},
		"no length":                            {edit(walk(), func(e *plan.Escape) { e.Legs[1].To, e.Legs[1].Along = e.Legs[0].To, "" }), []caution.Code{caution.EscapeUnread}},
		"climb is not known":                   {edit(walk(), func(e *plan.Escape) { e.Legs[0].Climb = plan.Counted{} }), []caution.Code{caution.NoTerrain}},
		"dark when it is left":                 {startAt(walk(), 16, 30), []caution.Code{caution.EscapeDark, caution.EscapeLongLeg}},
		"dark before its end":                  {startAt(walk(), 16, 10), []caution.Code{caution.EscapeDark, caution.EscapeLongLeg}},
		"dark when it is left, not at its end": {startAt(walk(), 7, 15), []caution.Code{caution.EscapeDark, caution.EscapeLongLeg}}, // dawn is at 7:28
		"by day":                               {startAt(walk(), 15, 0), nil},
	} {
		e := only(t, c.p)
		got := about(e.Cautions)
		slices.Sort(got)
		slices.Sort(c.want)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	e := only(t, edit(walk(), func(e *plan.Escape) { e.Legs[0].Climb = plan.Counted{} }))
	if !math.IsNaN(e.Minutes) || e.Climb != (leg.Rise{}) || !math.IsNaN(e.AgainM) {
		t.Errorf("without a climb it takes %v min, climbs %+v", e.Minutes, e.Climb)
	}
}

func startAt(p *plan.Plan, hour, minute int) *plan.Plan {
	t := p.Timing
	t.Start = plan.ClockTime(hour, minute)
	return p.SetTiming(t)
}

// Height that is climbed before it is lost is not climbed again: 30 m up and then down, and
// then 20 m up after 50 m down.
func TestClimbedAgain(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		legs [2][2]float64 // climb and descent
		want float64
	}{
		"up, then down":        {[2][2]float64{{30, 0}, {0, 140}}, 0},
		"down, then up":        {[2][2]float64{{0, 50}, {20, 0}}, 20},
		"down, then up beyond": {[2][2]float64{{0, 50}, {80, 0}}, 50},
	} {
		e := only(t, edit(walk(), func(e *plan.Escape) {
			for i, x := range c.legs {
				e.Legs[i].Climb, e.Legs[i].Descent = plan.Count(x[0]), plan.Count(x[1])
			}
		}))
		if math.Abs(e.AgainM-c.want) > 1e-9 {
			t.Errorf("%s: %g m again, want %g", name, e.AgainM, c.want)
		}
	}
}

// The answer to "Is snow lying?" takes the question away, never the sentence.
func TestSnow(t *testing.T) {
	t.Parallel()
	for snow, asked := range map[plan.Snow]bool{plan.SnowNotAsked: true, plan.SnowLying: false, plan.NoSnow: false} {
		j := judged(t, walk().SetSnow(snow))
		if got := caution.Has(j.Escapes[0].Cautions, caution.SnowNotAnswered); got != asked || j.Snow == asked || !caution.Has(j.Escapes[0].Cautions, caution.SnowNotJudged) {
			t.Errorf("%q: asked %v", snow, got)
		}
	}
}
