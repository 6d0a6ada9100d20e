package session

import (
	"errors"
	"fmt"
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
)

// HoldAgainst holds the printed grid that was found against the place that the
// picture's file gives the sheet in hand. What it says against the place, or that
// it agrees now, is kept with the sheet, as an act of its own where that is new;
// nothing is kept of a sheet that owes its place to no file. The Agreement is nil
// where the two cannot be compared, and why says so; the sheet then stays as it
// is. The error is that of Calibration.
func (s *Session) HoldAgainst(l *lattice.Lattice) (a *lattice.Agreement, why string, err error) {
	c, err := s.Calibration()
	if err != nil {
		return nil, "", err
	}
	if a, why = l.Against(c); a == nil {
		return nil, why, nil
	}
	if sheet, _ := s.Sheet(); !sheet.RestsOnFile() {
		return a, "", nil
	}
	return a, "", s.contradict(l.Contradiction(c))
}

// TakeDoubt keeps with the sheet in hand that its file says itself that a printed
// grid contradicts the place it gives, and by how much.
func (s *Session) TakeDoubt(detail string) error {
	return s.contradict(calib.Contradiction{Detail: detail})
}

// SetAside takes back what the printed grid said against the place of the sheet
// in hand, for a person sees that the lines are another grid's or none. The sheet
// stays unproved.
func (s *Session) SetAside() error { return s.contradict(calib.Contradiction{}) }

func (s *Session) contradict(d calib.Contradiction) error {
	sheet, _ := s.Sheet()
	if sheet.Contradicted.Same(d) {
		return nil
	}
	name := "hold against the printed grid"
	if !d.Found() {
		name = "drop the doubt about the place"
	}
	return s.editSheet(name, "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Contradicted = d
		return sheet, nil
	})
}

// prove keeps the proof that f gives the sheet in hand. A place that its printed
// grid contradicts is proved by nothing: how far a feature may be off is taken
// from what the file says of itself, and lines show more than one place does.
func (s *Session) prove(f func(plan.Sheet) (plan.Sheet, error)) error {
	return s.editSheet("prove sheet", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		next, err := f(sheet)
		if err == nil && next.Contradicted.Found() {
			err = refuse("%s. Calibrate the sheet by its printed grid, or, where the lines are another grid's, say so; then prove it", next.Contradicted.Words())
		}
		return next, err
	})
}

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
	if !sheet.ByMatrix() && (len(ofFile) == 0 || !slices.Equal(ofFile, sheet.Points)) {
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
	return true, s.prove(func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Contradicted = calib.Contradiction{} // all lines agree
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
