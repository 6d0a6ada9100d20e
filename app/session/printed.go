package session

import (
	"errors"
	"fmt"
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
)

// NameCrossings holds crossings of the printed grid, which a person read off
// the map, against the place that the picture's file gives: its matrix, or the
// points that were read from it, which are passed. Where they prove it (see
// lattice.Proves) the sheet is proved, which is reported. The error is a refusal
// where the sheet is not placed by a file, or where the lines or a crossing do
// not agree; then nothing is changed.
func (s *Session) NameCrossings(l *lattice.Lattice, names []lattice.Name, ofFile []calib.ControlPoint) (bool, error) {
	sheet, _ := s.Sheet()
	c, err := s.Calibration()
	if err != nil {
		return false, err
	}
	if sheet.Fit != calib.Given && (len(ofFile) == 0 || !slices.Equal(ofFile, sheet.Points)) {
		return false, refuse("the sheet was calibrated by control points: named crossings prove only what a file says")
	}
	a, why := l.Against(c)
	switch {
	case a == nil:
		return false, refuse("%s", why)
	case !a.Agrees():
		return false, refuse("the printed grid does not agree with the file: its crossings lie %.1f px off in the median", a.MedianPx)
	}
	proves, err := l.Proves(c, names)
	var differs *lattice.Differs
	if errors.As(err, &differs) {
		return false, refuse("%s", differs.Error())
	}
	if err != nil || !proves {
		return false, err
	}
	return true, s.editSheet("prove sheet", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Proof = calib.Proof{Kind: calib.ProofPrintedGrid, Detail: fmt.Sprintf(
			"%d crossings of the printed grid, named from the map, lie where the file has them, and all %d agree within %.1f px",
			len(names), a.Crossings, a.WithinPx()), By: witnesses(l, names)}
		return sheet, nil
	})
}

// witnesses are the crossings that were named, where the finder has them.
func witnesses(l *lattice.Lattice, names []lattice.Name) []calib.ControlPoint {
	out := make([]calib.ControlPoint, 0, len(names))
	for _, n := range names {
		if x, ok := l.Nearest(n.At); ok {
			out = append(out, calib.ControlPoint{At: calib.PicturePt{Col: x.Col, Row: x.Row}, Ref: n.Ref})
		}
	}
	return out
}
