package plan

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// Bounds of a plan. They are generous for people and keep a broken file from
// filling the memory.
const (
	MaxName        = 120     // characters of a title or name
	MaxNote        = 4000    // characters of a note
	MaxSheets      = 16      // sheets of one plan
	MaxPoints      = 500     // control points of one sheet
	MaxEvidence    = 100     // positions that check a sheet, each compared with every control point
	MaxMarks       = 20_000  // marks
	MaxLegs        = 5_000   // legs
	MaxSights      = 5_000   // sights
	MaxTracks      = 200     // tracks
	MaxShapes      = 1_000   // hazards, and as many havens, lines and areas of ground
	MaxVertices    = 20_000  // points of all of them together
	MaxGrids       = 64      // grids that its sheets, marks and ends are on
	MaxTrackPoints = 500_000 // points of all tracks together
	MaxPixels      = 100_000 // width or height of a picture
	maxCoordM      = 1e8
)

// Invalid says what in a plan cannot be, in words for people.
type Invalid struct {
	Where  string // "mark “Cairn”", "leg 3"
	Reason string // "the name is longer than 120 characters"
}

func (e *Invalid) Error() string { return e.Where + ": " + e.Reason }

// Validate checks the whole plan: counts, lengths of texts, finite numbers,
// known grids, unique IDs and ends that stand on marks that exist. The error
// is an *Invalid for the first thing found.
func (p *Plan) Validate() error {
	if err := p.validCounts(); err != nil {
		return err
	}
	c := &checking{grids: p.badGrids(), ids: map[ID]bool{}, marks: p.Positions()}
	if err := p.validHead(); err != nil {
		return err
	}
	if err := p.validSheets(c.grids); err != nil {
		return err
	}
	if err := p.validTerrain(); err != nil {
		return err
	}
	for _, l := range lists() {
		if err := l.validate(p, c); err != nil {
			return err
		}
	}
	return nil
}

// badGrids returns what is wrong with the grids of the plan, by code. It looks each
// one up once, because parsing a definition is slow.
func (p *Plan) badGrids() map[geodesy.Code]string {
	bad := map[geodesy.Code]string{}
	for _, code := range p.Grids() {
		if _, err := geodesy.Lookup(code); err != nil {
			bad[code] = err.Error()
		}
	}
	return bad
}

func (p *Plan) validCounts() error {
	points := 0
	for _, t := range p.Tracks {
		points += len(t.Points)
	}
	if len(p.Sheets) > MaxSheets {
		return tooMany("sheets", len(p.Sheets), MaxSheets)
	}
	for _, l := range lists() {
		if k := l.info(); l.count(p) > k.Most {
			return tooMany(k.Many, l.count(p), k.Most)
		}
	}
	if n := len(p.Grids()); n > MaxGrids {
		return tooMany("grids", n, MaxGrids)
	}
	if points > MaxTrackPoints {
		return tooMany("track points", points, MaxTrackPoints)
	}
	legs := 0
	for _, e := range p.Escapes {
		legs += len(e.Legs)
	}
	if legs > MaxEscapeLegs {
		return tooMany("escape legs", legs, MaxEscapeLegs)
	}
	if n := p.countVertices(); n > MaxVertices {
		return tooMany("points of hazards, havens, lines and areas", n, MaxVertices)
	}
	return nil
}

func tooMany(what string, got, most int) error {
	return &Invalid{"the plan", fmt.Sprintf("it has %d %s; at most %d are allowed", got, what, most)}
}

func (p *Plan) validHead() error {
	if r := badName(p.Title); r != "" {
		return &Invalid{"the title", r}
	}
	if !p.Date.IsZero() && !p.Date.Valid() {
		return &Invalid{"the date", (&BadDate{p.Date.String()}).Error()}
	}
	if err := firstOf("the outing", p.Snow.bad(), p.badOverSteep()); err != nil {
		return err
	}
	if err := p.Timing.Validate(); err != nil {
		return err
	}
	return p.Party.Validate()
}

// Validate checks the party's figures. The error is an *Invalid.
func (p Party) Validate() error {
	if c := p.Compass.Circle; c < units.WholeDegrees || int(c) >= len(units.Circles()) {
		return &Invalid{"the party", fmt.Sprintf("the compass circle %d is not known", c)}
	}
	counts, turn, unit := p.Counts(), p.Compass.Circle.PerTurn(), p.Compass.Circle.Unit()
	for _, c := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"the walking speed", p.SpeedKmh, 0.5, 15, "km/h"},
		{"the running speed", p.RunSpeedKmh, 0.5, 30, "km/h"},
		{"the number of double paces per 100 m", p.PacesPer100m, 20, 200, ""},
		{"the number of double paces per 100 m uphill", counts.Up, 20, 200, ""},
		{"the number of double paces per 100 m downhill", counts.Down, 20, 200, ""},
		{"the ± of pacing", 200 * p.PaceSigma, 0, 100, "%"}, // ± is two σ
		{"the ± of the compass", 2 * p.Compass.Sigma.Deg() / 360 * turn, 0, turn / 4, unit},
		{"the angle of the housing's adjustment", p.Compass.SetTo.Deg() / 360 * turn, -turn / 2, turn / 2, unit},
	} {
		if !(c.got >= c.min-1e-9 && c.got <= c.max+1e-9) { // NaN fails too
			return &Invalid{"the party", strings.TrimSpace(
				fmt.Sprintf("%s is %.6g, but must be between %g and %g %s", c.what, c.got, c.min, c.max, c.unit))}
		}
	}
	return nil
}

