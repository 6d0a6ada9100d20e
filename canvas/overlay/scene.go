package overlay

import (
	"slices"

	"legwright/app/ground"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// Scene is everything committed that is drawn over the sheet, in picture
// coordinates. Slices may be shared; a painter never writes to them.
type Scene struct {
	Grid      []GridLine
	GridPx    float64 // distance of neighbouring grid lines, picture pixels
	Found     Found
	Local     Local
	Relief    *Relief // nil for none
	Tracks    []Track
	Hazards   []Shape
	Havens    []Shape
	Lines     []Shape
	Areas     []Shape
	Escapes   []Escape
	Slips     []Slip
	Sights    []Sight
	Legs      []Leg
	Residuals []Residual
	// ResidualTimes is how much longer than life residuals are drawn; 0 is as
	// suits the view, see Magnified.
	ResidualTimes float64
	Controls      []Control
	Spots         []Spot
	Marks         []Mark
	Ends          []End
	Drawn         Drawn
	Proposed      []Shape // hazards that nobody has kept yet, see NewProposed
	Lesson        Lesson  // over everything else
	// Faint has tracks, sights, legs and marks stand back behind what a sheet is
	// calibrated by: pale, without texts, beneath everything else.
	Faint bool
}

// Empty says whether there is nothing to draw.
func (s Scene) Empty() bool {
	return len(s.Grid)+len(s.Found.Lines)+len(s.Local.field.at)+len(s.Tracks)+len(s.Hazards)+len(s.Havens)+len(s.Lines)+len(s.Areas)+len(s.Escapes)+len(s.Slips)+len(s.Drawn.Points)+len(s.Proposed)+len(s.Sights)+len(s.Legs)+len(s.Residuals)+len(s.Controls)+len(s.Spots)+len(s.Marks)+len(s.Ends) == 0 && s.Lesson.Empty() && s.Relief == nil
}

// Sealed returns the scene with lists that cannot be appended to in place, so that
// several scenes may be made of one while it is drawn.
func (s Scene) Sealed() Scene {
	s.Grid, s.Tracks, s.Sights, s.Legs = slices.Clip(s.Grid), slices.Clip(s.Tracks), slices.Clip(s.Sights), slices.Clip(s.Legs)
	s.Residuals, s.Controls, s.Spots = slices.Clip(s.Residuals), slices.Clip(s.Controls), slices.Clip(s.Spots)
	s.Hazards, s.Havens, s.Lines, s.Areas = slices.Clip(s.Hazards), slices.Clip(s.Havens), slices.Clip(s.Lines), slices.Clip(s.Areas)
	s.Escapes, s.Slips = slices.Clip(s.Escapes), slices.Clip(s.Slips)
	s.Marks, s.Ends = slices.Clip(s.Marks), slices.Clip(s.Ends)
	return s
}

// thingKind says how the things of one kind come onto the sheet. What a kind does not
// need is nil.
type thingKind struct {
	kind plan.Kind
	// build fills the scene's list from the plan.
	build func(*builder)
	// draw draws the things on a strip; lines instead names straight lines between two
	// ends, which are drawn over all that draws itself.
	draw  func(*drawing, *strip)
	lines func(*drawing, addLine)
	// texts places the texts of the chosen ones, or of the others.
	texts func(d *drawing, chosen bool)
	// paths yields the points of each thing that can be pointed at.
	paths func(s *Scene, yield func(Path))
}

// thingKinds are the kinds of things that are drawn. The first lie on top, their texts
// find room first, and of several points at one place theirs is snapped to.
func thingKinds() []thingKind {
	return []thingKind{
		{kind: plan.OfMark, build: (*builder).marks, texts: (*drawing).markNames, paths: markPaths},
		{kind: plan.OfLeg, build: (*builder).legs, lines: (*drawing).legLines, texts: (*drawing).legTexts, paths: legPaths},
		{kind: plan.OfSight, build: (*builder).sights, lines: (*drawing).sightLines, texts: (*drawing).sightTexts, paths: sightPaths},
		{kind: plan.OfEscape, build: (*builder).escapes, draw: (*drawing).escapes, texts: (*drawing).escapeTexts, paths: escapePaths},
		{kind: plan.OfHaven, build: (*builder).havens, draw: (*drawing).havens, texts: (*drawing).havenTexts, paths: havenPaths},
		{kind: plan.OfLine, build: (*builder).shapeLines, draw: (*drawing).shapeLines, texts: (*drawing).lineTexts, paths: linePaths},
		{kind: plan.OfHazard, build: (*builder).hazards, draw: (*drawing).hazards, texts: (*drawing).hazardTexts, paths: hazardPaths},
		{kind: plan.OfArea, build: (*builder).areas, draw: (*drawing).areas, texts: (*drawing).areaTexts, paths: areaPaths},
		{kind: plan.OfTrack, build: (*builder).tracks, draw: (*drawing).tracks},
	}
}

// Path is a thing as it can be pointed at: point n is that of plan.Thing.Points, and
// between neighbouring points lies a line.
type Path struct {
	Kind   plan.Kind
	ID     plan.ID
	Points []view.PicPt
	Closed bool  // and from the last point back to the first
	On     []int // of an area with holes: on which ring each point lies, see ground.Rings
}

// Handle reports whether point i can be pointed at: the end of a slit that leads to a hole cannot.
func (p Path) Handle(i int) bool { return !ground.SlitEnd(p.On, i) }

// Side reports whether a line is seen behind point i.
func (p Path) Side(i int) bool {
	next := (i + 1) % len(p.Points)
	return (next > 0 || p.Closed) && (p.On == nil || p.On[i] == p.On[next])
}

// Paths yields what can be pointed at; of several points at one place the first is
// meant.
func (s *Scene) Paths(yield func(Path)) {
	for _, k := range thingKinds() {
		if k.paths != nil {
			k.paths(s, func(p Path) {
				p.Kind = k.kind
				yield(p)
			})
		}
	}
}

func markPaths(s *Scene, yield func(Path)) {
	for _, m := range s.Marks {
		yield(Path{ID: m.ID, Points: []view.PicPt{m.At}})
	}
}

func legPaths(s *Scene, yield func(Path)) {
	for _, l := range s.Legs {
		yield(Path{ID: l.ID, Points: []view.PicPt{l.From, l.To}})
	}
}

func sightPaths(s *Scene, yield func(Path)) {
	for _, l := range s.Sights {
		yield(Path{ID: l.ID, Points: []view.PicPt{l.From, l.To}})
	}
}

// Leg is a leg as drawn: a fine double line with a tick every 100 m from its
// start.
type Leg struct {
	ID       plan.ID
	From, To view.PicPt
	LengthM  float64 // on the ground, for the ticks; 0 draws none
	Label    string  // written along the leg; may be empty
	Selected bool
	Stopped  bool // the reading cannot be trusted: drawn with open dashes
}

// Sight is a sight as drawn: a dashed line.
type Sight struct {
	ID       plan.ID
	From, To view.PicPt
	Label    string
	Selected bool
	Stopped  bool // the reading cannot be trusted: drawn with sparse dashes
}

// Mark is a mark with its name.
type Mark struct {
	ID       plan.ID
	At       view.PicPt
	Name     string
	Selected bool
}

// End is an end of legs or sights that no mark names, with its letter.
type End struct {
	At   view.PicPt
	Text string
}

// Control is a control point with its reference as typed.
type Control struct {
	At       view.PicPt
	Text     string
	Selected bool
}

// GridLine is one line of the calibrated grid.
type GridLine struct {
	Points []view.PicPt
	Label  string // kilometres, written where the line meets the edge
	Index  bool   // every tenth line, drawn stronger
}

// Residual goes from where a control point was pressed to where the
// calibration puts its reference, in its true length. It is drawn lengthened.
type Residual struct{ From, To view.PicPt }

// Track is an imported track, drawn dotted. Make it with NewTrack.
type Track struct {
	ID       plan.ID
	Selected bool

	points []view.PicPt
	chunks []view.Rect // around each run of chunkLen points and the next one
}

// chunkLen is how many points of a track are culled together.
const chunkLen = 64

// NewTrack prepares a track for drawing. It keeps points.
func NewTrack(id plan.ID, points []view.PicPt) Track {
	t := Track{ID: id, points: points}
	for i := 0; i < len(points); i += chunkLen {
		t.chunks = append(t.chunks, view.RectOf(points[i:min(i+chunkLen+1, len(points))]...))
	}
	return t
}
