package tool

import (
	"legwright/app/plan"
	"legwright/canvas/view"
)

// snap is the position under at, drawn to a mark or end that is near.
func (m *Machine) snap(at view.ScreenPt) Spot {
	if s, ok := m.ground.Snap(at, SnapRadius*m.px); ok {
		return s
	}
	return Spot{At: m.view.ToPicture(at)}
}

// snapApart is snap, but not back to where the drag began.
func (m *Machine) snapApart(at view.ScreenPt) Spot {
	s := m.snap(at)
	if s.Target.Part != Nothing && s.At == m.from.At {
		return Spot{At: m.view.ToPicture(at)}
	}
	return s
}

// dropAt is where a dragged thing would come to lie: ends snap to other
// things, marks and control points stay where the hand puts them.
func (m *Machine) dropAt(at view.ScreenPt) Spot {
	if t := m.from.Target; t.Part == Control || t.Kind == plan.OfMark {
		return Spot{At: m.view.ToPicture(at)}
	}
	s := m.snap(at)
	if s.Target == m.from.Target {
		return Spot{At: m.view.ToPicture(at)}
	}
	return s
}

// hit is the position under at with whatever was hit there. A click in the
// Calibrate tool keeps its own position, so that intersections are not drawn to
// marks.
func (m *Machine) hit(at view.ScreenPt) Spot {
	own := Spot{At: m.view.ToPicture(at)}
	s, ok := m.ground.Hit(at, SnapRadius*m.px)
	if ok && !s.Target.Part.IsPoint() {
		s, ok = m.ground.Hit(at, hitRadius*m.px)
	}
	if !ok || (m.kind == Calibrate && s.Target.Part != Control) {
		return own
	}
	if !s.Target.Part.IsPoint() {
		s.At = own.At
	}
	return s
}

// under is the pointer's own position, with what is near it.
func (m *Machine) under(at view.ScreenPt) Spot {
	s := m.hit(at)
	s.At = m.view.ToPicture(at)
	return s
}
