package session

import (
	"legwright/app/calib"
	"legwright/app/plan"
)

// A sheet with many control points is loose while one of them moves: fitting them all
// takes longer than a frame. The plan has the point where it is moved to; everything
// else, positions and readings, stays by the calibration that the sheet had before, and
// carries a stop because the sheet waits to be judged. Once the point rests the sheet is
// calibrated, beside the window (see Judging), and what was picked on it moves. Before
// anything else is done with the plan settle does so at once. Only then is it journalled:
// a crash before leaves the plan as it was before the moves.

// loose is a sheet one of whose control points moves.
type loose struct {
	from plan.Sheet // as it was before
}

// moving reports whether what is done is one of several moves.
func (s *Session) moving() bool { return s.dragging || s.nudging }

// withSheet is the plan with a sheet replaced, calibrated anew unless that becomes loose.
func (s *Session) withSheet(next plan.Sheet) *plan.Plan {
	r := s.Reader() // with the calibration as it is before the move
	if !s.moving() || len(next.Points) <= atOnce {
		return s.Plan().SetSheetBy(next, r.Fit)
	}
	if now, ok := s.Plan().SheetByID(next.ID); ok && s.loose == nil {
		s.loose = &loose{now}
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

// Settle ends a row of nudges for whoever writes the plan: everything in it lies where
// its control points put it.
func (s *Session) Settle() {
	s.settle()
	s.EndNudge()
}

// settle calibrates a loose sheet.
func (s *Session) settle() {
	if s.loose != nil {
		s.settleAs(s.Plan().Recalibrated(s.loose.from, s.Reader().Fit))
	}
}

// settleAs takes the plan with the loose sheet calibrated, in the step that moved its
// points.
func (s *Session) settleAs(next *plan.Plan) {
	s.owed |= differences(s.Plan(), next) | CalibrationChanged
	s.loose = nil
	s.hist.Amend(next)
	s.record(s.hist.UndoName())
}

// record journals the plan that an act led to. A drag is journalled at its end, and moves
// of a loose sheet's points once it is calibrated.
func (s *Session) record(name string) {
	if !s.dragging && s.loose == nil {
		s.journal.Append(name, s.Plan())
	}
}
