package session

import (
	"legwright/app/calib"
	"legwright/app/plan"
)

// A sheet with many control points is loose while one of them moves: fitting them all
// takes longer than a frame. The plan has the point where it is moved to; everything
// else, positions and readings, stays by the calibration that the sheet had before, and
// carries a stop because the sheet waits to be judged. settle calibrates the sheet and
// moves what was picked on it. That happens once the point rests, and before anything
// else is done with the plan.

// loose is a sheet one of whose control points moves.
type loose struct {
	from plan.Sheet // as it was before
	key  string     // of the step that moves the point
}

// moving reports whether what is done is one of several moves.
func (s *Session) moving() bool { return s.dragging || s.nudging }

// withSheet is the plan with a sheet replaced, calibrated anew unless that becomes loose.
func (s *Session) withSheet(next plan.Sheet, key string) *plan.Plan {
	r := s.Reader() // with the calibration as it is before the move
	if !s.moving() || len(next.Points) <= atOnce {
		return s.Plan().SetSheetBy(next, r.Fit)
	}
	if now, ok := s.Plan().SheetByID(next.ID); ok && s.loose == nil {
		s.loose = &loose{now, key}
	}
	return s.Plan().SetSheetBy(next, func(plan.Sheet) (*calib.Calibration, error) { return nil, plan.ErrUncalibrated })
}

// held are the sheets that are loose.
func (s *Session) held() []plan.ID {
	if s.loose == nil {
		return nil
	}
	return []plan.ID{s.loose.from.ID}
}

// settle calibrates a loose sheet, in the step that moved its points.
func (s *Session) settle() {
	if s.loose == nil {
		return
	}
	from, before := s.loose.from, s.Plan()
	next := before.Recalibrated(from, s.Reader().Fit)
	s.loose = nil
	if next == before {
		return
	}
	s.hist.Amend(next)
	s.owed |= differences(before, next)
	if !s.dragging {
		s.journal.Append(s.hist.UndoName(), next)
	}
}
