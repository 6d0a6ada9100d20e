package session

import (
	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// Verdict says whether evidence checks the sheet shown, how closely, and what
// speaks against it.
func (s *Session) Verdict() check.Verdict {
	sheet, _ := s.Sheet()
	return s.Reader().Verdict(sheet.ID)
}

// AddEvidence keeps a position whose reference comes from that source, and not from
// the control points, as evidence of the sheet shown, and returns the verdict on
// the sheet with it. FromSheet takes the name of a mark that was picked on another
// sheet, FromTerrain the height of a contour, all others a reference with its letters. pickSigmaPx is the standard
// deviation of the click per axis in picture pixels. The error is a refusal, or that
// of the reference; then nothing is changed.
func (s *Session) AddEvidence(source calib.EvidenceSource, at calib.PicturePt, text string, pickSigmaPx float64) (check.Verdict, error) {
	if _, err := s.Calibration(); err != nil {
		return check.Verdict{}, err
	}
	e, err := s.readEvidence(source, tidy(text))
	if err != nil {
		return check.Verdict{}, err
	}
	e.At, e.SigmaPx = at, pickSigmaPx
	err = s.editSheet("add check", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		if len(sheet.Evidence) >= plan.MaxEvidence {
			return sheet, refuse("the sheet has %d checks, the most allowed: delete one first", len(sheet.Evidence))
		}
		return sheet.WithEvidence(e), nil
	})
	return s.Verdict(), err
}

// CheckEvidence says why what was typed cannot check the sheet, or nil. It depends on no
// position in the picture.
func (s *Session) CheckEvidence(source calib.EvidenceSource, text string) error {
	_, err := s.readEvidence(source, tidy(text))
	return err
}

// readEvidence reads what was typed as evidence.
func (s *Session) readEvidence(source calib.EvidenceSource, text string) (calib.Evidence, error) {
	switch source {
	case calib.FromSheet:
		return s.markAsEvidence(text)
	case calib.FromTerrain:
		if len(s.Plan().Terrain) == 0 {
			return calib.Evidence{}, refuse("the plan has no terrain to compare a height with. To open some: File → Open terrain…")
		}
		_, err := plan.ReadHeight(text)
		return calib.Evidence{Source: source, Text: text}, err
	case "":
		return calib.Evidence{}, refuse("choose where the reference comes from: that decides what it can check")
	}
	ref, err := s.CheckReference(text)
	if err != nil {
		return calib.Evidence{}, err
	}
	if ref.LettersInferred {
		return calib.Evidence{}, refuse("%s has no letters: they would come from %s, which may itself be 100 km out. Type the reference with its letters",
			text, s.Plan().SheetName(ref.LettersFrom))
	}
	if source == calib.FromMargin && ref.Read.Kind != geodesy.RefLatLon {
		return calib.Evidence{}, refuse("easting and northing in the margin are the map's own grid: they cannot show whether every control point is one grid square out. Type the latitude and longitude as printed in the margin, such as 56°10'N 6°20'W, or choose “this map's own grid”")
	}
	return plan.ReadEvidence(source, text, ref.Read.System, nil)
}

// markAsEvidence is the mark of that name, on the sheet that it was picked on.
func (s *Session) markAsEvidence(name string) (calib.Evidence, error) {
	shown, _ := s.Sheet()
	m, ok := s.Plan().MarkByName(name)
	from, there := s.Plan().SheetByID(m.Position.Sheet)
	switch {
	case !ok:
		return calib.Evidence{}, refuse("there is no mark %q: type the name of a mark that was picked on another sheet", name)
	case m.Position.Origin != plan.Picked || !there:
		return calib.Evidence{}, refuse("the mark %q was not picked on another sheet of the plan: type the reference of the feature instead", m.Name)
	case from.ID == shown.ID:
		return calib.Evidence{}, refuse("the mark %q was picked on this sheet and cannot check it: type the reference of the feature instead", m.Name)
	}
	return calib.Evidence{
		Source: calib.FromSheet, Text: m.Name, Ref: m.Position.Grid, Sheet: string(from.ID), SheetAt: m.Position.At, SheetSigmaPx: m.Position.PickSigmaPx,
	}, nil
}

// RemoveEvidence removes evidence i of the sheet shown, counted from 0.
func (s *Session) RemoveEvidence(i int) error {
	return s.editSheet("delete check", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		if i < 0 || i >= len(sheet.Evidence) {
			return sheet, refuse("there is no check %d: the sheet has %d", i+1, len(sheet.Evidence))
		}
		return sheet.WithoutEvidence(i), nil
	})
}
