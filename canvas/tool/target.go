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
	Point        // a point of a thing
	Line         // the line between a point of a thing and the next one
	Control      // a control point
)

// IsPoint says whether the part is a single position, which can be snapped to
// and dragged, and not a line.
func (p Part) IsPoint() bool { return p == Point || p == Control }

// Target is a thing of the plan under the pointer. The zero Target is
// nothing.
type Target struct {
	Part  Part
	Kind  plan.Kind // of the thing
	ID    plan.ID   // of the thing
	Index int       // of the point, as plan.Thing counts them, or of the control point; from 0
}

// IsVertex says whether the target is a point of a hazard, a haven, a line or an area.
func (t Target) IsVertex() bool {
	return t.Part == Point && (t.Kind == plan.OfHazard || t.Kind == plan.OfHaven || t.Kind == plan.OfLine || t.Kind == plan.OfArea)
}

// Spot is a position on the sheet, and what stands there: At is exactly the
// target's position where there is one.
type Spot struct {
	At     view.PicPt
	Target Target
}

// Ground answers what stands where on the sheet. Radii are screen pixels.
type Ground interface {
	// Snap gives the point of a thing nearest to at, within the radius.
	Snap(at view.ScreenPt, radius float64) (Spot, bool)
	// Vertex gives the point of a hazard, a haven, a line or an area nearest to at, within the
	// radius, whatever else stands there.
	Vertex(at view.ScreenPt, radius float64) (Spot, bool)
	// Hit gives whatever is drawn nearest to at within the radius, points
	// before lines.
	Hit(at view.ScreenPt, radius float64) (Spot, bool)
}

// bare is a sheet on which nothing stands.
type bare struct{}

func (bare) Snap(view.ScreenPt, float64) (Spot, bool)   { return Spot{}, false }
func (bare) Vertex(view.ScreenPt, float64) (Spot, bool) { return Spot{}, false }
func (bare) Hit(view.ScreenPt, float64) (Spot, bool)    { return Spot{}, false }
