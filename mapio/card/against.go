package card

import (
	"slices"
	"strconv"
	"strings"

	"legwright/app/caution"
)

// speakAgainst returns what every page carries, each in few words; the sentences that stand before
// the legs: every stop, and what speaks against the whole plan; and those that stand behind them.
func (w writer) speakAgainst() (stops, whole, more []string) {
	if drafts := w.drafts(); len(drafts) > 0 {
		stops = append(stops, "DRAFT: "+strings.Join(drafts, ", "))
	}
	for _, x := range w.raised() {
		if !x.Stop() {
			if x.By == "" {
				whole = append(whole, x.Line())
			} else if !inRow(x.Code) {
				more = append(more, x.Line())
			}
			continue
		}
		lead := "STOP "
		if x.By == "" {
			lead = "STOP: "
		}
		whole = append(whole, lead+x.Line())
		if line := stopLine(x); x.Code != caution.EscapeDraft && !slices.Contains(stops, line) {
			stops = append(stops, line)
		}
	}
	sheets := w.r.SheetCautions()
	switch {
	case caution.Has(sheets, caution.Unchecked) || caution.Has(sheets, caution.Uncalibrated):
		stops = append(stops, "sheet unchecked")
	case len(stops) == 0:
		stops = []string{"Check every bearing against the map before you walk on it."}
	}
	return stops, append(whole, PlanningAid), more
}

// stopLine is a stop in few words, behind what raises it.
func stopLine(x caution.Raised) string {
	by := x.By
	if by == "" {
		by = x.Subject
	}
	if by != "" {
		by = " " + by
	}
	return "STOP" + by + ": " + x.Short()
}

// drafts are the names of the escapes that are not ticked.
func (w writer) drafts() (names []string) {
	for _, e := range w.judged.Escapes {
		if e.Draft {
			names = append(names, e.Name)
		}
	}
	return names
}

// raised gathers what speaks against legs, escapes, marks and sheets, each once with the legs
// and escapes that raise it, and without them where all do.
func (w writer) raised() []caution.Raised {
	var g caution.Gathering
	for i, row := range w.rows {
		g.Take(legName(i+1), row.Cautions()...)
	}
	for _, s := range w.judged.Stages {
		g.Take("", s.Cautions...)
	}
	for _, e := range w.judged.Escapes {
		g.Take(e.Name, e.Cautions...)
	}
	g.Take("", w.r.SheetCautions()...)
	g.Take("", w.r.GroundCautions()...)
	return g.Raised(w.byWords)
}

// byWords write what raises a caution: "legs 2, 5, E03-1", "" for everything.
func (w writer) byWords(names []string) string {
	var legs, escapes []string
	for _, name := range names {
		if n, is := strings.CutPrefix(name, legWord); is {
			legs = append(legs, n)
		} else {
			escapes = append(escapes, name)
		}
	}
	if len(legs) == len(w.rows) && len(escapes) == len(w.judged.Escapes) {
		return ""
	}
	var words []string
	switch {
	case len(legs) == len(w.rows) && len(legs) > 1:
		words = []string{"all legs"}
	case len(legs) == 1:
		words = []string{legWord + legs[0]}
	case len(legs) > 1:
		words = []string{"legs " + strings.Join(legs, ", ")}
	}
	if len(escapes) > 1 && len(escapes) == len(w.judged.Escapes) {
		escapes = []string{"all escapes"}
	}
	return strings.Join(append(words, escapes...), ", ")
}

const legWord = "leg "

func legName(n int) string { return legWord + strconv.Itoa(n) }
