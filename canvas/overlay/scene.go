package overlay

import "legwright/canvas/view"

// Scene is everything committed that is drawn over the sheet, in picture
// coordinates. Slices may be shared; a painter never writes to them.
type Scene struct {
	Grid      []GridLine
	Tracks    []Track
	Sights    []Sight
	Legs      []Leg
	Residuals []Residual
	Controls  []Control
	Marks     []Mark
}

// Leg is a leg as drawn: a fine double line with a tick every 100 m from its
// start.
type Leg struct {
	ID       string
	From, To view.PicPt
	LengthM  float64 // on the ground, for the ticks; 0 draws none
	Label    string  // written along the leg; may be empty
	Selected bool
	Flagged  bool // the reading cannot be trusted: drawn with open dashes
}

// Sight is a sight as drawn: a dashed line.
type Sight struct {
	ID       string
	From, To view.PicPt
	Label    string
	Selected bool
	Flagged  bool
}

// Mark is a mark with its name.
type Mark struct {
	ID       string
	At       view.PicPt
	Name     string
	Selected bool
}

// Control is a control point with its reference as typed.
type Control struct {
	At       view.PicPt
	Text     string
	Selected bool
}

// GridLine is one line of the believed grid.
type GridLine struct {
	Points []view.PicPt
	Label  string // kilometres, written where the line meets the edge
	Index  bool   // every tenth line, drawn stronger
}

// Residual is an arrow from where a control point was pressed to where the
// calibration puts its reference, lengthened for the eye.
type Residual struct{ From, To view.PicPt }

// Track is an imported track, drawn dotted.
type Track struct{ Points []view.PicPt }
