package calib

import "math"

// sway is the displacement field of the paper in a form that is quick to
// evaluate: a linear part for stretch and shear, and a weight at each control
// point for the bend.
type sway struct {
	linear [2][3]float64 // by axis: times column and row from the centre, constant
	col    float64
	row    float64
	pulls  []pull
	narrow float64 // −1/(2·length²)
}

// pull is a control point, and its weight along columns and rows in pixels.
type pull struct{ col, row, byCol, byRow float64 }

// sway takes the field of the estimate; the zero field for a given matrix.
func (e *estimate) sway() sway {
	f := e.plane.frame
	s := sway{col: f.col, row: f.row}
	if e.gls == nil {
		return s
	}
	t := e.gls.theta[e.design.plane:]
	s.linear = [2][3]float64{{t[0], t[2], 0}, {0, t[1], 0}}
	p := e.design.paper
	s.narrow = -1 / (2 * p.lengthPx * p.lengthPx)
	k := p.bendPx * p.bendPx
	for i, at := range e.gls.at {
		s.pulls = append(s.pulls, pull{at.Col, at.Row, k * e.gls.weight[0][i], k * e.gls.weight[1][i]})
	}
	return s
}

// step is the displacement at a point, in pixels.
func (s *sway) step(p PicturePt) (col, row float64) {
	u, v := p.Col-s.col, p.Row-s.row
	col = s.linear[0][0]*u + s.linear[0][1]*v + s.linear[0][2]
	row = s.linear[1][0]*u + s.linear[1][1]*v + s.linear[1][2]
	for _, by := range s.pulls {
		dc, dr := p.Col-by.col, p.Row-by.row
		k := math.Exp(s.narrow * (dc*dc + dr*dr))
		col += k * by.byCol
		row += k * by.byRow
	}
	return col, row
}

// moved is where the paper was before it stretched and bent.
func (s *sway) moved(p PicturePt) PicturePt {
	col, row := s.step(p)
	return PicturePt{p.Col + col, p.Row + row}
}

// back inverts moved. Paper moves by a few parts in a hundred at most, so that
// each round wins a digit or two.
func (s *sway) back(to PicturePt) PicturePt {
	p := to
	for range 60 {
		at := s.moved(p)
		dc, dr := to.Col-at.Col, to.Row-at.Row
		p = PicturePt{p.Col + dc, p.Row + dr}
		if !(math.Abs(dc)+math.Abs(dr) > 1e-9*(1+math.Abs(p.Col)+math.Abs(p.Row))) {
			break
		}
	}
	return p
}
