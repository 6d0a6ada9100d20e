package planfile

import (
	"time"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

// The format's name and the newest version that is known.
const (
	formatName    = "legwright-plan"
	formatVersion = 1
)

// The shapes are the objects of the file. Those of the plan and of a sheet keep unknown
// keys. A key with the tag need must be present: encoding/json would set 0 for it, which
// is a position that can be.

// planShape is the whole file. Each list of things stands here three times: its key, how
// it is written and how it is read.
type planShape struct {
	Format  string         `json:"format"`
	Version int            `json:"version"`
	Title   string         `json:"title"`
	Date    string         `json:"date,omitempty"`
	Saved   string         `json:"saved,omitempty"` // RFC 3339
	Party   *partyShape    `json:"party"`
	Timing  *timingShape   `json:"timing,omitempty"`
	Sheets  []sheetShape   `json:"sheets"`
	Terrain []terrainShape `json:"terrain,omitempty"`
	Marks   []markShape    `json:"marks"`
	Legs    []legShape     `json:"legs"`
	Sights  []sightShape   `json:"sights"`
	Hazards []hazardShape  `json:"hazards,omitempty"`
	Havens  []havenShape   `json:"havens,omitempty"`
	Lines   []lineShape    `json:"lines,omitempty"`
	Areas   []areaShape    `json:"areas,omitempty"`
	Escapes []escapeShape  `json:"escapes,omitempty"`
	Snow    string         `json:"snow_lying,omitempty"`
	Steep   int            `json:"over_steep_deg,omitempty"`
	Tracks  []trackShape   `json:"tracks,omitempty"`
	extra   plan.Extra
}

func toShape(p *plan.Plan) planShape {
	s := planShape{
		Format: formatName, Version: formatVersion, Title: p.Title, extra: p.Extra, Party: partyToShape(p.Party), Timing: timingToShape(p.Timing),
		Sheets: each(p.Sheets, sheetToShape), Terrain: each(p.Terrain, terrainToShape), Marks: each(p.Marks, markToShape),
		Legs: each(p.Legs, legToShape), Sights: each(p.Sights, sightToShape), Tracks: each(p.Tracks, trackToShape),
		Hazards: each(p.Hazards, hazardToShape), Havens: each(p.Havens, havenToShape), Lines: each(p.Lines, lineToShape),
		Areas: each(p.Areas, areaToShape), Escapes: each(p.Escapes, escapeToShape), Snow: string(p.Snow), Steep: p.OverSteepDeg,
	}
	if !p.Date.IsZero() {
		s.Date = p.Date.String()
	}
	if !p.Saved.IsZero() {
		s.Saved = p.StampSaved(p.Saved).Saved.Format(time.RFC3339) // by the clock of a zone that was set since
	}
	return s
}

func fromShape(s planShape) (*plan.Plan, error) {
	r := reader{grids: map[grid]geodesy.Code{}}
	p := &plan.Plan{
		Title: r.line("title", s.Title), Date: r.date(s.Date), Party: r.party(s.Party), Timing: r.timing(s.Timing), Extra: s.extra,
		Sheets: list(s.Sheets, r.sheet), Terrain: list(s.Terrain, r.terrain), Marks: list(s.Marks, r.mark),
		Legs: list(s.Legs, r.leg), Sights: list(s.Sights, r.sight), Tracks: list(s.Tracks, r.track),
		Hazards: list(s.Hazards, r.hazard), Havens: list(s.Havens, r.haven), Lines: list(s.Lines, r.shapeLine),
		Areas: list(s.Areas, r.area), Escapes: list(s.Escapes, r.escape), Snow: plan.Snow(s.Snow), OverSteepDeg: s.Steep,
	}
	if r.err != nil {
		return nil, r.err
	}
	if p.Saved = r.saved(s.Saved, p.Timing.Location()); r.err != nil {
		return nil, r.err
	}
	p.Mended = r.words()
	return p.FillEnds(), nil
}

// listRules are the limits of every list, by its key: those of things from the plan,
// and those of lists within sheets and things. They are checked before anything is
// decoded, so that nobody waits for fits or datum shifts of a plan that is refused
// anyway. A list without a rule must be empty.
func listRules() map[string]listRule {
	rules := map[string]listRule{
		"sheets":         {one: "sheet", many: "sheets", most: plan.MaxSheets},
		"terrain":        {one: "terrain file", many: "terrain files", most: plan.MaxTerrain},
		"control_points": {one: "control point", many: "control points", most: plan.MaxPoints},
		"evidence":       {one: "check", many: "checks", most: plan.MaxEvidence},
		"given_matrix":   {one: "matrix number", many: "matrix numbers", most: 6},
		"points":         {one: "point", many: "points of hazards, havens, lines and areas", most: plan.MaxVertices, total: true},
		"escape_legs":    {one: "escape leg", many: "escape legs", most: plan.MaxEscapeLegs, total: true},
		"lat_lon_deg":    {one: "track point", many: "track points", most: plan.MaxTrackPoints, total: true},
	}
	for _, k := range plan.Kinds() {
		rules[k.Many] = listRule{one: k.One, many: k.Many, most: k.Most}
	}
	return rules
}
