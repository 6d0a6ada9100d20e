package rectify

import (
	"math"

	"legwright/app/calib"
)

// nine is what was seen at the corners, the middles of the sides and the centre
// of a rectangle, row by row.
type nine [3][3]spot

// any says whether one of them is of a state, every whether all are.
func (s *nine) any(is state) bool {
	for _, row := range s {
		for _, p := range row {
			if p.is == is {
				return true
			}
		}
	}
	return false
}

func (s *nine) every(is state) bool {
	for _, row := range s {
		for _, p := range row {
			if p.is != is {
				return false
			}
		}
	}
	return true
}

// clearPx is how far beside the picture all nine must lie for what is between
// them to lie there too: a part of a block.
const clearPx = 32

// beside says whether all lie beyond one side of a picture.
func (s *nine) beside(width, height float64) bool {
	left, right, above, below := true, true, true, true
	for _, row := range s {
		for _, p := range row {
			left, right = left && p.at.Col < -clearPx, right && p.at.Col > width+clearPx
			above, below = above && p.at.Row < -clearPx, below && p.at.Row > height+clearPx
		}
	}
	return left || right || above || below
}

// between interpolates, by a parabola through three of them along each axis; u
// and v go from 0 to 1.
func (s *nine) between(u, v float64) calib.PicturePt { return along(s.row(v), u) }

// row is a row between the three.
func (s *nine) row(v float64) (out [3]calib.PicturePt) {
	w := parabola(v)
	for i := range out {
		out[i].Col = w[0]*s[0][i].at.Col + w[1]*s[1][i].at.Col + w[2]*s[2][i].at.Col
		out[i].Row = w[0]*s[0][i].at.Row + w[1]*s[1][i].at.Row + w[2]*s[2][i].at.Row
	}
	return out
}

// along is a point on a row.
func along(row [3]calib.PicturePt, u float64) calib.PicturePt {
	w := parabola(u)
	return calib.PicturePt{
		Col: w[0]*row[0].Col + w[1]*row[1].Col + w[2]*row[2].Col,
		Row: w[0]*row[0].Row + w[1]*row[1].Row + w[2]*row[2].Row,
	}
}

// parabola are the weights at t of the values at 0, ½ and 1 (Lagrange).
func parabola(t float64) [3]float64 {
	return [3]float64{(2*t - 1) * (t - 1), 4 * t * (1 - t), t * (2*t - 1)}
}

// holds asks at four points more whether interpolation leads to them.
func (s *nine) holds(look func(u, v float64) spot) bool {
	for _, at := range [4][2]float64{{0.25, 0.25}, {0.75, 0.25}, {0.25, 0.75}, {0.75, 0.75}} {
		got, want := s.between(at[0], at[1]), look(at[0], at[1])
		if want.is == blank || !(math.Hypot(got.Col-want.at.Col, got.Row-want.at.Row) <= tolerancePx) {
			return false
		}
	}
	return true
}
