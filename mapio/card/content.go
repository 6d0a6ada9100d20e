package card

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/paper"
	"legwright/mapio/planfile"
)

// Source is what papers are made of.
type Source struct {
	Reader *leg.Reader // over the plan's terrain
	Saved  time.Time   // when the plan was saved as it is; zero where it was not
	File   string      // the plan's file, which names a plan without a title; "" for none
	Omit   []string    // the names of escapes that are left out, such as E03-1
}

// Content is what the papers of a plan say, in words.
type Content struct {
	Title  string // the party's name for the day
	Date   string // "28 November 2026", or that none is set
	Number string // of the plan
	Saved  string // "saved 27 November 2026, 20:15 GMT", or "not saved"
	Sheets string // how far the sheets can be trusted

	Stops    []string // what every page carries, the gravest first; never empty
	Cautions []string // sentences: every stop, and what speaks against the whole plan
	More     []string // sentences: what speaks against single legs and escapes and stands in no row
	Left     string   // which escapes were left out, "" for none

	GMA     string // "GMA 2° east: grid to magnetic, take off 2"
	Housing string // which compass SET is for
	Error   string // what the compass adds to each ±, "" for nothing
	Sunset  string
	Timing  string // method, pace and stops
	Pacing  string // double paces to 100 m

	Legs      []Leg
	AtEnd     []Escape // that begin at the end of the route
	LeaveEnd  string   // until when it may be left, as Leg.TurnBack
	Off       []Escape // that begin at none of its marks
	Say       []Spoken // marks with an escape, and havens
	Emergency []string // what the plan knows, and lines to fill in: those end in a colon

	Route      []Passed    // for somebody who does not navigate
	Out        []ComingOut // by escapes
	SheetPages []SheetPage

	clock   planClock
	grids   string // of the references
	flat    bool   // the climb of a leg is not known
	pace    Figures
	setHead string // head of the column SET
	route   []paper.Stretch
	made    time.Time
}

// PlanningAid stands on every card.
const PlanningAid = "Planning aid only. Check every bearing against the map; ground, weather, local rules and qualified leaders overrule this paper."

// Of says what the papers of a plan say. Errors: *Dangerous, ErrNoLegs, *Unknown for an escape to
// leave out, and those of a leg that cannot be read.
func Of(s Source) (*Content, error) {
	w, c, err := begun(s)
	if err == nil {
		err = readable(w.rows, w.judged)
	}
	if err != nil {
		return nil, err
	}
	p, rows := w.p, w.rows
	c.GMA, w.heading = w.gma()
	c.Sheets, c.Housing, c.Error, c.Sunset = w.sheets(), w.housing(), sentence(leg.CompassWords(w.compass)), w.r.SunsetWords()
	c.Timing, c.Pacing, c.Say, c.Emergency = timing(p), pacing(p.Party), w.spoken(), w.emergency()
	c.pace, c.setHead, c.route = PaceTable(p.Party), w.setHead(), routeOf(rows)
	for i, row := range rows {
		c.Legs = append(c.Legs, w.leg(i+1, row))
		c.flat = c.flat || !row.ClimbKnown()
	}
	c.AtEnd, c.LeaveEnd, c.Off = w.escapesAt(len(rows)+1), w.turnBack(len(rows)+1), w.escapesAt(0)
	c.Route, c.Out, c.clock, c.grids = w.passed(), w.comingOut(), w.planClock(), w.grids()
	return c, nil
}

// OfSheets says what the pages on the sheets of a plan say, which need no route and offer no way
// off. Errors: *Unknown for an escape to leave out.
func OfSheets(s Source) (*Content, error) {
	_, c, err := begun(s)
	return c, err
}

// begun is what stands on every paper, and the pages on the sheets.
func begun(s Source) (writer, *Content, error) {
	p := s.Reader.Plan()
	judged, err := without(escape.Of(s.Reader), s.Omit)
	if err != nil {
		return writer{}, nil, err
	}
	number, err := planfile.Number(p)
	if err != nil {
		return writer{}, nil, err
	}
	w := writer{p: p, r: s.Reader, compass: p.Party.Compass, judged: judged, rows: s.Reader.Legs()}
	c := &Content{Title: titled(p.Title, s.File), Date: dateWords(p.Date), Number: number, Saved: savedWords(s.Saved), Left: leftOut(s.Omit), SheetPages: w.sheetPages(), made: s.Saved}
	c.Stops, c.Cautions, c.More = w.speakAgainst()
	return w, c, nil
}

// writer writes the words of one plan.
type writer struct {
	p       *plan.Plan
	r       *leg.Reader
	compass plan.Compass
	judged  escape.Judged
	rows    []leg.Row
	heading string // GMA of the heading
}

// sentence puts a full stop behind a text that is not empty and has none.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.TrimSuffix(text, ".") + "."
}

func dateWords(d plan.Date) string {
	if d.IsZero() {
		return "no date set"
	}
	return d.Words()
}

func titled(title, file string) string {
	switch {
	case title != "":
		return title
	case file != "":
		file = filepath.Base(file)
		return strings.TrimSuffix(file, filepath.Ext(file))
	}
	return "untitled plan"
}

// savedWords say when the plan was saved, by the clock of the time.
func savedWords(at time.Time) string {
	if at.IsZero() {
		return "not saved"
	}
	return "saved " + plan.DateOf(at).Words() + ", " + at.Format("15:04 MST")
}

// leftOut says which escapes are not on the paper.
func leftOut(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "Left out of this paper: " + strings.Join(names, ", ") + "."
}

// sheets say how far each sheet can be trusted.
func (w writer) sheets() string {
	var out []string
	for _, s := range w.p.Sheets {
		out = append(out, sheetWords(w.r, s.ID))
	}
	return strings.Join(out, " ")
}

// sheetWords name a sheet and say how far it can be trusted.
func sheetWords(r *leg.Reader, id plan.ID) string {
	words := "not calibrated"
	if _, err := r.CalibrationOf(id); err == nil {
		words = "unchecked"
		if v := r.Verdict(id); v.Checked {
			words = fmt.Sprintf("checked to ± %.0f m by %s", v.WithinM, v.By)
		}
	}
	return "Sheet " + r.Plan().SheetName(id) + ": " + words + "."
}
