package session

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
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
		sheet.Proof = calib.Proof{Kind: lattice.ProofPrintedGrid, Detail: fmt.Sprintf(
			"%d crossings of the printed grid, named from the map, lie where the file has them, and all %d agree within %.1f px",
			len(names), a.Crossings, a.WithinPx())}
		return sheet, nil
	})
}

// roundM is a divisor of the distances of printed lines on nearly all maps for
// walking, in metres (common practice, no source).
const roundM = 500

// samePlacePx is how near a crossing a feature is taken to be that crossing, as
// calib takes control points.
const samePlacePx = 10

// onPrintedLines reports whether a reference lies where two printed lines may
// cross, within a distance per axis.
func onPrintedLines(e, n, reachM float64) bool {
	return math.Abs(math.Remainder(e, roundM)) <= reachM && math.Abs(math.Remainder(n, roundM)) <= reachM
}

// oneCrossing refuses a crossing of the printed grid as the feature that proves
// a sheet placed by a file.
func oneCrossing(s *Session, c *calib.Calibration, at geodesy.Grid) error {
	if sheet, _ := s.Sheet(); sheet.Fit != calib.Given || !onPrintedLines(at.E, at.N, samePlacePx*c.MetresPerPixel()) {
		return nil
	}
	return refuse("one crossing of the printed grid agrees as well where the file is turned or mirrored about it: check the file against the printed grid and name three crossings, or take a trig pillar or another feature off the lines")
}
