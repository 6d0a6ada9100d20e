package overlay

import (
	"legwright/app/units"
	"legwright/canvas/view"
)

// Lesson is what a lesson shows over the plan: a line with its norths and the angle
// swept, guesses, rays. Make its parts with a Sketch; what is left zero is not drawn.
// Texts are the caller's: where figures are hidden he leaves them away.
type Lesson struct {
	Norths    Norths
	Arc       Arc
	Line      *LessonLine
	Rays      []Ray
	Fan       []FanLine
	Led       []Led
	Features  []Feature
	Crossings []Crossing
	Watermark string // such as "TRAINING GMA 12° east", all over what is seen; "" for none
}

// Empty reports whether there is nothing to draw.
func (l *Lesson) Empty() bool {
	return len(l.Norths.Lines)+len(l.Arc.toward)+len(l.Rays)+len(l.Fan)+len(l.Led)+len(l.Features)+len(l.Crossings)+len(l.Watermark) == 0 && l.Line == nil
}

// Norths are the north lines at one position.
type Norths struct {
	At    view.PicPt
	Lines []NorthLine
	Note  string  // by how much the lines are spread; "" where they are not
	Times float64 // by which the angles between the tips are drawn larger; 1 or more
}

// NorthLine is one north line. Up to the radius of the arc it runs as it does on the
// ground, beyond that toward its tip, which may be spread.
type NorthLine struct {
	North  units.North
	toward view.PicPt // one pixel of the picture along the ground's direction
	spread view.PicPt // the same along the direction of the tip
}

// Arc is the angle swept at a position, from a north to a line, with an arrow head
// at the line.
type Arc struct {
	At     view.PicPt
	North  units.North  // from which it is swept
	toward []view.PicPt // directions from the north to the line, each one pixel long
}

// LessonLine is the line that is shown.
type LessonLine struct {
	From, To view.PicPt
	Label    string // written along it; may be empty
}

// Ray is a bearing from a position with the wedge of its tolerance.
type Ray struct {
	From   view.PicPt
	Second bool   // of two rays the other one: another colour, dash and slant
	Label  string // written along it; may be empty
	line   []view.PicPt
	left   []view.PicPt // from From along the wedge's left edge
	right  []view.PicPt
	rim    []view.PicPt // from the far end of the left edge to that of the right one
}

// FanLine is one guess: a bearing drawn as a line, or a distance drawn as a tick
// across the line from From.
type FanLine struct {
	From, To view.PicPt
	Across   bool   // only the tick at To is drawn
	Median   bool   // of all guesses
	Label    string // at To; may be empty
}

// Led is where a bearing that went wrong leads.
type Led struct {
	From, To view.PicPt
	Label    string // at To: what went wrong, in lines
}

// Fit says how well a feature fits a bearing.
type Fit int

// The fits. A feature that nobody judged has none.
const (
	NotJudged Fit = iota
	FitsWell
	FitsBarely
	CannotFit
)

// Feature is a feature that a lesson speaks of: a mark with its fit, or a point that
// was clicked and is no mark.
type Feature struct {
	At   view.PicPt
	Name string // of one that is no mark; a mark has its name already
	Fit  Fit
}

// Crossing is where two sightings cross, within the line of its 95 %.
type Crossing struct {
	At   view.PicPt
	Text string       // such as "± 40 m"; may be empty
	rim  []view.PicPt // of the ellipse, closed
}
