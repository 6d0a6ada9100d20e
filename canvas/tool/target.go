package tool

import (
	"legwright/app/plan"
	"legwright/canvas/view"
)

// Part says which part of the plan a target is.
type Part int

// The parts that can be pointed at.
const (
	Nothing Part = iota
	Mark
	LegFrom
	LegTo
	SightFrom
	SightTo
	LegLine
	SightLine
	Control
)

// IsPoint says whether the part is a single position, which can be snapped to
// and dragged, and not a line.
func (p Part) IsPoint() bool { return p != Nothing && p != LegLine && p != SightLine }

// Target is a thing of the plan under the pointer. The zero Target is
// nothing.
type Target struct {
	Part  Part
	ID    plan.ID // of the mark, leg or sight
	Index int     // of the control point
}

// Spot is a position on the sheet, and what stands there: At is exactly the
// target's position where there is one.
type Spot struct {
	At     view.PicPt
	Target Target
}

// Ground answers what stands where on the sheet. Radii are screen pixels.
type Ground interface {
	// Snap gives the mark or the end of a leg or sight nearest to at, within
	// the radius.
	Snap(at view.ScreenPt, radius float64) (Spot, bool)
	// Hit gives whatever is drawn nearest to at within the radius, points
	// before lines.
	Hit(at view.ScreenPt, radius float64) (Spot, bool)
}

// bare is a sheet on which nothing stands.
type bare struct{}

func (bare) Snap(view.ScreenPt, float64) (Spot, bool) { return Spot{}, false }
func (bare) Hit(view.ScreenPt, float64) (Spot, bool)  { return Spot{}, false }
