package card

import (
	"fmt"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
)

// gma is the GMA of the heading in words, and its figure alone: that of the first leg that has
// one, rounded.
func (w writer) gma() (words, figure string) {
	for _, row := range w.rows {
		if row.Reading.HasMagnetic {
			x := w.compass.Circle.Close(0, row.Reading.GMA)
			return "GMA " + x.GMA + ": " + x.Rule, x.GMA
		}
	}
	for _, row := range w.rows {
		for _, c := range row.Reading.Cautions {
			if c.Code == caution.NoDate || c.Code == caution.OutsideModel || c.Code == caution.BlackoutZone {
				return "No GMA. " + c.Text(), ""
			}
		}
	}
	return "No GMA: there is no magnetic bearing.", ""
}

// housing says which compass the figures to set are for.
func (w writer) housing() string {
	if !w.compass.Set && w.heading == "" {
		return "SET is for an unset housing, and cannot be worked out without the GMA"
	}
	if !w.compass.Set {
		return "SET is for an unset housing; if yours is set to the GMA above, use the grid column"
	}
	return "SET is for a housing set to " + leg.SetToWords(w.compass) + "; if yours is unset, use the magnetic column; if it is set to anything else, use neither"
}

// setHead is the head of the column of figures to set: a page may lose its first.
func (w writer) setHead() string {
	if !w.compass.Set {
		return "SET mag"
	}
	return "SET (" + unbroken(leg.SetToWords(w.compass)) + ")"
}

// pacing says the double paces to 100 m that the party counts.
func pacing(party plan.Party) string {
	c := party.Counts()
	words := fmt.Sprintf("%.0f double paces to 100 m", c.Flat)
	if c.Up != c.Flat || c.Down != c.Flat {
		words += fmt.Sprintf(" on the flat, %.0f uphill, %.0f downhill", c.Up, c.Down)
	}
	return words
}

// timing says by which rule the times are worked out, at which pace, and how many stops are
// counted.
func timing(p *plan.Plan) string {
	words := p.TimingWords()
	if m := p.Timing.Method; m == pace.NaismithMetric {
		words = strings.Replace(words, m.Words(), fmt.Sprintf("%s at %g km/h", m.Words(), p.Party.SpeedKmh), 1)
	}
	return words
}

// lightWords say how dark it is, "" by day.
func lightWords(p light.Phase) string {
	switch p {
	case light.Twilight:
		return "dusk"
	case light.Dark:
		return "dark"
	}
	return ""
}

// emergency is what the plan knows that helps in an emergency, and lines to fill in by hand.
// No number is assumed from a country.
func (w writer) emergency() []string {
	var out []string
	for _, h := range w.p.Havens {
		if h.Kind == plan.SignalHaven {
			words := "Phone signal: " + w.p.TitleOf(h.ID) + refOf(w.r, h.Points[0])
			out = append(out, joined("; ", words, caution.Lead(w.r.CautionsOf(h.Points[0]), caution.All)))
		}
	}
	return append(out, "Emergency number (fill in before you set off):", "Person at home, and when to act (fill in):")
}

// refOf is the reference of a position behind a comma, "" where it has none.
func refOf(r *leg.Reader, pos plan.Position) string {
	ref, err := r.Reference(pos)
	if err != nil {
		return ""
	}
	return ", " + ref
}
