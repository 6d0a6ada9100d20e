package card

import (
	"fmt"
	"math"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/pace"
	"legwright/app/units"
)

// Leg is what a card says of one leg. What is not known is "".
type Leg struct {
	N         int // from 1
	Stopped   bool
	Stops     []string // in few words
	Why       []string // the same in sentences
	Notes     []string // of its ground, in few words: "Convex, from the start of the leg: you will not see the drop."
	From, To  string
	StartRef  string // of the start, where the route or a part of it begins there
	Ref       string // of the end
	EndHeight string // "412 m"

	Set       string // the figure to set alone: "056°"; "" where nothing can be set
	SetNorth  string // what it is measured from, "mag" or "grid", or what the housing is set to, "(2° E)"
	SetHalf   string // its ± where it exceeds the printed step
	Grid, Mag string // "059° grid", "056° mag ± 2°"
	GMA       string // the leg's own where it is another than the heading's: "GMA 3° east here"
	Back      string // as it is set on the same compass: "236° mag"

	Distance       string // "356 m ± 4"
	Climb, Descent string // "+120 m", "−40 m", or that they are not known; "" for none
	Ground         string // "path", "rough 434 m, the rest path"
	Minutes        string // "7 min", "14 min if flat", or that there is no time
	Clock          string // "09:38", "01:10 (day 2)"
	Light          string // "dusk" or "dark"
	Paces          string // "3 × 100 m + 36"
	FixAgain       bool   // longer than MostBlindM

	TickOff, Catching, Note string
	Escapes                 []Escape
	TurnBack                string // of the mark that it begins at, with what speaks against it
}

// MostBlindM is how far a party walks on a bearing before it fixes its position again, metres
// (common practice, no source).
const MostBlindM = 500

// fixPosition stands beside the distance of a longer leg.
const fixPosition = "fix position"

// mostCountedM is the length from which nobody counts a leg off, as in the window's ledger.
const mostCountedM = 9990

// leg writes the n-th leg.
func (w writer) leg(n int, row leg.Row) Leg {
	r, circle := row.Reading, w.compass.Circle
	l := Leg{
		N: n, Stopped: r.Stopped(), From: row.From, To: row.To, Ref: r.ToRef,
		Set: r.SetFigure(circle), SetNorth: unbroken(r.SetKind.North(w.compass)), Back: r.BackSetFigure(w.compass),
		Distance: units.Metres(r.GroundM, r.DistanceSigmaM), Climb: riseWords("+", row.Climb), Descent: riseWords("−", row.Descent),
		Ground: row.GroundWords(w.p.Legs[n-1].Ground), Minutes: minutesWords(row), Clock: row.ClockWords(w.p.Date), Light: lightWords(row.Light),
		FixAgain: r.GroundM > MostBlindM, TickOff: row.TickOff, Catching: row.Catching, Note: row.Note, Escapes: w.escapesAt(n), TurnBack: w.turnBack(n),
	}
	if w.begins(n - 1) {
		l.StartRef = r.FromRef
	}
	if l.Set != "" {
		l.SetHalf = circle.Half(r.MagneticSigma)
	}
	l.Grid, l.Mag = r.Figures(circle)
	l.GMA = w.ownGMA(r)
	if row.HasEnd {
		l.EndHeight = fmt.Sprintf("%.0f m", row.EndM)
	}
	if r.GroundM > 0 && r.GroundM < mostCountedM {
		l.Paces = pace.InHundreds(r.GroundM, row.Per100m(w.p.Party))
	}
	l.Notes = notesOf(row.Cautions(), row.Met)
	for _, c := range caution.OfGrade(row.Cautions(), caution.Stop) {
		l.Stops, l.Why = append(l.Stops, c.Short()), append(l.Why, c.Text())
	}
	return l
}

// ownGMA is the GMA by which a row closes, where it is another than that of the heading.
func (w writer) ownGMA(r leg.Reading) string {
	if own := r.Closed(w.compass.Circle).GMA; r.HasMagnetic && own != w.heading {
		return "GMA " + own + " here"
	}
	return ""
}

// riseWords write a climb or descent with its sign, "" where there is none.
func riseWords(sign string, r leg.Rise) string {
	if !r.Known() {
		return sign + "?"
	}
	if math.Round(r.M) == 0 {
		return ""
	}
	return fmt.Sprintf("%s%.0f m", sign, r.M)
}

// minutesWords write a walking time without rests, see leg.TimeWords.
func minutesWords(row leg.Row) string {
	switch {
	case row.Time > 0:
		return leg.TimeWords(row.Time, row.ClimbKnown())
	case caution.Has(row.TimeCautions, caution.TooMuch):
		return "too long"
	}
	return "no time"
}

// latestToLeave stands before the latest time to leave a mark by.
const latestToLeave = "latest time to leave "

// turnBack says until when the mark may be left that leg n begins at, with what speaks against
// that; "" without an escape there.
func (w writer) turnBack(n int) string {
	for _, s := range w.judged.Stages {
		if s.Leg != n {
			continue
		}
		var words []string
		if !s.TurnBack.IsZero() {
			words = append(words, latestToLeave+clock(s.TurnBack)+", counted back from "+s.OffBy.Words())
		}
		for _, c := range s.Cautions {
			if ofTurnBack(c) {
				words = append(words, lead(c)+c.Short())
			}
		}
		if e, ok := w.chosenAt(s); ok && !s.TurnBack.IsZero() && e.Stopped() {
			words = append(words, "STOP, do not rely on it: "+strings.Join(shorts(e.Cautions), ", "))
		}
		return strings.Join(words, "; ")
	}
	return ""
}

func lead(c caution.Caution) string {
	if c.Stop() {
		return "STOP: "
	}
	return ""
}

// shorts are the stops of a list in few words.
func shorts(list []caution.Caution) []string {
	return caution.Shorts(caution.OfGrade(list, caution.Stop))
}

func clock(t time.Time) string { return t.Format("15:04") }
