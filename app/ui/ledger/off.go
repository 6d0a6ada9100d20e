package ledger

import (
	"fmt"
	"math"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/units"
)

// wayOff is what the cells of an escape are made from.
type wayOff struct {
	escape.Escape
	stage   escape.Stage // where it begins; zero off the route
	verdict escape.Verdict
	profile terrain.Profile
	note    string
}

// withEscapes puts the row of each escape beneath that of the leg which starts at its mark.
// Those of the last mark and those off the route come last.
func withEscapes(cols []column, legs []row, j escape.Judged, p *plan.Plan) []row {
	if len(j.Escapes) == 0 {
		return legs
	}
	var out []row
	for i := range legs {
		out = append(append(out, legs[i]), offRows(cols, j, p, i+1)...)
	}
	out = append(out, offRows(cols, j, p, len(legs)+1)...)
	return append(out, offRows(cols, j, p, 0)...)
}

// offRows are the rows of the escapes that begin where a leg does.
func offRows(cols []column, j escape.Judged, p *plan.Plan, atLeg int) (out []row) {
	for _, e := range j.Escapes {
		if e.Leg != atLeg {
			continue
		}
		w := wayOff{Escape: e, verdict: j.Verdict(e), profile: e.Profile()}
		if atLeg > 0 && atLeg <= len(j.Stages) {
			w.stage = j.Stages[atLeg-1]
		}
		if own, ok := p.EscapeByID(e.ID); ok {
			w.note = own.Note
		}
		out = append(out, row{id: e.ID, off: true, stopped: w.verdict != escape.Ticked, ground: w.profile, cell: func(c int) cell {
			if cols[c].off == nil || w.Waits && cols[c].style.figure {
				return cell{}
			}
			return cols[c].off(w)
		}})
	}
	return out
}

func offName(w wayOff) cell { return cell{w.Name, string(w.verdict)} }

// offFrom writes its mark.
func offFrom(w wayOff) cell { return cell{w.From, "escape"} }

// offStage writes how long it is from its mark on to the next one of the route, and back
// to the one before.
func offStage(w wayOff) cell {
	var c cell
	if w.stage.On > 0 {
		c.text = atLeast(w.stage.On, w.stage.OnFlat) + " on"
	}
	if w.stage.Back > 0 {
		c.under = atLeast(w.stage.Back, w.stage.BackFlat) + " back"
	}
	return c
}

// atLeast writes a walking time, with a plus where it leaves out climb.
func atLeast(d time.Duration, flat bool) string {
	if flat {
		return units.Minutes(d) + "+"
	}
	return units.Minutes(d)
}

// offTo writes its haven, and the reference where it ends.
func offTo(w wayOff) cell {
	last := w.Legs[len(w.Legs)-1]
	return cell{w.To, last.Reading.ToRef}
}

func offDistance(w wayOff) cell {
	m := 0.0
	for _, l := range w.Legs {
		m += l.LengthM
	}
	return cell{units.Metres(m, 0), ""}
}

// offCompass writes how far it goes by compass, which is counted off in paces.
func offCompass(w wayOff) cell { return cell{fmt.Sprintf("%.0f m", w.OffLineM), "by compass"} }

// offClimb writes what it climbs and descends, and above 50 m what it climbs again.
func offClimb(w wayOff) cell {
	if !w.Climb.Known() || !w.Descent.Known() {
		return cell{"?", "no terrain"}
	}
	return cell{"+" + metres(w.Climb), "−" + metres(w.Descent) + " m"}
}

// offTime writes its minutes by day, and in the dark.
func offTime(w wayOff) cell { return cell{offMinutes(w.Minutes), "dark: " + offMinutes(w.DarkMinutes)} }

// offMinutes writes minutes rounded up, a question mark where they are not known.
func offMinutes(m float64) string {
	if math.IsNaN(m) {
		return "?"
	}
	return units.Minutes(time.Duration(math.Ceil(m)) * time.Minute)
}

// offClock writes the latest time to leave by the escape that the leader chose.
func offClock(w wayOff) cell {
	switch {
	case !w.Chosen:
		return cell{"–", "not chosen"}
	case w.stage.TurnBack.IsZero():
		return cell{"?", "turn back"}
	case caution.Has(w.stage.Cautions, caution.TurnBackPassed):
		return cell{w.stage.TurnBack.Format("15:04"), "passed"}
	}
	return cell{w.stage.TurnBack.Format("15:04"), "turn back"}
}

// offCautions says what speaks against it, the gravest first.
func offCautions(w wayOff) cell {
	list := w.Cautions
	if w.Chosen {
		list = caution.GravestFirst(append(append([]caution.Caution{}, list...), w.stage.Cautions...))
	}
	under := ""
	if !w.Waits {
		under = fmt.Sprintf("%d of %d legs ticked", w.ticked(), len(w.Legs))
	}
	return cell{strings.Join(caution.Shorts(list), ", "), under}
}

// ticked is how many legs the leader looked at on the map.
func (w wayOff) ticked() (n int) {
	for _, l := range w.Legs {
		if l.Ticks.All() {
			n++
		}
	}
	return n
}

// offEnd writes what it ends on, and below it what its turn-back time is counted from.
func offEnd(w wayOff) cell {
	if w.Waits {
		return cell{}
	}
	c := cell{text: w.EndsOn}
	if w.EndsOn == "" {
		c.text = "nothing drawn at end"
	}
	if w.Chosen && !w.stage.TurnBack.IsZero() {
		c.under = "off the hill by " + w.stage.OffBy.Words()
	}
	return c
}

func offTitle(w wayOff) cell { return cell{strings.TrimSpace(w.Title + " " + w.note), ""} }

// offTotals counts the escapes for the heading, those that something speaks against apart:
// they are not summed up with the route.
func offTotals(j escape.Judged) (bad, good []string) {
	drafts, stopped, late := 0, 0, 0
	if n := len(j.Escapes); j.Waits && n > 0 {
		return []string{escapes(n) + " not judged yet"}, nil
	}
	for _, e := range j.Escapes {
		switch {
		case e.Draft:
			drafts++
		case e.Stopped():
			stopped++
		}
	}
	for _, s := range j.Stages {
		if caution.Has(s.Cautions, caution.TurnBackPassed) {
			late++
		}
	}
	add := func(parts []string, n int, what string) []string {
		if n > 0 {
			parts = append(parts, what)
		}
		return parts
	}
	bad = add(nil, stopped, escapes(stopped)+" marked STOP")
	bad = add(bad, late, count(late, "mark")+" past the turn-back time")
	bad = add(bad, drafts, escapes(drafts)+" DRAFT")
	rest := len(j.Escapes) - drafts - stopped
	return bad, add(nil, rest, escapes(rest))
}

func escapes(n int) string { return count(n, "escape") }

// isEscape reports whether a row is that of an escape.
func isEscape(p *plan.Plan, id plan.ID) bool {
	_, ok := p.EscapeByID(id)
	return ok
}
