package session

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/plan"
)

// TakeIntersections makes the intersections of a printed grid the sheet's control
// points, as one step. Points that were set by hand and lie on an intersection are
// replaced by it. It keeps their text unless it has its own. A point that lies off the
// intersection it names is moved onto it, or stays in its place. Other points stay, but not
// those of the picture's own file: if that is wrong they would bend the printed grid.
// Errors: ErrNoSheet, a refusal without a grid, and those of calib.
func (s *Session) TakeIntersections(intersections []calib.ControlPoint, reachPx float64, move bool) error {
	return s.editSheet("use printed grid", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		if sheet.Code == "" {
			return sheet, refuse("choose the grid of the sheet first, or type the reference of one intersection")
		}
		var kept []calib.ControlPoint
		text, left := map[int]string{}, map[int]bool{}
		for _, p := range sheet.Points {
			if p.Source == calib.FilePoint {
				sheet.WorldM, sheet.Medium = 0, calib.Scan
				continue
			}
			i := intersectionNear(intersections, p.At, reachPx)
			named := slices.IndexFunc(intersections, func(c calib.ControlPoint) bool { return calib.SameGround(c.Ref, p.Ref) })
			switch {
			case i >= 0:
				text[i] = p.Text
			case named >= 0 && move:
				text[named] = p.Text
			default:
				left[named] = true
				kept = append(kept, p)
			}
		}
		sheet.Points, sheet.SlipChosen = nil, sheet.SlipChosen && len(kept) > 0
		for i, c := range intersections {
			if left[i] {
				continue
			}
			if c.Text == "" {
				c.Text = text[i]
			}
			if c.Text == "" {
				c.Text = fmt.Sprintf("%.0f %.0f", c.Ref.E, c.Ref.N)
			}
			sheet = sheet.WithPoint(c)
		}
		for _, p := range kept {
			sheet = sheet.WithPoint(p)
		}
		return sheet, nil
	})
}

// intersectionNear gives the index of the intersection nearest to a point within
// reach, or −1.
func intersectionNear(cs []calib.ControlPoint, at calib.PicturePt, reach float64) int {
	best := -1
	for i, c := range cs {
		if d := math.Hypot(c.At.Col-at.Col, c.At.Row-at.Row); d <= reach {
			best, reach = i, d
		}
	}
	return best
}
