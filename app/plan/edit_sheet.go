package plan

import (
	"math"
	"slices"

	"legwright/app/calib"
)

// SetSheet returns the plan with the sheet of the same ID replaced, or added
// where there is none.
//
// Where the calibration changes, every position that was picked on the sheet
// moves with its feature: it keeps its picture point and gets the grid
// coordinates that the new calibration gives that point. What hangs on such a
// position moves as the ground under it. Other typed positions and imported
// ones stay. A sheet that loses its calibration leaves picked positions
// at their last coordinates. A proof is of one calibration: it is dropped
// where the calibration changes and the proof does not, and with it those of
// the sheets that were proved by this one. What contradicts a file's place is
// held against the changed calibration, and dropped where it says nothing of that
// one. While a place is contradicted nothing proves the sheet.
func (p *Plan) SetSheet(s Sheet) *Plan {
	old, known := p.SheetByID(s.ID)
	if !known {
		return p.with(func(q *Plan) { q.Sheets = add(p.Sheets, s) })
	}
	changed := !s.sameCalibration(old)
	s = s.after(old)
	q := p.with(func(q *Plan) {
		q.Sheets = replace(p.Sheets, s, func(x Sheet) bool { return x.ID == s.ID })
	})
	if old.Proof.Proved() && (changed || !s.Proof.Proved()) {
		q = q.unproved(s.ID)
	}
	if !changed {
		return q
	}
	return q.recalibrated(old, s)
}

// after returns the sheet with what still holds of the proof and the doubts it
// had as old.
func (s Sheet) after(old Sheet) Sheet {
	changed := !s.sameCalibration(old)
	if changed && s.Proof.Same(old.Proof) {
		s.Proof = calib.Proof{}
	}
	if changed && s.Contradicted.Same(old.Contradicted) {
		s.Contradicted = s.stillContradicted()
	}
	if s.Contradicted.Found() {
		s.Proof = calib.Proof{}
	}
	return s
}

// ProofBySheet is the kind of the proof of a sheet that a place of another
// sheet of the plan agrees with.
func ProofBySheet(id ID) string { return "sheet " + string(id) }

// unproved returns the plan without the proofs that rest on a sheet.
func (p *Plan) unproved(id ID) *Plan {
	q := p
	for _, s := range p.Sheets {
		if s.Proof.Kind == ProofBySheet(id) && s.ID != id {
			s.Proof = calib.Proof{}
			q = q.SetSheet(s) // and those that rest on it
		}
	}
	return q
}

// recalibrated returns the plan with the sheet's picked positions moved to
// where its calibration puts their picture points, and with them what hangs on
// them: by the picture point that the old calibration gave it.
func (p *Plan) recalibrated(old, s Sheet) *Plan {
	c, err := s.Calibration()
	if err != nil {
		return p
	}
	before, errBefore := old.Calibration()
	return p.mapPositions(func(pos Position) Position {
		switch {
		case pos.Sheet != s.ID:
			return pos
		case pos.Hangs() && errBefore == nil && pos.Code == old.Code:
			if g := c.ToGrid(before.ToPicture(pos.Grid)); g.IsFinite() { // not so beyond the horizon of a photograph
				pos.Grid, pos.Code = g, s.Code
			}
			return pos
		case pos.Origin != Picked:
			return pos
		}
		return PickedAt(s, c, pos.At, pos.PickSigmaPx)
	})
}

// RemoveSheet returns the plan without the sheet. Positions picked on it keep
// their coordinates, and as nothing will say any more how well the sheet was
// calibrated, their own σ takes its share in.
func (p *Plan) RemoveSheet(id ID) *Plan {
	s, ok := p.SheetByID(id)
	if !ok {
		return p
	}
	q := p.cutLoose(s)
	return q.with(func(r *Plan) {
		r.Sheets = without(q.Sheets, slices.IndexFunc(q.Sheets, func(x Sheet) bool { return x.ID == id }))
	})
}

// ReplaceSheet returns the plan with another sheet, of an ID of its own, in
// the place of one that goes as by RemoveSheet. Without that one it is added.
func (p *Plan) ReplaceSheet(id ID, s Sheet) *Plan {
	old, ok := p.SheetByID(id)
	if !ok {
		return p.SetSheet(s)
	}
	q := p.cutLoose(old)
	return q.with(func(r *Plan) {
		r.Sheets = replace(q.Sheets, s, func(x Sheet) bool { return x.ID == id })
	})
}

// cutLoose gives the positions picked on a sheet the σ that they have by its
// calibration, for a plan that will be without it.
func (p *Plan) cutLoose(s Sheet) *Plan {
	c, err := s.Calibration()
	if err != nil {
		return p
	}
	return p.mapPositions(func(pos Position) Position {
		if pos.Origin == Picked && pos.Sheet == s.ID {
			cov := c.Covariance(pos.At, pos.PickSigmaPx)
			pos.SigmaM = math.Sqrt(math.Max((cov.EE+cov.NN)/2, 0))
		}
		return pos
	})
}
