package plan

import (
	"fmt"
	"slices"

	"legwright/app/calib"
)

// holdContradictions returns the plan without what is said against the place of
// a sheet that does not hold of its calibration, and what is to be told of that.
func (p *Plan) holdContradictions() (*Plan, []string) {
	q, notes := p, []string(nil)
	for _, s := range p.Sheets {
		why := s.contradictionFault()
		if why == "" {
			continue
		}
		s.Contradicted = calib.Contradiction{}
		q = q.with(func(r *Plan) { r.Sheets = replace(q.Sheets, s, func(x Sheet) bool { return x.ID == s.ID }) })
		notes = append(notes, fmt.Sprintf("%s does not count as contradicted by its printed grid any more: %s", p.SheetName(s.ID), why))
	}
	return q, notes
}

// contradictionFault says why what contradicts the place of a sheet does not
// hold, "" where it does or there is none.
func (s Sheet) contradictionFault() string {
	if !s.Contradicted.Found() {
		return ""
	}
	c, placed := s.placeByFile()
	switch {
	case !placed:
		return "no file places it now"
	case !c.Contradicts(s.Contradicted):
		return "where the sheet lies now, the crossings that were found agree"
	}
	return ""
}

// stillContradicted is what the crossings that contradicted a place say of the
// sheet's calibration as it is now.
func (s Sheet) stillContradicted() calib.Contradiction {
	c, placed := s.placeByFile()
	switch {
	case !placed || !c.Contradicts(s.Contradicted):
		return calib.Contradiction{}
	case len(s.Contradicted.By) == 0:
		return s.Contradicted
	}
	return c.ContradictedBy(s.Contradicted.By, s.Contradicted.SquareM)
}

// placeByFile returns the calibration of a sheet that owes its place to a file,
// false where there is none.
func (s Sheet) placeByFile() (*calib.Calibration, bool) {
	c, err := s.Calibration()
	return c, err == nil && s.RestsOnFile()
}

// RestsOnFile reports whether a file gave the sheet's matrix or any of its
// control points.
func (s Sheet) RestsOnFile() bool {
	return s.ByMatrix() || slices.ContainsFunc(s.Points, func(p calib.ControlPoint) bool { return p.Source == calib.FilePoint })
}
