package session

import (
	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// proveByMargin holds a place whose latitude and longitude the map's margin
// prints against the calibration of the sheet in hand, which was made from grid
// references.
func (s *Session) proveByMargin(c *calib.Calibration, at calib.PicturePt, text string, pickSigmaPx float64) error {
	hand, _ := s.Sheet()
	proof, err := marginProof(hand, c, at, text, pickSigmaPx)
	if err != nil {
		return err
	}
	return s.prove(func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Proof = proof
		return sheet, nil
	})
}

// marginProof is the proof of a sheet with its calibration by a place whose
// latitude and longitude the margin prints. It agrees if it does on WGS 84, or
// else on the grid's own datum. The error says by how much it does not, or why it
// proves nothing.
func marginProof(sheet plan.Sheet, c *calib.Calibration, at calib.PicturePt, text string, pickSigmaPx float64) (calib.Proof, error) {
	places, err := sheet.MarginPlaces(text)
	if err != nil {
		return calib.Proof{}, err
	}
	reason := ""
	for i, m := range places {
		if why := sheet.PrintedAlike(c, at, m.Grid, m.SigmaM, calib.ProofMargin); why != "" {
			return calib.Proof{}, refuse("%s", why)
		}
		proof, _, ok := calib.CheckMargin(c, at, m.Grid, m.SigmaM, pickSigmaPx)
		if ok {
			if why := sheet.MarginMisread(c, proof.By[0], places, i); why != "" {
				return calib.Proof{}, refuse("%s", why)
			}
			proof.By[0].Text = text
			proof.Detail += datumWords(m.Own)
			return proof, nil
		}
		why := calib.ExamineMargin(c, at, m.Grid, m.SigmaM, pickSigmaPx).Reason
		switch {
		case reason == "":
			reason = why
		case reason != why:
			reason += ". On the grid's own datum: " + why
		}
	}
	return calib.Proof{}, refuse("%s", reason)
}

// leastBeside is how many control points must be left where one becomes a proof:
// so many that a slip in one of them shows in the others.
const leastBeside = 3

// ProveByControlPoint makes control point i, counted from 0, a proof: it is taken
// out of the calibration, and the latitude and longitude that the margin prints
// at its place are held against what the others say. After a printed grid was
// taken, the corners of the map are control points. One step of undo; where it
// does not agree nothing is changed, and the error says by how much or why.
func (s *Session) ProveByControlPoint(i int, text string) error {
	hand, _ := s.Sheet()
	switch {
	case i < 0 || i >= len(hand.Points):
		return noPoint(i, hand)
	case len(hand.Points) <= leastBeside:
		return refuse("a control point can become the proof where %d others are left, and there are %d: take a place that is none", leastBeside, len(hand.Points)-1)
	}
	p, rest := hand.Points[i], hand.WithoutPoint(i)
	ref, err := s.CheckReference(text)
	if err != nil {
		return err
	}
	if ref.Read.Kind != geodesy.RefLatLon || !rest.ByGridReferences() {
		return refuse("this is control point %d, made from its grid reference. What proves the sheet here is other figures: type the latitude and longitude that the margin prints at this very place", i+1)
	}
	c, err := rest.Calibration()
	if err != nil {
		return err
	}
	pick := p.SigmaPx
	if pick == 0 {
		pick = calib.DefaultSigmaPx
	}
	proof, err := marginProof(rest, c, p.At, tidy(text), pick)
	if err != nil {
		return err
	}
	return s.prove(func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet = sheet.WithoutPoint(i)
		sheet.Proof = proof
		return sheet, nil
	})
}

// datumWords says on which datum a latitude and longitude agreed.
func datumWords(own bool) string {
	if own {
		return ", taken on the grid's own datum, not WGS 84: whether that datum is the right one is not shown"
	}
	return ", on WGS 84"
}
