package plan

import (
	"fmt"

	"legwright/app/calib"
)

// HoldProofs returns the plan without the proofs of its sheets that do not hold
// when they are made again from what the plan says of them, each told in the
// plan's Mended. It is for a plan that comes from a file: there the word
// "proved" may stand beside another calibration than that which was proved. What
// contradicts a place is shown again too, and dropped where it says nothing of
// the calibration.
func (p *Plan) HoldProofs() *Plan {
	q, notes := p.holdContradictions()
	for dropped := true; dropped; { // a sheet may be proved by another one
		dropped = false
		for _, s := range q.Sheets {
			why := q.proofFault(s)
			if why == "" {
				continue
			}
			s.Proof, s.ProofExtra, s.WitnessExtra = calib.Proof{}, "", nil
			q = q.with(func(r *Plan) { r.Sheets = replace(q.Sheets, s, func(x Sheet) bool { return x.ID == s.ID }) })
			notes = append(notes, fmt.Sprintf("%s counts as unproved, for the proof in the file does not hold: %s", p.SheetName(s.ID), why))
			dropped = true
		}
	}
	if len(notes) == 0 {
		return p
	}
	return q.with(func(r *Plan) { r.Mended = append(append([]string(nil), p.Mended...), notes...) })
}

// proofFault says why the proof of a sheet does not hold, "" where it does or
// there is none.
func (p *Plan) proofFault(s Sheet) string {
	switch {
	case !s.Proof.Proved():
		return ""
	case s.Contradicted.Found():
		return s.Contradicted.Words()
	}
	c, err := s.Calibration()
	if err != nil {
		return err.Error()
	}
	for _, other := range p.Sheets {
		if s.Proof.Kind == ProofBySheet(other.ID) && (!other.Proof.Proved() || other.ID == s.ID) {
			return fmt.Sprintf("it rests on %s, which is not proved itself", p.SheetName(other.ID))
		}
	}
	if why := c.Upholds(s.Proof); why != "" || s.Proof.Kind == calib.ProofPrintedGrid {
		return why
	}
	for _, q := range s.Proof.By {
		if s.Proof.Kind == calib.ProofFeature && lettersLent(q.Text, s.Code, q.Ref) {
			return fmt.Sprintf("“%s” was typed without its letters, which were supplied from the sheet itself", q.Text)
		}
		if why := s.PrintedAlike(c, q.At, q.Ref, q.SigmaRefM, s.Proof.Kind); why != "" {
			return why
		}
		if s.Proof.Kind != calib.ProofMargin {
			continue
		}
		if why := s.marginFault(c, q); why != "" {
			return why
		}
	}
	return ""
}
