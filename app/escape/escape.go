package escape

import (
	"fmt"
	"math"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/light"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/units"
)

// Escape is one escape with its figures. What is not known is NaN, a zero Rise or "".
type Escape struct {
	ID     plan.ID
	Name   string  // "E03-1": the first that begins where leg 3 begins
	Title  string  // the leader's own name; may be empty
	Mark   plan.ID // that it begins at, "" for none
	Leg    int     // the leg of the route that begins at its mark, from 1; one more at the route's end, 0 off the route
	From   string
	To     string // its haven, or the label of its end
	Haven  plan.ID
	Chosen bool
	Draft  bool
	Waits  bool // it is not judged yet, see Waiting

	Legs        []Leg
	Minutes     float64 // by day
	DarkMinutes float64
	Leave       time.Time // when the party is at its mark for the last time, by the plan's clock; zero where that is not known
	Dark        bool      // left then it would end in the dark
	Climb       leg.Rise
	Descent     leg.Rise
	AgainM      float64 // climb that only makes up for height lost before
	OffLineM    float64 // metres off a line
	LongestM    float64 // longest compass leg
	EndsOn      string  // what the last leg ends on, or lies within reach behind it

	Cautions []caution.Caution // of the whole and of its legs, which their subject names; the gravest first
}

// Stopped reports whether nobody may walk it as it is; nobody may walk a DRAFT.
func (e Escape) Stopped() bool { return caution.Stops(e.Cautions, caution.All) }

// Profile is the ground under all of its legs; the zero Profile where one has none.
func (e Escape) Profile() terrain.Profile {
	var list []terrain.Profile
	for _, l := range e.Legs {
		list = append(list, l.Profile)
	}
	return terrain.Joined(list...)
}

// Figures of escapes (common practice, no source).
const (
	mostAgainM   = 50.0  // metres climbed again without a word
	mostLegM     = 500.0 // a compass leg by day
	mostDarkLegM = 300.0 // and in the dark
)

// head is what an escape is called, the n-th of its mark.
func (j *judge) head(e plan.Escape, atLeg, n int) Escape {
	return Escape{
		ID: e.ID, Name: fmt.Sprintf("E%02d-%d", atLeg, n), Title: e.Name, Mark: e.Start.Mark, Leg: atLeg, Chosen: e.Chosen,
		From: j.labels.Of(e.Start), To: j.labels.Of(e.End()), AgainM: math.NaN(),
	}
}

// escape judges an escape, which the party leaves at an instant at the latest.
func (j *judge) escape(e plan.Escape, out Escape, leave time.Time) Escape {
	out.Leave = leave
	for i := range e.Legs {
		out.Legs = append(out.Legs, j.leg(e, i))
	}
	out.total()
	end := j.endOf(e, &out)
	out.Dark = j.inTheDark(e, out.Minutes, leave)
	open := out.open()
	out.Draft = open > 0
	out.markLong()
	own := append(j.whole(e, out.Leg, open), end...)
	if out.Dark {
		own = append(own, caution.Of(caution.EscapeDark, j.clock(leave.Add(minutes(out.DarkMinutes)))))
	}
	if out.AgainM > mostAgainM {
		own = append(own, caution.Of(caution.EscapeClimbsAgain, fmt.Sprintf("%.0f m", out.AgainM)))
	}
	for _, l := range out.Legs {
		own = append(own, l.Cautions...)
	}
	own = append(own, j.always()...)
	out.Cautions = caution.GravestFirst(own)
	return out
}

// total adds up the legs.
func (e *Escape) total() {
	e.Climb, e.Descent = leg.Rise{From: leg.RiseTerrain}, leg.Rise{From: leg.RiseTerrain}
	highest, height := 0.0, 0.0 // above the start
	for _, l := range e.Legs {
		e.Minutes, e.DarkMinutes = e.Minutes+l.Minutes, e.DarkMinutes+l.DarkMinutes
		e.Climb, e.Descent = sum(e.Climb, l.Climb), sum(e.Descent, l.Descent)
		if l.Along == "" {
			e.OffLineM, e.LongestM = e.OffLineM+l.LengthM, max(e.LongestM, l.LengthM)
		}
		if _, high, ok := l.Profile.Extremes(); ok && l.Climb.From == leg.RiseTerrain {
			highest = max(highest, height+l.Profile.Points[high].HeightM-l.Profile.Points[0].HeightM)
		}
		height += l.Climb.M - l.Descent.M
		highest = max(highest, height)
	}
	if e.Climb.Known() && e.Descent.Known() {
		e.AgainM = max(e.Climb.M-highest, 0)
	}
}

// sum adds rises; where one is not known the sum is not.
func sum(a, b leg.Rise) leg.Rise {
	switch {
	case !a.Known() || !b.Known():
		return leg.Rise{}
	case b.From == leg.RiseCounted:
		a.From = leg.RiseCounted
	}
	a.M += b.M
	return a
}

// whole is what speaks against the escape as a whole, its draft first.
func (j *judge) whole(e plan.Escape, atLeg, open int) []caution.Caution {
	var list []caution.Caution
	if open > 0 {
		list = append(list, caution.Of(caution.EscapeDraft, legsWord(open)))
	}
	if m, ok := j.p.MarkByID(e.Start.Mark); !ok || !m.InCloud {
		list = append(list, caution.Of(caution.EscapeStart))
	}
	if atLeg == 0 {
		list = append(list, caution.Of(caution.EscapeOffRoute))
	}
	return list
}

// open is how many legs are not ticked.
func (e Escape) open() (n int) {
	for _, l := range e.Legs {
		if !l.Ticks.All() {
			n++
		}
	}
	return n
}

func legsWord(n int) string {
	if n == 1 {
		return "1 leg"
	}
	return fmt.Sprintf("%d legs", n)
}

// markLong marks compass legs that are longer than usual.
func (e *Escape) markLong() {
	most := mostLegM
	if e.Dark {
		most = mostDarkLegM
	}
	for i := range e.Legs {
		if l := &e.Legs[i]; l.Along == "" && l.LengthM > most {
			l.add(caution.Of(caution.EscapeLongLeg, metres(l.LengthM), metres(most)))
		}
	}
}

// always is what stands with every escape.
func (j *judge) always() []caution.Caution {
	list := []caution.Caution{caution.Of(caution.DriftNotJudged), caution.Of(caution.SnowNotJudged)}
	if j.p.Snow == plan.SnowNotAsked {
		list = append(list, caution.Of(caution.SnowNotAnswered))
	}
	return append(list, j.r.GroundCautions()...)
}

// inTheDark reports whether an escape that is begun at an instant ends after civil
// twilight, or begins before it. Without an instant nobody knows.
func (j *judge) inTheDark(e plan.Escape, min float64, leave time.Time) bool {
	at, ok := j.latLon(e.Start)
	if leave.IsZero() || !ok {
		return false
	}
	end := leave.Add(minutes(min)) // the start itself where the time is not known
	return max(light.PhaseAt(at, leave), light.PhaseAt(at, end), light.Midnight(at, leave, end)) == light.Dark
}

// metres writes a length to the metre.
func metres(m float64) string { return units.Metres(m, 0) }
