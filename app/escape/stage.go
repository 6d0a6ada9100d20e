package escape

import (
	"fmt"
	"math"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Stage is where a leg of the route begins, or the end of the last one: what there is to
// know there of going on, back or off.
type Stage struct {
	Leg      int       // that begins here, from 1; one more than there are at the route's end
	Mark     plan.ID   // "" where the route passes no mark
	Name     string    // label of the position
	Reach    time.Time // when the party leaves it by the plan's clock; zero where that is not known
	TurnBack time.Time // latest time to leave it by the chosen escape; zero for none
	OffBy    OffBy     // what TurnBack is counted from; zero where there is none
	OnTo     string    // label of the next stage, "" for none
	BackTo   string
	On, Back time.Duration     // walking there without rests; 0 where it is not known
	OnFlat   bool              // On leaves out climb that is not known
	BackFlat bool              // and Back does
	Escapes  []plan.ID         // that begin here, at the first stage of their mark
	Cautions []caution.Caution // of leaving it

	end  plan.End
	flat bool // Reach leaves out climb that is not known
}

// passed are the stages of the route by their names alone.
func (j *judge) passed() []Stage {
	rows := j.r.Legs()
	var out []Stage
	for i, row := range rows {
		out = append(out, Stage{Leg: i + 1, end: row.FromEnd, Name: row.From, OnTo: row.To})
	}
	if n := len(rows); n > 0 {
		out = append(out, Stage{Leg: n + 1, end: rows[n-1].ToEnd, Name: rows[n-1].To})
	}
	for i := range out {
		out[i].Mark = out[i].end.Mark
	}
	return out
}

// stages are those of the route, without their turn-back times.
func (j *judge) stages() []Stage {
	rows, out := j.r.Legs(), j.passed()
	flat := false
	for i := range out {
		s := &out[i]
		if i > 0 && (i == len(rows) || rows[i-1].ToEnd.Same(rows[i].FromEnd)) {
			s.BackTo, s.Back = rows[i-1].From, j.back(rows[i-1], j.p.Legs[i-1])
			s.BackFlat = !rows[i-1].ClimbKnown()
		}
		if s.flat = flat; i == len(rows) {
			s.Reach = rows[i-1].Arrive
			break
		}
		row := rows[i]
		s.Reach, s.On, s.OnFlat = row.Leave, row.Time, !row.ClimbKnown()
		flat = flat || s.OnFlat
	}
	return out
}

// back is how long a leg takes the other way, at the pace of the route.
func (j *judge) back(row leg.Row, l plan.Leg) time.Duration {
	rule := j.p.Timing.Rule(j.p.Party)
	there := row.Minutes(rule, l.Ground)
	back := row.Back().Minutes(rule, l.Ground)
	if row.Err != nil || math.IsInf(there, 0) || there <= 0 {
		return 0
	}
	return time.Duration(float64(row.Time) * back / there)
}

// beginningAt are the plan's escapes that stand at stage i: at the first one of their mark.
func (j *judge) beginningAt(all []Stage, i int) []plan.Escape {
	for _, before := range all[:i] {
		if before.Mark == all[i].Mark {
			return nil
		}
	}
	return j.p.EscapesFrom(all[i].Mark)
}

// lastReach is when the party is at a mark for the last time, zero where that is not
// known.
func lastReach(all []Stage, mark plan.ID) (at time.Time) {
	for _, s := range all {
		if s.Mark == mark && mark != "" {
			at = s.Reach
		}
	}
	return at
}

// turnBacks works out until when each mark may be left by the escape that was chosen.
func (j *judge) turnBacks(out *Judged) {
	for i := range out.Stages {
		s := &out.Stages[i]
		own := j.p.EscapesFrom(s.Mark)
		if len(own) == 0 {
			continue
		}
		why := "no escape is chosen"
		if x, ok := out.slowest(own); ok {
			why = j.turnBack(s, x)
		}
		if why != "" {
			s.add(caution.Of(caution.TurnBackUnknown, why))
		}
	}
}

// slowest is the chosen one of some escapes. A file may have chosen several: then the slowest
// counts, and before all one of unknown time.
func (j Judged) slowest(list []plan.Escape) (out Escape, ok bool) {
	for _, e := range list {
		x, judged := j.ByID(e.ID)
		if judged && e.Chosen && (!ok || math.IsNaN(x.Minutes) || x.Minutes > out.Minutes) {
			out, ok = x, true
		}
	}
	return out, ok
}

// turnBack works it out for one stage and the escape chosen there, or says what is missing.
func (j *judge) turnBack(s *Stage, e Escape) (missing string) {
	zone := j.p.Timing.Location()
	day, ok := j.r.Day()
	switch {
	case math.IsNaN(e.Minutes):
		return "the time of its escape is not known"
	case j.p.Date.IsZero():
		return "no date is set"
	case zone == nil:
		return "no time zone is set"
	case !ok:
		return "the latitude and longitude of the route are not known"
	}
	off, why := j.latest(day, zone)
	if why != "" {
		s.add(caution.Of(caution.NoLatestHour, why))
		return ""
	}
	by := off.At.Add(-ceilMinutes(e.Minutes + max(leastMarginMin, e.Minutes/3)))
	if by.Before(j.clockOn(plan.ClockTime(0, 0), zone)) {
		s.add(caution.Of(caution.NoTurnBack, j.clock(off.At)))
		return ""
	}
	s.TurnBack, s.OffBy = by, off
	if c, far := j.r.OffSun(); far {
		s.add(c)
	}
	switch {
	case s.Reach.After(by):
		s.add(caution.Of(caution.TurnBackPassed, j.clock(s.Reach), j.clock(by)))
	case s.flat && !s.Reach.IsZero():
		s.add(caution.Of(caution.ReachFlat, j.clock(s.Reach)))
	}
	return ""
}

// leastMarginMin is the least margin before the latest time off the hill, minutes.
const leastMarginMin = 60

// clockOn is a time of day on the day of the outing.
func (j *judge) clockOn(t plan.TimeOfDay, zone *time.Location) time.Time {
	d := j.p.Date
	return time.Date(d.Year, d.Month, d.Day, 0, t.Minutes, 0, 0, zone)
}

// add adds a caution about the stage.
func (s *Stage) add(c caution.Caution) {
	name := s.Name
	if name == "" {
		name = fmt.Sprintf("the start of leg %d", s.Leg)
	}
	s.Cautions = append(s.Cautions, c.About(name))
}
