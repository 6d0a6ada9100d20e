package sheetview

import (
	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// gridLines are the grid of the sheet shown, and where its calibration has the references
// of its control points. Both are kept while the calibration stays, as it does while a
// control point is nudged.
type gridLines struct {
	of     plan.ID
	code   geodesy.Code
	c      *calib.Calibration
	drawn  *overlay.Grid
	placed map[geodesy.Grid]view.PicPt
}

// gridAtOnce is how many control points a sheet has whose grid is made within a frame.
const gridAtOnce = 40

// gridOn returns the grid by the calibration of the sheet shown, empty where none is
// drawn. With many control points it is made away from the main thread; until then it is
// as it was drawn last.
func (s *scene) gridOn(shown plan.Sheet, c *calib.Calibration) *gridLines {
	sys, _ := s.s.Reader().SystemOf(shown.Code)
	if c == nil || sys == nil || !s.gridWanted() {
		return new(gridLines)
	}
	was := s.lines
	same := was != nil && was.of == shown.ID && was.code == shown.Code
	if same && was.c == c {
		return was
	}
	s.lines = &gridLines{shown.ID, shown.Code, c, new(overlay.Grid), map[geodesy.Grid]view.PicPt{}}
	if len(shown.Points) <= gridAtOnce {
		*s.lines.drawn = overlay.GridOf(shown, sys, c)
		return s.lines
	}
	if same {
		s.lines.drawn = was.drawn
	}
	now := s.lines
	go func() {
		made := overlay.GridOf(shown, sys, c)
		s.later(func() {
			if now.drawn = &made; s.lines == now {
				s.ask()
			}
		})
	}()
	return now
}

// gridWanted reports whether the grid is drawn.
func (s *scene) gridWanted() bool { return s.calibrating || s.grid }
