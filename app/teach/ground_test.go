package teach_test

import (
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// The ground of these tests is invented: it lies in the sea west of Scotland.
const (
	eastM, northM = 55_000, 795_000
	grid          = geodesy.Code("EPSG:27700")
)

func today() plan.Date { return plan.Date{Year: 2026, Month: time.November, Day: 28} }

// at is a typed position, in metres from the middle of the ground, with its σ per axis.
func at(e, n, sigmaM float64) plan.Position {
	return plan.Position{Grid: geodesy.Grid{E: eastM + e, N: northM + n}, Code: grid, Origin: plan.Typed, Text: "typed", SigmaM: sigmaM}
}

// sheet is 5 m to the pixel with its top left corner at E 50 000 N 800 000.
func sheet() plan.Sheet {
	s := plan.Sheet{ID: "sheet-1", Width: 2000, Height: 2000, Code: grid}
	for _, p := range [][2]float64{{200, 200}, {1800, 1800}, {200, 1800}, {1800, 200}, {1000, 900}} {
		s.Points = append(s.Points, calib.ControlPoint{
			At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: 50_000 + 5*p[0], N: 800_000 - 5*p[1]},
		})
	}
	return s
}

// picked is a position picked on a sheet, in pixels.
func picked(t testing.TB, s plan.Sheet, col, row, sigmaPx float64) plan.Position {
	t.Helper()
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	return plan.PickedAt(s, c, calib.PicturePt{Col: col, Row: row}, sigmaPx)
}

// marked is a plan with marks named A, B, …
func marked(p *plan.Plan, at ...plan.Position) *plan.Plan {
	for i, pos := range at {
		p = p.AddMark(plan.Mark{ID: plan.ID("mark-" + plan.Letters(i)), Name: plan.Letters(i), Position: pos})
	}
	return p
}

func reader(t testing.TB, p *plan.Plan) *leg.Reader {
	t.Helper()
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func deg(d float64) units.Angle { return units.Degrees(d) }
