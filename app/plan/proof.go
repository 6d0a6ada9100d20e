package plan

import (
	"fmt"

	"legwright/app/calib"
)

// HoldProofs repeats the checks of the sheets from the plan's own data and returns
// the plan without those that fail; Mended names each. It is for a plan from a file,
// where the word "proved" may stand beside another calibration than the one that was
// checked. It also compares again what contradicts a picture's georeference, and
// drops it if the calibration agrees.
func (p *Plan) HoldProofs() *Plan {
	q, notes := p.holdContradictions()
	drop := func(s Sheet, why string) bool {
		if why == "" {
			return false
		}
		s.Proof = calib.Proof{}
		q = q.with(func(r *Plan) { r.Sheets = replace(q.Sheets, s, func(x Sheet) bool { return x.ID == s.ID }) })
		notes = append(notes, fmt.Sprintf("%s counts as unproved, because the proof in the file fails: %s", p.SheetName(s.ID), why))
		return true
	}
	for _, s := range q.Sheets {
		drop(s, s.proofFault())
	}
	for dropped := true; dropped; { // one sheet may check another
		dropped = false
		for _, s := range q.Sheets {
			dropped = drop(s, q.restsOnUnproved(s)) || dropped
		}
	}
	if len(notes) == 0 {
		return p
	}
	return q.with(func(r *Plan) { r.Mended = append(append([]string(nil), p.Mended...), notes...) })
}

// restsOnUnproved names the unchecked sheet that a sheet was checked by, or "".
func (p *Plan) restsOnUnproved(s Sheet) string {
	for _, other := range p.Sheets {
		if s.Proof.Kind == ProofBySheet(other.ID) && (!other.Proof.Proved() || other.ID == s.ID) {
			return fmt.Sprintf("it rests on %s, which is itself unproved", p.SheetName(other.ID))
		}
	}
	return ""
}

// proofFault returns why the check of a sheet contradicts the sheet's own data, or ""
// if it does not or there is no check.
func (s Sheet) proofFault() string {
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
	if why := c.Upholds(s.Proof); why != "" || s.Proof.Kind == calib.ProofPrintedGrid {
		return why
	}
	if s.Proof.Kind == calib.ProofMargin && !s.ByGridReferences() {
		return noMargin(s.Proof.By[0].Text)
	}
	for _, q := range s.Proof.By {
		if s.Proof.Kind == calib.ProofFeature && LettersLent(q.Text, s.Code, q.Ref) {
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
