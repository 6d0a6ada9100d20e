package session

import (
	"math"
	"strconv"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// CorrectSlip takes a slip out of the references of the sheet shown: a digit or a
// line is corrected, swapped references are swapped back, in one step of undo. The
// slip is one that Verdict names; until evidence decides, it counts as chosen from
// several. The error is a refusal; then nothing is changed.
func (s *Session) CorrectSlip(slip slips.Slip) error {
	sys := s.Reader().System()
	if sys == nil || slip.Kind > slips.OfAll {
		return refuse("Legwright cannot correct this: compare the references with the map")
	}
	return s.editSheet("correct references", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		for _, shift := range slip.Shifts() {
			if shift.I >= len(sheet.Points) {
				continue // evidence that shares the slip; its own reference must be typed again
			}
			c, err := unshifted(sheet.Points[shift.I], shift, sys)
			if err != nil {
				return sheet, err
			}
			sheet = sheet.SetPoint(shift.I, c)
		}
		sheet.SlipChosen = true
		return sheet, nil
	})
}

// CorrectedReference is the reference that CorrectSlip gives control point i, counted
// from 0, "" where it leaves it or cannot correct it.
func (s *Session) CorrectedReference(slip slips.Slip, i int) string {
	sheet, _ := s.Sheet()
	for _, shift := range slip.Shifts() {
		if sys := s.Reader().System(); shift.I == i && i < len(sheet.Points) && sys != nil {
			if c, err := unshifted(sheet.Points[i], shift, sys); err == nil {
				return c.Text
			}
		}
	}
	return ""
}

// unshifted is a control point without a slip of its reference, which is written as the
// person wrote it.
func unshifted(c calib.ControlPoint, by calib.Shift, sys *geodesy.System) (calib.ControlPoint, error) {
	want := geodesy.Grid{E: c.Ref.E - by.East, N: c.Ref.N - by.North}
	was, err := geodesy.ParseRef(c.Text, geodesy.RefContext{System: sys, Near: &c.Ref})
	if err != nil || was.Kind == geodesy.RefLatLon {
		return c, refuse("Legwright cannot correct latitude and longitude: click the point and type them again")
	}
	const mm = 1000
	e, n := sys.InUnits(want)
	plain := func(v float64) string { return strconv.FormatFloat(math.Round(v*mm)/mm, 'f', -1, 64) }
	text := plain(e) + " " + plain(n)
	if was.SquareM > 0 {
		if written, err := sys.FormatRef(want, geodesy.FiguresOf(was.SquareM)); err == nil {
			text = written
		}
	}
	const near = 0.5 // metres
	now, err := geodesy.ParseRef(text, geodesy.RefContext{System: sys, Near: &want})
	if err != nil || math.Hypot(now.Grid.E-want.E, now.Grid.N-want.N) > near {
		return c, refuse("Legwright cannot write the corrected reference on this grid: click the point and type its reference again")
	}
	c.Ref, c.Text, c.Source = now.Grid, text, calib.TypedPoint
	return c, nil
}
