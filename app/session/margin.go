package session

import (
	"legwright/app/calib"
	"legwright/app/plan"
)

// proveByMargin holds a place whose latitude and longitude the map's margin
// prints against the calibration of the sheet in hand, which was made from grid
// references. It agrees if it does on WGS 84, or else on the grid's own datum.
// The error says by how much it does not, or why it proves nothing.
func (s *Session) proveByMargin(c *calib.Calibration, at calib.PicturePt, text string, pickSigmaPx float64) error {
	hand, _ := s.Sheet()
	places, err := hand.MarginPlaces(text)
	if err != nil {
		return err
	}
	reason := ""
	for _, m := range places {
		if why := hand.PrintedAlike(c, at, m.Grid, m.SigmaM, calib.ProofMargin); why != "" {
			return refuse("%s", why)
		}
		proof, _, ok := calib.CheckMargin(c, at, m.Grid, m.SigmaM, pickSigmaPx)
		if ok {
			return s.prove(func(sheet plan.Sheet) (plan.Sheet, error) {
				proof.By[0].Text = text
				proof.Detail += datumWords(m.Own)
				sheet.Proof = proof
				return sheet, nil
			})
		}
		why := calib.ExamineMargin(c, at, m.Grid, m.SigmaM, pickSigmaPx).Reason
		switch {
		case reason == "":
			reason = why
		case reason != why:
			reason += ". On the grid's own datum: " + why
		}
	}
	return refuse("%s", reason)
}

// datumWords says on which datum a latitude and longitude agreed.
func datumWords(own bool) string {
	if own {
		return ", taken on the grid's own datum, not WGS 84: whether that datum is the right one is not shown"
	}
	return ", on WGS 84"
}
