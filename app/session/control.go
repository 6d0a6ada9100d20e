package session

import (
	"fmt"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/plan"
)

// AddControlPoint says that a point in the picture has that reference, read as
// the south-west corner of its square. Where the sheet has no grid yet it gets
// the one the reference is on. The Reference returned says what was guessed or
// supplied. Errors: ErrNoSheet, *geodesy.RefError, and those of calib for
// points that contradict each other.
func (s *Session) AddControlPoint(at calib.PicturePt, refText string) (Reference, error) {
	ref, err := s.CheckReference(refText)
	if err != nil {
		return ref, err
	}
	return ref, s.editSheet("add control point", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Code = ref.Code
		return sheet.WithPoint(calib.ControlPoint{At: at, Ref: ref.Grid, Text: tidy(refText), SigmaRefM: ref.lineSigma()}), nil
	})
}

// MoveControlPoint moves control point i, counted from 0, in the picture.
func (s *Session) MoveControlPoint(i int, at calib.PicturePt) error {
	return s.editPoint("move control point", i, func(c calib.ControlPoint) (calib.ControlPoint, error) {
		c.At = at
		return c, nil
	})
}

// NudgeControlPoint moves control point i as the fine aim does: nudges of one
// point that follow each other, with no other act or saving between them, make
// one step of undo.
func (s *Session) NudgeControlPoint(i int, at calib.PicturePt) error {
	s.nudging = true
	defer func() { s.nudging = false }()
	return s.MoveControlPoint(i, at)
}

// SetControlReference gives control point i another reference.
func (s *Session) SetControlReference(i int, text string) (Reference, error) {
	ref, err := s.CheckReference(text)
	if err != nil {
		return ref, err
	}
	chosen := s.slipStands()
	return ref, s.editSheet("change reference", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		if i < 0 || i >= len(sheet.Points) {
			return sheet, noPoint(i, sheet)
		}
		c := sheet.Points[i]
		c.Ref, c.Text, c.SigmaRefM, c.Source = ref.Grid, tidy(text), ref.lineSigma(), calib.TypedPoint
		sheet.SlipChosen = sheet.SlipChosen || chosen
		return sheet.SetPoint(i, c), nil
	})
}

// slipStands reports whether slips are named that would explain the control points.
// Whoever corrects one then chooses among them: all other points may as well be wrong
// the other way.
func (s *Session) slipStands() bool {
	sheet, _ := s.Sheet()
	v := s.Judged().Verdict(sheet.ID)
	return caution.Has(v.Cautions, caution.SlipNamed) || caution.Has(v.Cautions, caution.SlipSet)
}

// RemoveControlPoint takes control point i away. A sheet with many points is then judged
// beside the window, as after a move.
func (s *Session) RemoveControlPoint(i int) error {
	s.beside.late = s.beside.start != nil
	defer func() { s.beside.late = false }()
	chosen := s.slipStands()
	return s.editSheet("delete control point", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		if i < 0 || i >= len(sheet.Points) {
			return sheet, noPoint(i, sheet)
		}
		sheet = sheet.WithoutPoint(i)
		sheet.SlipChosen = (sheet.SlipChosen || chosen) && len(sheet.Points) > 0
		return sheet, nil
	})
}

func (s *Session) editPoint(name string, i int, f func(calib.ControlPoint) (calib.ControlPoint, error)) error {
	shown, _ := s.Sheet()
	return s.editSheet(name, fmt.Sprintf("%s %d", shown.ID, i), func(sheet plan.Sheet) (plan.Sheet, error) {
		if i < 0 || i >= len(sheet.Points) {
			return sheet, noPoint(i, sheet)
		}
		c, err := f(sheet.Points[i])
		if err != nil {
			return sheet, err
		}
		return sheet.SetPoint(i, c), nil
	})
}

func noPoint(i int, sheet plan.Sheet) error {
	return refuse("there is no control point %d: the sheet has %d", i+1, len(sheet.Points))
}
