package planfile

import (
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// The format's name and the newest version that is known.
const (
	formatName    = "legwright-plan"
	formatVersion = 1
)

// degrees returns an angle in degrees to 1e-9, so that it reads as it was
// typed and comes back the same however often it is written.
func degrees(a units.Angle) float64 { return math.Round(a.Deg()*1e9) / 1e9 }

func toShape(p *plan.Plan) planShape {
	s := planShape{
		Format: formatName, Version: formatVersion, Title: p.Title, extra: p.Extra, Party: partyToShape(p.Party),
		Sheets: each(p.Sheets, sheetToShape), Marks: each(p.Marks, markToShape),
		Legs: each(p.Legs, legToShape), Sights: each(p.Sights, sightToShape), Tracks: each(p.Tracks, trackToShape),
	}
	if !p.Date.IsZero() {
		s.Date = p.Date.String()
	}
	return s
}

// each maps a list; nothing becomes an empty list, not null.
func each[A, B any](list []A, f func(A) B) []B {
	out := make([]B, len(list))
	for i, v := range list {
		out[i] = f(v)
	}
	return out
}

func partyToShape(p plan.Party) *partyShape {
	c := p.Compass
	return &partyShape{
		Compass: &compassShape{
			Set: c.Set, SetToDeg: degrees(c.SetTo), SigmaDeg: degrees(c.Sigma), Circle: circleToken(c.Circle),
		},
		SpeedKmh: p.SpeedKmh, RunSpeedKmh: p.RunSpeedKmh, PacesPer100m: p.PacesPer100m, PaceSigma: p.PaceSigma,
	}
}

func sheetToShape(s plan.Sheet) sheetShape {
	out := sheetShape{
		ID: string(s.ID), Picture: s.Picture, Width: s.Width, Height: s.Height, SHA256: s.SHA256, DPI: s.DPI, Focal: s.Focal, Page: s.Page.Number, PageDPI: s.Page.DPI,
		EPSG: s.Code.EPSG(), Definition: definition(s.Code), Medium: s.Medium.String(), Points: each(s.Points, pointToShape), extra: s.Extra,
	}
	if s.World != nil {
		out.World = s.World[:]
	}
	out.WorldM, out.SlipChosen, out.WasChecked, out.FileCautions = s.WorldM, s.SlipChosen, s.WasChecked, s.FileCautions
	if len(s.Evidence) > 0 {
		out.Evidence = each(s.Evidence, evidenceToShape)
	}
	return out
}

func evidenceToShape(e calib.Evidence) evidenceShape {
	out := evidenceShape{
		Source: string(e.Source), Col: e.At.Col, Row: e.At.Row, SigmaPx: e.SigmaPx, Text: e.Text, LatLon: e.LatLon,
		E: e.Ref.E, N: e.Ref.N, SigmaRefM: e.SigmaRefM, Sheet: e.Sheet, SheetSigmaPx: e.SheetSigmaPx, SquareM: e.SquareM,
	}
	if e.Source == calib.FromSheet {
		out.SheetCol, out.SheetRow = &e.SheetAt.Col, &e.SheetAt.Row
	}
	return out
}

func pointToShape(c calib.ControlPoint) pointShape {
	return pointShape{
		Col: c.At.Col, Row: c.At.Row, E: c.Ref.E, N: c.Ref.N, Text: c.Text, SigmaPx: c.SigmaPx, SigmaRefM: c.SigmaRefM, Source: string(c.Source),
	}
}

// definition is what the file says of a grid that has no EPSG code.
func definition(c geodesy.Code) string {
	if c.Defined() {
		return string(c)
	}
	return ""
}

func positionToShape(p plan.Position) positionShape {
	out := positionShape{
		EPSG: p.Code.EPSG(), Definition: definition(p.Code), E: p.Grid.E, N: p.Grid.N, Origin: p.Origin.String(), Sheet: string(p.Sheet),
		PickSigmaPx: p.PickSigmaPx, Text: p.Text, SquareM: p.SquareM, LettersOf: string(p.LettersOf), Cautions: p.Cautions, SigmaM: p.SigmaM,
	}
	if p.Origin == plan.Picked {
		out.Col, out.Row = &p.At.Col, &p.At.Row
	}
	return out
}

func markToShape(m plan.Mark) markShape {
	return markShape{ID: string(m.ID), Name: m.Name, Position: positionToShape(m.Position), Note: m.Note, Import: m.Import}
}

func endToShape(e plan.End) endShape {
	if e.Mark != "" {
		return endShape{Mark: string(e.Mark)}
	}
	pos := positionToShape(e.Position)
	return endShape{Letter: e.Letter, Position: &pos}
}

func legToShape(l plan.Leg) legShape {
	return legShape{
		ID: string(l.ID), From: endToShape(l.From), To: endToShape(l.To),
		Name: l.Name, TickOff: l.TickOff, TooFar: l.TooFar, Note: l.Note, Import: l.Import,
	}
}

func sightToShape(s plan.Sight) sightShape {
	return sightShape{
		ID: string(s.ID), From: endToShape(s.From), To: endToShape(s.To), Name: s.Name, Note: s.Note,
	}
}

func trackToShape(t plan.Track) trackShape {
	out := trackShape{ID: string(t.ID), Name: t.Name, Hidden: t.Hidden, Import: t.Import, Points: make([][2]float64, len(t.Points))}
	for i, ll := range t.Points {
		out.Points[i] = [2]float64{degrees(ll.Lat), degrees(ll.Lon)}
	}
	return out
}

// circleToken names a circle in the file.
func circleToken(c units.Circle) string {
	switch c {
	case units.HalfDegrees:
		return "half-degrees"
	case units.Mils6400:
		return "mils-6400"
	case units.Gon400:
		return "gon-400"
	}
	return "degrees"
}
