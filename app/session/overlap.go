package session

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/plan"
)

// proveByMark holds a mark that was picked on a proved sheet against the
// calibration of the sheet in hand: where two panels overlap, the one proves
// the other. at is where the mark's feature was clicked on the sheet in hand.
// The proof falls with that of the other sheet. The error says by how much the
// two do not agree, or why the mark proves nothing.
func (s *Session) proveByMark(at calib.PicturePt, m plan.Mark, pickSigmaPx float64) error {
	c, err := s.Calibration()
	if err != nil {
		return err
	}
	from, sigma, err := s.provedPlace(m)
	if err != nil {
		return err
	}
	ref := m.Position.Grid
	hand, _ := s.Sheet()
	if why := hand.PrintedAlike(c, at, ref, sigma, plan.ProofBySheet(from.ID)); why != "" {
		return refuse("%s", why)
	}
	check := calib.ExamineFeature(c, at, ref, sigma, pickSigmaPx)
	if !check.Agrees {
		return refuse("%s and %s: %s", m.Name, s.Plan().SheetName(from.ID), check.Reason)
	}
	return s.prove(func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Proof = calib.Proof{
			Kind: plan.ProofBySheet(from.ID), Detail: fmt.Sprintf(
				"the mark “%s”, picked on the proved sheet %s, lies where this sheet has it: off by %.1f m, %.1f of the 2 sigma allowed",
				m.Name, s.Plan().SheetName(from.ID), check.MissM, check.MissSigmas),
			By: []calib.ControlPoint{{At: at, Ref: ref, Text: m.Name, SigmaPx: pickSigmaPx, SigmaRefM: sigma}},
		}
		return sheet, nil
	})
}

// provedPlace returns the sheet that a mark was picked on and the mark's σ per
// axis in metres, or why its place proves nothing of the sheet in hand.
func (s *Session) provedPlace(m plan.Mark) (plan.Sheet, float64, error) {
	hand, _ := s.Sheet()
	from, ok := s.Plan().SheetByID(m.Position.Sheet)
	switch {
	case m.Position.Origin != plan.Picked || !ok:
		return from, 0, refuse("the mark %q was not picked on another sheet of the plan: type the reference of the feature instead", m.Name)
	case from.ID == hand.ID:
		return from, 0, refuse("the mark %q was picked on this sheet itself, and proves nothing of it", m.Name)
	case !from.Proof.Proved():
		return from, 0, refuse("the mark %q was picked on %s, which is not proved itself", m.Name, s.Plan().SheetName(from.ID))
	}
	c, err := s.Reader().CalibrationOf(from.ID)
	if err != nil {
		return from, 0, err
	}
	if ok, px := c.Trusted(m.Position.At); !ok {
		return from, 0, refuse("the mark %q lies %.0f pixels outside the control points of %s, where its fit is a guess", m.Name, px, s.Plan().SheetName(from.ID))
	}
	cov := c.Covariance(m.Position.At, m.Position.PickSigmaPx)
	return from, math.Sqrt(math.Max(cov.EE, cov.NN)), nil
}
