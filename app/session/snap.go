package session

import (
	"legwright/app/calib"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Aim says how a pointer hits the sheet at the present zoom, in picture
// pixels.
type Aim struct {
	PickSigmaPx  float64 // σ of the pointer per axis: half a screen pixel
	SnapRadiusPx float64 // how near counts as meant; 0 never snaps
}

// snapPoint is a position that the pointer snaps to.
type snapPoint struct {
	at  calib.PicturePt
	end plan.End
}

// Snap returns the mark, or else the end of a leg or sight or the point of another
// thing, nearest to p within the radius in picture pixels. A mark wins over an end at
// the same position.
func (s *Session) Snap(p calib.PicturePt, radiusPx float64) (plan.End, bool) {
	all, found := s.snapPoints(), -1
	best := radiusPx * radiusPx
	for i := range all {
		c := &all[i]
		col, row := c.at.Col-p.Col, c.at.Row-p.Row
		d := col*col + row*row
		if d > best || (found >= 0 && d == best) {
			continue
		}
		best, found = d, i
	}
	if found < 0 {
		return plan.End{}, false
	}
	return all[found].end, true
}

// snapPoints returns every position to snap to, marks first.
func (s *Session) snapPoints() []snapPoint {
	r := s.Reader()
	c, err := s.Calibration()
	if err != nil || r.System() == nil {
		return nil
	}
	if s.snaps == nil {
		s.snaps = snapsOf(r, c)
	}
	return s.snaps
}

func snapsOf(r *leg.Reader, c *calib.Calibration) []snapPoint {
	var out []snapPoint
	positions := r.Plan().Positions()
	for t := range r.Plan().Things {
		for _, e := range t.Points {
			if g, _, err := r.Convert(positions.Of(e), r.System()); err == nil {
				out = append(out, snapPoint{c.ToPicture(g), e})
			}
		}
	}
	return out
}

// PositionAt returns the position of a point in the picture, picked with the
// pointer's σ in picture pixels. The error is that of Calibration.
func (s *Session) PositionAt(p calib.PicturePt, pickSigmaPx float64) (plan.Position, error) {
	c, err := s.Calibration()
	if err != nil {
		return plan.Position{}, err
	}
	sheet, _ := s.Sheet()
	return plan.PickedAt(sheet, c, p, pickSigmaPx), nil
}

// EndAt returns the end that a pointer at p means: what it snaps to, else the
// position itself. The error is that of Calibration.
func (s *Session) EndAt(p calib.PicturePt, a Aim) (end plan.End, snapped bool, err error) {
	if e, ok := s.Snap(p, a.SnapRadiusPx); ok {
		return e, true, nil
	}
	pos, err := s.PositionAt(p, a.PickSigmaPx)
	return plan.AtPosition(pos), false, err
}

// Live reads from one point of the picture to another, snapping both, while
// the pointer moves. The plan is not touched. Errors: that of Calibration,
// leg.ErrNoBearing.
func (s *Session) Live(from, to calib.PicturePt, a Aim) (leg.Reading, error) {
	f, _, err := s.EndAt(from, a)
	if err != nil {
		return leg.Reading{}, err
	}
	t, _, err := s.EndAt(to, a)
	if err != nil {
		return leg.Reading{}, err
	}
	return s.LiveEnds(f, t)
}

// LiveEnds reads from one end to another. The plan is not touched.
func (s *Session) LiveEnds(from, to plan.End) (leg.Reading, error) {
	p := s.Plan()
	return s.Reader().Read(p.Resolve(from), p.Resolve(to))
}

// Walk is LiveEnds for a leg that somebody means to walk, of the route or of a way off, with what
// it meets of what is drawn on the ground.
func (s *Session) Walk(from, to plan.End, off bool) (leg.Reading, leg.Met, error) {
	p := s.Plan()
	return s.Reader().Walk(p.Resolve(from), p.Resolve(to), off)
}
