package plan

import (
	"slices"

	"legwright/app/calib"
)

// redrawing turns picture points of a sheet into those of the same picture drawn at
// another resolution. Pixels are counted from the corner of the first one, so nothing
// but the scale differs.
type redrawing struct{ col, row float64 }

func (r redrawing) at(p calib.PicturePt) calib.PicturePt {
	return calib.PicturePt{Col: p.Col * r.col, Row: p.Row * r.row}
}

// sigma scales a σ in pixels; 0 stands for that of a click.
func (r redrawing) sigma(px float64) float64 {
	if px == 0 {
		px = calib.DefaultSigmaPx
	}
	return px * (r.col + r.row) / 2
}

// sheet is the sheet with its control points, matrix and evidence on the new picture.
func (r redrawing) sheet(s Sheet) Sheet {
	s.Points, s.Evidence = slices.Clone(s.Points), slices.Clone(s.Evidence)
	for i, c := range s.Points {
		s.Points[i].At, s.Points[i].SigmaPx = r.at(c.At), r.sigma(c.SigmaPx)
	}
	for i, e := range s.Evidence {
		s.Evidence[i].At, s.Evidence[i].SigmaPx = r.at(e.At), r.sigma(e.SigmaPx)
	}
	if s.World != nil {
		m := *s.World
		s.WorldPx = r.sigma(s.WorldPx)
		m[0], m[3] = m[0]/r.col, m[3]/r.col
		m[1], m[4] = m[1]/r.row, m[4]/r.row
		s.World = &m
	}
	return s
}

// RedrawSheet returns the plan with the page of a sheet drawn at another resolution:
// w by h pixels, dpi pixels per inch. Whatever was clicked on it stays on its feature
// and as uncertain on the ground as it was. A sheet without a size, or one that is not
// in the plan, stays as it is.
func (p *Plan) RedrawSheet(id ID, page Page, w, h int, dpi float64) *Plan {
	old, ok := p.SheetByID(id)
	if !ok || old.Width <= 0 || old.Height <= 0 {
		return p
	}
	r := redrawing{float64(w) / float64(old.Width), float64(h) / float64(old.Height)}
	next := r.sheet(old)
	next.Page, next.Width, next.Height, next.DPI = page, w, h, dpi
	before, errBefore := old.Calibration()
	now, errNow := next.Calibration()
	fits := errBefore == nil && errNow == nil
	q := p.with(func(q *Plan) {
		q.Sheets = slices.Clone(p.Sheets)
		for i, s := range q.Sheets {
			if s.ID == id {
				s = next
			}
			q.Sheets[i] = r.evidenceFrom(id, s)
		}
	})
	return q.mapPositions(func(pos Position) Position {
		switch {
		case pos.Sheet != id:
		case pos.Origin == Picked:
			pos.At, pos.PickSigmaPx = r.at(pos.At), pos.PickSigmaPx*(r.col+r.row)/2
			if fits {
				return PickedAt(next, now, pos.At, pos.PickSigmaPx)
			}
		case pos.DerivedFromSheet() && fits && pos.Code == next.Code:
			if g := now.ToGrid(r.at(before.ToPicture(pos.Grid))); g.IsFinite() {
				pos.Grid = g
			}
		}
		return pos
	})
}

// evidenceFrom is a sheet with the points of the redrawn sheet that its evidence
// compares with.
func (r redrawing) evidenceFrom(id ID, s Sheet) Sheet {
	for i, e := range s.Evidence {
		if e.Source == calib.FromSheet && ID(e.Sheet) == id {
			s.Evidence = slices.Clone(s.Evidence)
			s.Evidence[i].SheetAt, s.Evidence[i].SheetSigmaPx = r.at(e.SheetAt), e.SheetSigmaPx*(r.col+r.row)/2
		}
	}
	return s
}
