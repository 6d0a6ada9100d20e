package plan

import "legwright/app/calib"

// SetSheet returns the plan with the sheet of the same ID replaced, or added
// where there is none.
//
// Where the calibration changes, every position that was picked on the sheet
// moves with its feature: it keeps its picture point and gets the grid
// coordinates that the new calibration gives that point. Typed and imported
// positions stay. A sheet that loses its calibration leaves picked positions
// at their last coordinates. A proof is of one calibration: it is dropped
// where the calibration changes and the proof does not.
func (p *Plan) SetSheet(s Sheet) *Plan {
	old, known := p.SheetByID(s.ID)
	if !known {
		return p.with(func(q *Plan) { q.Sheets = add(p.Sheets, s) })
	}
	changed := !s.sameCalibration(old)
	if changed && s.Proof == old.Proof {
		s.Proof = calib.Proof{}
	}
	if s.Proof != old.Proof && s.ProofExtra == old.ProofExtra {
		s.ProofExtra = "" // it belonged to the proof before
	}
	q := p.with(func(q *Plan) {
		q.Sheets = replace(p.Sheets, s, func(x Sheet) bool { return x.ID == s.ID })
	})
	if !changed {
		return q
	}
	return q.recalibrated(s)
}

// recalibrated returns the plan with the sheet's picked positions moved to
// where its calibration puts their picture points.
func (p *Plan) recalibrated(s Sheet) *Plan {
	c, err := s.Calibration()
	if err != nil {
		return p
	}
	move := func(pos Position) Position {
		if pos.Origin != Picked || pos.Sheet != s.ID {
			return pos
		}
		moved := PickedAt(s, c, pos.At, pos.PickSigmaPx)
		moved.Extra = pos.Extra
		return moved
	}
	q := p.with(func(q *Plan) {
		q.Marks = mapped(p.Marks, func(m Mark) Mark { m.Position = move(m.Position); return m })
	})
	return q.mapEnds(func(e End) End { e.Position = move(e.Position); return e })
}

// RemoveSheet returns the plan without the sheet. Positions picked on it keep
// their coordinates.
func (p *Plan) RemoveSheet(id ID) *Plan {
	for i, s := range p.Sheets {
		if s.ID == id {
			return p.with(func(q *Plan) { q.Sheets = without(p.Sheets, i) })
		}
	}
	return p
}
