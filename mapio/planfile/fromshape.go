package planfile

import (
	"fmt"
	"strings"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// reader turns shapes into a plan and remembers the first thing that cannot
// be, and which texts had to be mended.
type reader struct {
	err    error
	mended []string
	grids  map[grid]geodesy.Code
}

// grid is a grid as a file describes it.
type grid struct {
	epsg       int
	definition string
}

// line reads a text of one line. Control characters, which other programs may
// have left there, are replaced and told: a walk is not refused for them.
func (r *reader) line(what, text string) string { return r.text(what, text, false) }

// lines reads a text that may have several lines.
func (r *reader) lines(what, text string) string { return r.text(what, text, true) }

func (r *reader) text(what, text string, lines bool) string {
	out, mended := plan.MendText(text, lines)
	if mended {
		r.mended = append(r.mended, fmt.Sprintf("%s %q", what, shortened(out)))
	}
	return out
}

// shortened cuts a text to what fits into a sentence.
func shortened(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// words says which texts were mended, or nothing.
func (r *reader) words() []string {
	const named = 5
	n := len(r.mended)
	if n == 0 {
		return nil
	}
	list := strings.Join(r.mended[:min(n, named)], ", ")
	if n > named {
		list += fmt.Sprintf(" and %d more", n-named)
	}
	return []string{"control characters in the file were replaced by \ufffd: " + list}
}

func (r *reader) fail(format string, args ...any) {
	if r.err == nil {
		r.err = &Broken{fmt.Sprintf(format, args...)}
	}
}

func fromShape(s planShape) (*plan.Plan, error) {
	r := reader{grids: map[grid]geodesy.Code{}}
	p := &plan.Plan{
		Title: r.line("title", s.Title), Date: r.date(s.Date), Party: r.party(s.Party), Extra: s.extra,
		Sheets: list(s.Sheets, r.sheet), Marks: list(s.Marks, r.mark),
		Legs: list(s.Legs, r.leg), Sights: list(s.Sights, r.sight), Tracks: list(s.Tracks, r.track),
	}
	if r.err != nil {
		return nil, r.err
	}
	p.Mended = r.words()
	return p.FillEnds(), nil
}

// list maps a list; an empty one becomes nil.
func list[A, B any](in []A, f func(A) B) []B {
	if len(in) == 0 {
		return nil
	}
	return each(in, f)
}

func (r *reader) date(text string) plan.Date {
	if text == "" {
		return plan.Date{}
	}
	d, err := plan.ParseDate(text)
	if err != nil {
		r.fail("%v", err)
	}
	return d
}

func (r *reader) party(s *partyShape) plan.Party {
	p := plan.DefaultParty()
	if s == nil {
		return p
	}
	p.SpeedKmh, p.RunSpeedKmh, p.PacesPer100m, p.PaceSigma = s.SpeedKmh, s.RunSpeedKmh, s.PacesPer100m, s.PaceSigma
	if c := s.Compass; c != nil {
		p.Compass = plan.Compass{
			Set: c.Set, SetTo: units.Degrees(c.SetToDeg), Sigma: units.Degrees(c.SigmaDeg), Circle: r.circle(c.Circle),
		}
	}
	return p
}

func (r *reader) circle(token string) units.Circle {
	for _, c := range units.Circles() {
		if circleToken(c) == token {
			return c
		}
	}
	if token != "" {
		r.fail("compass circle %q is not known", token)
	}
	return units.WholeDegrees
}

func (r *reader) sheet(s sheetShape) plan.Sheet {
	out := plan.Sheet{
		ID: plan.ID(s.ID), Picture: s.Picture, Width: s.Width, Height: s.Height, SHA256: s.SHA256, DPI: s.DPI, Focal: s.Focal,
		Page: plan.Page{Number: s.Page, DPI: s.PageDPI},
		Code: r.code(s.EPSG, s.Definition), Medium: r.medium(s.Medium), World: r.world(s.World), WorldM: s.WorldM, Points: list(s.Points, r.point), Extra: s.extra,
		Evidence: list(s.Evidence, r.evidence), SlipChosen: s.SlipChosen, WasChecked: s.WasChecked, FileCautions: r.line("caution", s.FileCautions),
	}
	return out
}

func (r *reader) evidence(s evidenceShape) calib.Evidence {
	out := calib.Evidence{
		Source: calib.EvidenceSource(s.Source), At: calib.PicturePt{Col: s.Col, Row: s.Row}, SigmaPx: s.SigmaPx,
		Text: r.line("reference of evidence", s.Text), LatLon: s.LatLon, Ref: geodesy.Grid{E: s.E, N: s.N}, SigmaRefM: s.SigmaRefM,
		Sheet: s.Sheet, SheetSigmaPx: s.SheetSigmaPx, SquareM: s.SquareM,
	}
	if s.SheetCol != nil {
		out.SheetAt.Col = *s.SheetCol
	}
	if s.SheetRow != nil {
		out.SheetAt.Row = *s.SheetRow
	}
	return out
}

func (r *reader) point(c pointShape) calib.ControlPoint {
	return calib.ControlPoint{
		At: calib.PicturePt{Col: c.Col, Row: c.Row}, Ref: geodesy.Grid{E: c.E, N: c.N},
		Text: r.line("reference", c.Text), SigmaPx: c.SigmaPx, SigmaRefM: c.SigmaRefM, Source: calib.PointSource(c.Source),
	}
}

// code returns the code of a grid. Thousands of positions repeat the definition of
// their grid, so each definition is parsed once.
func (r *reader) code(epsg int, definition string) geodesy.Code {
	if definition == "" {
		return geodesy.EPSG(epsg)
	}
	key := grid{epsg, definition}
	code, known := r.grids[key]
	if !known {
		code = r.define(epsg, definition)
		r.grids[key] = code
	}
	return code
}

// define reads the definition of a grid, which must agree with the code beside it.
func (r *reader) define(epsg int, definition string) geodesy.Code {
	sys, err := geodesy.Define(definition)
	switch {
	case err != nil:
		r.fail("the definition of a grid: %v", err)
		return ""
	case epsg != 0 && sys.EPSG() != epsg:
		r.fail("a grid has both the code %d and the definition of another", epsg)
	}
	return sys.Code()
}

func (r *reader) medium(text string) calib.Medium {
	if text == "" {
		return calib.Scan
	}
	m, err := calib.ParseMedium(text)
	if err != nil {
		r.fail("%v", err)
	}
	return m
}

func (r *reader) world(m []float64) *[6]float64 {
	if len(m) == 0 {
		return nil
	}
	if len(m) != 6 {
		r.fail("a given matrix has %d numbers, and 6 are needed", len(m))
		return nil
	}
	return (*[6]float64)(m)
}

func (r *reader) position(s positionShape) plan.Position {
	p := plan.Position{
		Grid: geodesy.Grid{E: s.E, N: s.N}, Code: r.code(s.EPSG, s.Definition), Origin: r.origin(s.Origin), Sheet: plan.ID(s.Sheet),
		PickSigmaPx: s.PickSigmaPx, Text: r.line("reference", s.Text), SquareM: s.SquareM, LettersOf: plan.ID(s.LettersOf), Cautions: r.line("cautions", s.Cautions), SigmaM: s.SigmaM,
	}
	if p.Origin == plan.Picked {
		if s.Col == nil || s.Row == nil {
			r.fail("a picked position has no picture point")
			return p
		}
		p.At = calib.PicturePt{Col: *s.Col, Row: *s.Row}
	}
	if p.Origin == plan.Typed && p.SquareM > 0 && p.LettersOf == "" && p.Cautions == "" && plan.LettersLent(p.Text, p.Code, p.Grid) {
		p.Cautions = caution.Format([]caution.Caution{caution.Of(caution.LettersAstray)})
	}
	return p
}

func (r *reader) origin(text string) plan.Origin {
	for _, o := range []plan.Origin{plan.Picked, plan.Typed, plan.Imported} {
		if o.String() == text {
			return o
		}
	}
	r.fail("origin %q of a position is not known: picked, typed or imported", text)
	return plan.Typed
}

func (r *reader) mark(s markShape) plan.Mark {
	return plan.Mark{ID: plan.ID(s.ID), Name: r.line("mark", s.Name), Position: r.position(s.Position), Note: r.lines("note", s.Note), Import: r.line("import", s.Import)}
}

func (r *reader) end(s endShape) plan.End {
	e := plan.End{Mark: plan.ID(s.Mark), Letter: s.Letter}
	switch {
	case s.Mark == "" && s.Position == nil:
		r.fail("an end has neither a mark nor a position")
	case s.Mark == "":
		e.Position = r.position(*s.Position)
	}
	return e
}

func (r *reader) leg(s legShape) plan.Leg {
	return plan.Leg{
		ID: plan.ID(s.ID), From: r.end(s.From), To: r.end(s.To),
		Name: r.line("leg", s.Name), TickOff: r.lines("tick-off feature", s.TickOff), TooFar: r.lines("catching feature", s.TooFar),
		Note: r.lines("note", s.Note), Import: r.line("import", s.Import),
	}
}

func (r *reader) sight(s sightShape) plan.Sight {
	return plan.Sight{ID: plan.ID(s.ID), From: r.end(s.From), To: r.end(s.To), Name: r.line("sight", s.Name), Note: r.lines("note", s.Note)}
}

func (r *reader) track(s trackShape) plan.Track {
	return plan.Track{ID: plan.ID(s.ID), Name: r.line("track", s.Name), Hidden: s.Hidden, Import: r.line("import", s.Import), Points: list(s.Points, func(q [2]float64) geodesy.LatLon {
		return geodesy.DegLatLon(q[0], q[1])
	})}
}
