package ledger

import (
	"fmt"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/lettering"
	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/terrain"
	"legwright/app/units"
)

// cell is what a cell shows: a text and a second line in smaller letters.
type cell struct{ text, under string }

// shown is what the cells of a row are made from.
type shown struct {
	leg.Row
	number int // of the leg, from 1
	plan   *plan.Plan
}

// circle is the graduation that the figures are written in.
func (s shown) circle() units.Circle { return s.plan.Party.Compass.Circle }

// style is how the cells of a column are written.
type style struct {
	figure bool // set to the right
	note   bool // free text
	bold   bool
	stops  bool // in the colour of a fault if nobody may walk on the leg
	ref    bool // a grid reference on the second line: cut, it would be that of another square
	ground bool // the profile is drawn in the cell
}

// column is one column of the ledger.
type column struct {
	head        string
	want, least float32 // widths: where there is room, and the narrowest
	style       style
	field       session.Field // what typing into a cell changes; "" if it is calculated
	cell        func(shown) cell
	off         func(wayOff) cell // of an escape; nil for an empty cell
	widest      []cell            // what the narrowest width holds whole
}

// seenWhole is the width from which all columns are seen at once: that of the ledger
// in a window 1552 wide. The narrowest widths together are no wider, unless a reference
// needs more than one of the British grid does.
const seenWhole = float32(1223)

// movedNote is the width of a note where the table moves sideways: with room for
// a few words, for nothing is gained by less.
const movedNote = float32(160)

// movedEnd is the least of the ends of a leg there: with room for a name.
const movedEnd = float32(132)

// columns returns the columns from left to right. The first stays in sight when the
// others move sideways; those that matter most on the hill come next, for a narrow
// window shows them without moving.
func columns() []column {
	figure, magnetic := style{figure: true}, style{figure: true, bold: true, stops: true}
	return []column{
		{numbers, 50, 48, style{bold: true, stops: true}, "", number, offName, []cell{{"199", "STOP"}}},
		{"from", 150, 114, style{ref: true}, session.FieldFrom, from, offFrom, []cell{{"", "NW 88888 88888"}}},
		{"to", 150, 114, style{ref: true}, session.FieldTo, to, offTo, []cell{{"", "NW 88888 88888"}}},
		{"grid", 72, 72, style{figure: true, stops: true}, session.FieldGrid, gridBearing, nil, []cell{{"6390 mil", "± 3200 mil"}, {"359.5°", "± 180°"}}},
		{"magnetic", 76, 74, magnetic, session.FieldMagnetic, magneticBearing, nil, []cell{{"6390 mil", "± 3200 mil"}, {"399 gon", ""}}},
		{"distance", 96, 83, figure, session.FieldDistance, distance, offDistance, []cell{{"912\u2009400 m", "± 120\u2009000 m"}}},
		{"climb", 76, 68, figure, session.FieldClimb, climb, offClimb, []cell{{"+1909", "−1909 m"}, {"?", "no terrain"}, {"–", "uncounted"}}},
		{"profile", 120, 64, style{figure: true, ground: true}, "", ground, func(w wayOff) cell { return groundOf(w.profile) }, []cell{{"?", "no terrain"}}},
		{"time", 91, 87, figure, "", walking, offTime, []cell{{"12 h 45+", "run: 12 h 45+"}, {"too long", ""}, {"none", ""}}},
		{"clock", 72, 69, figure, "", clock, offClock, []cell{{"23:45+", "day 2 dark"}, {"23:45", "or later"}}},
		{"paces", 112, 108, figure, "", paces, offCompass, []cell{{"99×100 + 199", "± 5000 m"}}},
		{"back", 102, 100, figure, "", back, offStage, []cell{{"359.5° grid", ""}, {"6390 mil grid", "6390 mil mag"}}},
		{"tick-off feature", 190, 91, style{note: true}, session.FieldTickOff, func(s shown) cell { return cell{s.TickOff, ""} }, offCautions, nil},
		{"catching feature", 190, 96, style{note: true}, session.FieldCatching, func(s shown) cell { return cell{s.Catching, ""} }, offEnd, nil},
		{"note", 190, 35, style{note: true}, session.FieldNote, func(s shown) cell { return cell{s.Note, ""} }, offTitle, nil},
	}
}

// holding makes columns wide enough for the longest reference in some rows.
func holding(cols []column, rows []row, l *lettering.Setter) []column {
	for i := range cols {
		c := &cols[i]
		if !c.style.ref {
			continue
		}
		for _, r := range rows {
			c.least = max(c.least, l.Width(r.cell(i).under, small())+2*cellPad+1)
		}
		c.want = max(c.want, c.least)
	}
	return cols
}

// columnOf returns the place of the column that changes a field, or −1.
func columnOf(cols []column, f session.Field) int {
	for i, c := range cols {
		if c.field == f {
			return i
		}
	}
	return -1
}

// number marks a leg that nobody may walk on.
func number(s shown) cell {
	if s.Err != nil || s.Reading.Stopped() {
		return cell{fmt.Sprint(s.number), "STOP"}
	}
	return cell{fmt.Sprint(s.number), ""}
}

func from(s shown) cell { return cell{s.From, s.Reading.FromRef} }

// to writes the end of the leg with its reference, and with its height where terrain has it.
func to(s shown) cell {
	if !s.HasEnd {
		return cell{s.To, s.Reading.ToRef}
	}
	return cell{s.To, fmt.Sprintf("%s, %.0f m", s.Reading.ToRef, s.EndM)}
}

