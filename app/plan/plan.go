package plan

import "time"

// Plan is the document. Treat it as read-only: its slices are shared between
// plans.
type Plan struct {
	Title   string
	Date    Date
	Party   Party
	Timing  Timing
	Sheets  []Sheet   // one to begin with; all of them on one grid
	Terrain []Terrain // files with heights of its ground
	Marks   []Mark
	Legs    []Leg // in route order
	Sights  []Sight
	Tracks  []Track
	Hazards []Hazard
	Havens  []Haven
	Lines   []Line // to follow, and catching features
	Areas   []Area // of one ground each
	Escapes []Escape
	Snow    Snow // on the day of the outing

	OverSteepDeg int // slope from which ground counts as over-steep, degrees; 0 for that of terrain.OverSteep

	// Saved is when the plan was written to the file that it was read from, by the clock of its
	// time zone or in UTC; zero where it came from no file. Edits leave it as it is:
	// session.Session.SavedAt knows whether it still holds.
	Saved time.Time

	Extra  Extra
	Mended []string // what had to be changed in reading its file, for people; never written
}

// New returns an empty plan for the given day with the default party and
// timing.
func New(date Date) *Plan { return &Plan{Date: date, Party: DefaultParty(), Timing: DefaultTiming()} }

// Kind says what kind of thing something in a plan is. Things are all that lies on
// the ground, has an ID and can be selected, named, moved and removed; sheets are none.
type Kind int

// The kinds of things. Their numbers are not written to files.
const (
	Nothing Kind = iota // no thing
	OfMark
	OfLeg
	OfSight
	OfTrack
	OfHazard
	OfHaven
	OfLine
	OfEscape
	OfArea
)

// lists are the lists of things in a plan. Whatever is done alike for every kind
// walks over them: counting, validating, snapping, moving with a sheet, finding by
// ID, naming, removing, finding out what changed.
func lists() []list {
	return []list{
		listOf[Mark, *Mark]{KindInfo{OfMark, "mark", "marks", MaxMarks}, func(p *Plan) *[]Mark { return &p.Marks }},
		listOf[Leg, *Leg]{KindInfo{OfLeg, "leg", "legs", MaxLegs}, func(p *Plan) *[]Leg { return &p.Legs }},
		listOf[Sight, *Sight]{KindInfo{OfSight, "sight", "sights", MaxSights}, func(p *Plan) *[]Sight { return &p.Sights }},
		listOf[Track, *Track]{KindInfo{OfTrack, "track", "tracks", MaxTracks}, func(p *Plan) *[]Track { return &p.Tracks }},
		listOf[Hazard, *Hazard]{KindInfo{OfHazard, "hazard", "hazards", MaxShapes}, func(p *Plan) *[]Hazard { return &p.Hazards }},
		listOf[Haven, *Haven]{KindInfo{OfHaven, "haven", "havens", MaxShapes}, func(p *Plan) *[]Haven { return &p.Havens }},
		listOf[Line, *Line]{KindInfo{OfLine, "line", "lines", MaxShapes}, func(p *Plan) *[]Line { return &p.Lines }},
		listOf[Area, *Area]{KindInfo{OfArea, "area", "areas", MaxShapes}, func(p *Plan) *[]Area { return &p.Areas }},
		listOf[Escape, *Escape]{KindInfo{OfEscape, "escape", "escapes", MaxEscapes}, func(p *Plan) *[]Escape { return &p.Escapes }},
	}
}
