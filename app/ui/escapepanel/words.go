package escapepanel

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// word is one sentence about an escape, and how much it weighs.
type word struct {
	text string
	tone widgets.Tone
}

// wordsOf says all there is to say of an escape: first what stops it, then its figures, its
// legs, and what else speaks against it.
func wordsOf(e escape.Escape, j escape.Judged, p *plan.Plan) []word {
	if e.Waits {
		return cautionWords(e.Cautions)
	}
	list := e.Cautions
	var stage []word
	for _, s := range j.Stages {
		if slices.Contains(s.Escapes, e.ID) {
			stage = stageWords(s, j)
			if e.Chosen {
				list = caution.GravestFirst(slices.Concat(s.Cautions, list))
			}
		}
	}
	words := cautionWords(caution.OfGrade(list, caution.Stop))
	words = append(words, word{figureWords(e), widgets.Note})
	words = append(words, stage...)
	for _, l := range e.Legs {
		words = append(words, word{legWords(l, p), widgets.Note})
	}
	notes := slices.DeleteFunc(caution.OfGrade(list, caution.Note), func(c caution.Caution) bool {
		return c.Code == caution.NothingDrawn // its leg says so
	})
	return append(words, cautionWords(notes)...)
}

// cautionWords writes cautions in full.
func cautionWords(list []caution.Caution) (out []word) {
	for _, c := range list {
		tone := widgets.Caution
		if c.Stop() {
			tone = widgets.Fault
		}
		out = append(out, word{c.Text(), tone})
	}
	return out
}

// stageWords say how long it is from a mark to its neighbours on the route, and until when
// it may be left by the escape that was chosen.
func stageWords(s escape.Stage, j escape.Judged) []word {
	var parts []string
	if s.On > 0 {
		parts = append(parts, "On to "+s.OnTo+": "+leg.TimeWords(s.On, !s.OnFlat)+".")
	}
	if s.Back > 0 {
		parts = append(parts, "Back to "+s.BackTo+": "+leg.TimeWords(s.Back, !s.BackFlat)+".")
	}
	if !s.TurnBack.IsZero() {
		parts = append(parts, "Leave "+s.Name+" by its escape no later than "+s.TurnBack.Format("15:04")+", counted back from "+s.OffBy.Words()+".")
	}
	if len(parts) == 0 {
		return nil
	}
	words := []word{{strings.Join(parts, " "), widgets.Note}}
	for _, e := range j.Escapes {
		if slices.Contains(s.Escapes, e.ID) && e.Chosen && e.Stopped() && !s.TurnBack.IsZero() {
			words = append(words, word{"That time comes from " + e.Name + ", which is marked " + string(j.Verdict(e)) + ". Do not rely on it.", widgets.Fault})
		}
	}
	return words
}

// figureWords are the figures of the whole.
func figureWords(e escape.Escape) string {
	height := "the height lost and regained is not known"
	if !math.IsNaN(e.AgainM) {
		height = fmt.Sprintf("%.0f m down, %.0f m up, including %.0f m to regain lost height", e.Descent.M, e.Climb.M, e.AgainM)
	}
	ends := "Nothing is drawn at the end of the escape: look at the map."
	if e.EndsOn != "" {
		ends = "The escape ends on " + e.EndsOn + "."
	}
	takes := "Its time is not known"
	if !math.IsNaN(e.Minutes) {
		takes = minutesWords(e.Minutes) + " by day, " + minutesWords(e.DarkMinutes) + " in the dark"
	}
	return fmt.Sprintf("%s; %s. %s on compass legs, the longest %s. %s", takes, height, units.Metres(e.OffLineM, 0), units.Metres(e.LongestM, 0), ends)
}

// minutesWords writes minutes rounded up.
func minutesWords(m float64) string {
	if math.IsNaN(m) {
		return "time not known"
	}
	return units.Minutes(time.Duration(math.Ceil(m)) * time.Minute)
}

// legWords are the figures of one leg: how it goes, what water it crosses and what hazard
// is nearest, and where.
func legWords(l escape.Leg, p *plan.Plan) string {
	if l.Err != nil {
		return fmt.Sprintf("Leg %d, %s to %s.", l.N, l.From, l.To)
	}
	how := "set " + l.Reading.SetFigures(p.Party.Compass)
	if l.Along != "" {
		how = l.AlongWords()
	}
	words := fmt.Sprintf("Leg %d, %s to %s: %s, %s, %s.", l.N, l.From, l.To, how, units.Metres(l.LengthM, 0), minutesWords(l.Minutes))
	for _, c := range l.Crossings {
		words += fmt.Sprintf(" Crosses %s (%s) after %s.", c.Title, c.Kind, units.Metres(c.AlongM, 0))
	}
	for _, x := range l.Near {
		if x.Kind.Danger() {
			return words + fmt.Sprintf(" Nearest hazard: %s, %s away, %s into the leg, at %s.", x.Title, units.Metres(math.Floor(x.DistM), 0), units.Metres(x.AlongM, 0), x.Ref)
		}
	}
	return words + " No crag or water is drawn near this leg: look at the map."
}

// noteOf is what the list has room for.
func noteOf(e escape.Escape, hidden bool) string {
	var parts []string
	if e.Draft {
		parts = append(parts, "DRAFT")
	}
	if e.Waits {
		parts = append(parts, "not judged yet")
	} else if !hidden {
		parts = append(parts, minutesWords(e.Minutes), units.Metres(e.OffLineM, 0)+" by compass")
	}
	if e.Chosen {
		parts = append(parts, "chosen")
	}
	return strings.Join(parts, ", ")
}
