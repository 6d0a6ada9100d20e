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
// coordinates that the new calibration gives that point. A position derived from
// the sheet moves with the ground under it. Other typed positions and imported
// ones stay. If the sheet loses its calibration, picked positions stay at their
// last coordinates. Evidence stays, and is judged again.
func (p *Plan) SetSheet(s Sheet) *Plan { return p.SetSheetBy(s, Sheet.Calibration) }

// Fitter calibrates a sheet as Sheet.Calibration does. Whoever has calibrations at hand
// spares others the fit.
type Fitter func(Sheet) (*calib.Calibration, error)

// SetSheetBy is SetSheet with calibrations from fit.
func (p *Plan) SetSheetBy(s Sheet, fit Fitter) *Plan {
	old, known := p.SheetByID(s.ID)
	if !known {
		return p.with(func(q *Plan) { q.Sheets = add(p.Sheets, s) })
	}
	q := p.with(func(q *Plan) {
		q.Sheets = replace(p.Sheets, s, func(x Sheet) bool { return x.ID == s.ID })
	})
	if s.SameCalibration(old) {
		return q
	}
	return q.recalibrated(old, s, fit)
}

// Recalibrated returns the plan with the positions of a sheet where SetSheetBy moves them
// when that sheet takes the place of old: for a sheet that was set before its calibration
// was there.
func (p *Plan) Recalibrated(old Sheet, fit Fitter) *Plan {
	s, ok := p.SheetByID(old.ID)
	if !ok || s.SameCalibration(old) {
		return p
	}
	return p.recalibrated(old, s, fit)
}

// recalibrated returns the plan with the positions that were picked on the sheet moved
// to where its calibration puts their picture points. Positions derived from the sheet
// move too, by the picture point that the old calibration gave them.
func (p *Plan) recalibrated(old, s Sheet, fit Fitter) *Plan {
	c, err := fit(s)
	if err != nil {
		return p
	}
	before, errBefore := fit(old)
	return p.mapPositions(func(pos Position) Position {
		switch {
		case pos.Sheet != s.ID:
			return pos
		case pos.DerivedFromSheet() && errBefore == nil && pos.Code == old.Code:
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

// RemoveSheet returns the plan without the sheet. Positions picked on it keep their
// coordinates, and their own σ grows by that of the calibration, which goes with the
// sheet.
func (p *Plan) RemoveSheet(id ID) *Plan {
	s, ok := p.SheetByID(id)
	if !ok {
		return p
	}
	q := p.detached(s)
	return q.with(func(r *Plan) {
		r.Sheets = without(q.Sheets, slices.IndexFunc(q.Sheets, func(x Sheet) bool { return x.ID == id }))
	})
}

// ReplaceSheet returns the plan with a new sheet, which has its own ID, in the place of
// another, which goes as with RemoveSheet. If that is not in the plan the new one is
// added.
func (p *Plan) ReplaceSheet(id ID, s Sheet) *Plan {
	old, ok := p.SheetByID(id)
	if !ok {
		return p.SetSheet(s)
	}
	q := p.detached(old)
	return q.with(func(r *Plan) {
		r.Sheets = replace(q.Sheets, s, func(x Sheet) bool { return x.ID == id })
	})
}

// detached returns the plan with the σ of the sheet's calibration in every position
// picked on it, before the sheet goes.
func (p *Plan) detached(s Sheet) *Plan {
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