func gridBearing(s shown) cell {
	return cell{s.Reading.Closed(s.circle()).Grid, s.circle().Half(s.Reading.BearingSigma)}
}

func magneticBearing(s shown) cell {
	if !s.Reading.HasMagnetic {
		return cell{"none", ""}
	}
	return cell{s.Reading.Closed(s.circle()).Magnetic, s.circle().Half(s.Reading.MagneticSigma)}
}

func distance(s shown) cell {
	length, half, ok := strings.Cut(units.Metres(s.Reading.GroundM, s.Reading.DistanceSigmaM), " ± ")
	if !ok {
		return cell{length, ""}
	}
	return cell{length, "± " + half + " m"}
}

// climb writes the metres climbed, and below them those descended. Where the plan's terrain does
// not reach, and nobody counted, it says so.
func climb(s shown) cell {
	if !s.Climb.Known() && !s.Descent.Known() {
		if caution.Has(s.HeightCautions, caution.NoTerrain) {
			return cell{"?", "no terrain"}
		}
		return cell{"–", "uncounted"}
	}
	return cell{"+" + metres(s.Climb), "−" + metres(s.Descent) + " m"}
}

func ground(s shown) cell {
	if len(s.plan.Terrain) == 0 {
		return cell{"–", "no terrain"}
	}
	return groundOf(s.Profile)
}

// groundOf says why no profile is drawn, or that it has gaps: most cells hold the picture
// alone.
func groundOf(p terrain.Profile) cell {
	_, _, some := p.Extremes()
	switch {
	case some && p.Whole():
		return cell{}
	case some:
		return cell{"", "gaps"}
	}
	return cell{"?", "no terrain"}
}

// metres writes a rise without its unit, a question mark where it is not known.
func metres(r leg.Rise) string {
	if !r.Known() {
		return "?"
	}
	return fmt.Sprintf("%.0f", r.M)
}

// walking writes the walking time, or that there is none, and running below it. What leaves
// out climb has a plus: running on a leg that climbs, and both where the climb is not known.
func walking(s shown) cell {
	c := cell{text: "none"}
	switch {
	case s.Time > 0:
		c.text = atLeast(s.Time, !s.ClimbKnown())
	case caution.Has(s.TimeCautions, caution.TooMuch):
		c.text = "too long"
	}
	if s.Time > 0 && s.RunTime > 0 {
		c.under = "run: " + atLeast(s.RunTime, s.Climb.M > 0 || !s.ClimbKnown())
	}
	return c
}

// clock writes when the leg ends, and below it whether it may be later, another day or dark.
func clock(s shown) cell {
	words := s.ClockWords(s.plan.Date)
	if words == "" {
		return cell{"–", ""}
	}
	text, day, another := strings.Cut(words, " (")
	text, orLater := strings.CutSuffix(text, leg.OrLaterWords)
	var under []string
	if another {
		under = append(under, strings.TrimSuffix(day, ")"))
	}
	switch s.Light {
	case light.Twilight:
		under = append(under, "dusk")
	case light.Dark:
		under = append(under, "dark")
	}
	switch {
	case orLater && len(under) > 0:
		text += "+"
	case orLater:
		under = append(under, strings.TrimSpace(leg.OrLaterWords))
	}
	return cell{text, strings.Join(under, " ")}
}

// mostCountedM is the length from which nobody counts a leg off.
const mostCountedM = 9990

// paces writes the length as it is counted off, in hundreds of metres and double paces,
// and how far that may be out (95 %).
func paces(s shown) cell {
	party := s.plan.Party
	per := s.Per100m(party)
	n, sigma := s.Reading.Paces(party, per)
	switch {
	case n <= 0:
		return cell{}
	case s.Reading.GroundM >= mostCountedM:
		return cell{"–", ""}
	}
	c := cell{text: strings.NewReplacer(" × ", "×", " m", "").Replace(pace.InHundreds(s.Reading.GroundM, per))}
	if _, half, ok := strings.Cut(units.Metres(s.Reading.GroundM, s.Reading.GroundM*sigma/n), " ± "); ok {
		c.under = "± " + half + " m"
	}
	return c
}

func back(s shown) cell {
	way := s.Reading.ClosedBack(s.circle())
	if !s.Reading.HasMagnetic {
		return cell{way.Grid + " grid", ""}
	}
	return cell{way.Grid + " grid", way.Magnetic + " mag"}
}

// spans returns where each column begins and how wide it is in a table of that width:
// as they want it, with spare room for those of text, or less, down to the narrowest.
// all is the width of the columns together.
func spans(cols []column, width float32) (at, wide []float32, all float32) {
	var want, least, text float32
	for _, c := range cols {
		want, least = want+c.want, least+c.least
		if !c.style.figure {
			text += c.want
		}
	}
	at, wide = make([]float32, len(cols)), make([]float32, len(cols))
	for i, c := range cols {
		switch {
		case width >= want && c.style.figure:
			wide[i] = c.want
		case width >= want:
			wide[i] = c.want + (width-want)*c.want/text
		case width > least:
			wide[i] = c.least + (c.want-c.least)*(width-least)/(want-least)
		case width < least && c.style.note:
			wide[i] = movedNote
		case width < least && c.style.ref:
			wide[i] = max(movedEnd, c.least)
		default:
			wide[i] = c.least
		}
		at[i] = all
		all += wide[i]
	}
	return at, wide, all
}