// checking is what the check of a plan has to look up.
type checking struct {
	grids map[geodesy.Code]string // what is wrong with a grid
	ids   map[ID]bool             // seen so far
	marks Positions
}

// parts checks what things of every kind have in common.
func (c *checking) parts(where string, x parts) error {
	reasons := []string{badID(*x.id, c.ids), badName(*x.name)}
	if x.from != nil {
		reasons = append(reasons, badName(*x.from))
	}
	for _, note := range x.notes {
		reasons = append(reasons, badNote(*note))
	}
	for _, e := range x.ends {
		reasons = append(reasons, badEnd(*e, c.marks, c.grids))
	}
	for _, pos := range x.positions {
		reasons = append(reasons, badPosition(*pos, c.grids))
	}
	return firstOf(where, reasons...)
}

// called names a part for people: by its name, or by its number from 1.
func called(what string, i int, name string) string {
	if name == "" || badName(name) != "" {
		return fmt.Sprintf("%s %d", what, i+1)
	}
	return fmt.Sprintf("%s “%s”", what, name)
}

// firstOf returns the first reason that is not empty as an error.
func firstOf(where string, reasons ...string) error {
	for _, r := range reasons {
		if r != "" {
			return &Invalid{where, r}
		}
	}
	return nil
}

func badID(id ID, seen map[ID]bool) string {
	switch {
	case id == "":
		return "it has no id"
	case len(id) > 64 || !utf8.ValidString(string(id)):
		return "its id is longer than 64 bytes or not text"
	case seen[id]:
		return fmt.Sprintf("its id %q is used twice", id)
	}
	seen[id] = true
	return ""
}

func badName(s string) string { return badText(s, "name", MaxName, false) }

func badNote(s string) string { return badText(s, "note", MaxNote, true) }

func badText(s, what string, limit int, lines bool) string {
	switch {
	case !utf8.ValidString(s):
		return "the " + what + " is not valid text"
	case utf8.RuneCountInString(s) > limit:
		return fmt.Sprintf("the %s is longer than %d characters", what, limit)
	case strings.ContainsFunc(s, func(r rune) bool { return forbidden(r, lines) }):
		return "the " + what + " contains a control character"
	}
	return ""
}

// forbidden reports whether a text may not hold r; lines says that it may have
// several lines.
func forbidden(r rune, lines bool) bool {
	return unicode.IsControl(r) && !(lines && (r == '\n' || r == '\t'))
}

// MendText returns a text with every control character, which no text of a
// plan may hold, shown as U+FFFD; lines says that line ends and tabs may stay.
// It reports whether there was one.
func MendText(s string, lines bool) (string, bool) {
	if !strings.ContainsFunc(s, func(r rune) bool { return forbidden(r, lines) }) {
		return s, false
	}
	return strings.Map(func(r rune) rune {
		if forbidden(r, lines) {
			return unicode.ReplacementChar
		}
		return r
	}, s), true
}

func badEnd(e End, marks Positions, grids map[geodesy.Code]string) string {
	if e.Mark != "" {
		if _, ok := marks.marks[e.Mark]; !ok {
			return fmt.Sprintf("it ends at a mark %q that is not in the plan", e.Mark)
		}
		return ""
	}
	if r := badLetter(e.Letter); r != "" {
		return r
	}
	return badPosition(e.Position, grids)
}

func badPosition(p Position, grids map[geodesy.Code]string) string {
	switch {
	case !finite(p.Grid.E, p.Grid.N) || math.Abs(p.Grid.E) > maxCoordM || math.Abs(p.Grid.N) > maxCoordM:
		return fmt.Sprintf("its coordinates %g %g are not on any grid", p.Grid.E, p.Grid.N)
	case !finite(p.At.Col, p.At.Row, p.PickSigmaPx, p.SigmaM, p.SquareM) || p.PickSigmaPx < 0 || p.SigmaM < 0 || p.SquareM < 0:
		return "its picture point or its uncertainty is not a usable number"
	case p.Origin < Picked || p.Origin > Imported:
		return fmt.Sprintf("its origin %d is not known", p.Origin)
	}
	if r := badText(p.Text, "reference", MaxName, false); r != "" {
		return r
	}
	if r := badText(p.Cautions, "caution", MaxNote, false); r != "" {
		return r
	}
	if p.Code == "" {
		return "it names no grid"
	}
	return grids[p.Code]
}

func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
