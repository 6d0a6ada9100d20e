package session

import (
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
)

// CompareWithLines compares the printed grid found with the georeference of
// the sheet shown. Where a file gave that and the lines disagree, they are kept as
// evidence; where they agree now, what was kept is removed: an act of its own where
// that changes the sheet. The Agreement is nil where the two cannot be compared, and
// why says so. The error is that of Calibration.
func (s *Session) CompareWithLines(l *lattice.Lattice) (a *lattice.Agreement, why string, err error) {
	c, err := s.Calibration()
	if err != nil {
		return nil, "", err
	}
	if a, why = l.Against(c); a == nil {
		return nil, why, nil
	}
	sheet, _ := s.Sheet()
	switch {
	case !sheet.RestsOnFile():
		return a, "", nil
	case a.Agrees():
		return a, "", s.RemoveFoundLines()
	}
	return a, "", s.keepLines(l.Unnamed(a.SquareM))
}

// RemoveFoundLines removes the printed lines that were kept as evidence, for a person
// sees that they are another grid's or none.
func (s *Session) RemoveFoundLines() error { return s.keepLines(nil) }

func (s *Session) keepLines(lines []calib.Evidence) error {
	sheet, _ := s.Sheet()
	next := sheet.WithoutFoundLines()
	for _, e := range lines {
		if len(next.Evidence) < plan.MaxEvidence {
			next = next.WithEvidence(e)
		}
	}
	if slices.Equal(next.Evidence, sheet.Evidence) {
		return nil
	}
	name := "keep the grid found"
	if len(lines) == 0 {
		name = "delete the grid found"
	}
	return s.editSheet(name, "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Evidence = next.Evidence
		return sheet, nil
	})
}
