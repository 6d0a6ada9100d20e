package overlay

import (
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// eastOf is outing with a second sheet east of the first, upside down and at
// 5 m a pixel, its own corner at E 223 000, N 770 000; a mark is picked on it.
func eastOf(t *testing.T) (*plan.Plan, *leg.Reader) {
	t.Helper()
	p, _, _ := outing(t)
	s := plan.Sheet{ID: "sheet-2", Width: 1000, Height: 900, Code: geodesy.EPSG(27700)}
	for _, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 900, Row: 100}, {Col: 100, Row: 800}} {
		s.Points = append(s.Points, calib.ControlPoint{At: at, Ref: geodesy.Grid{E: 223_000 - 5*at.Col, N: 770_000 + 5*at.Row}})
	}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	p = p.SetSheet(s).AddMark(plan.Mark{ID: "ford", Name: "Ford", Position: plan.PickedAt(s, c, calib.PicturePt{Col: 400, Row: 500}, 0.5)})
	hut, _ := p.MarkByID("hut")
	ford, _ := p.MarkByID("ford")
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: plan.AtMark(hut), To: plan.AtMark(ford)})
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	return p, r
}

// Each sheet shows the marks and legs of both, where their ground is on it.
func TestSceneOfTheOtherSheet(t *testing.T) {
	t.Parallel()
	p, r := eastOf(t)
	for _, c := range []struct {
		sheet      plan.ID
		controls   int
		hut, cairn view.PicPt
		ford       view.PicPt
		tolPx      float64
	}{
		// Ford is at E 221 000, N 772 500; Cairn at 217 000, 773 000; Hut at
		// about 216 250, 773 500 by a fit with one point 2 px off.
		{"sheet-1", 4, view.PicPt{X: 300.25, Y: 400.5}, view.PicPt{X: 600, Y: 600}, view.PicPt{X: 2200, Y: 800}, 3},
		{"sheet-2", 3, view.PicPt{X: 1350, Y: 700}, view.PicPt{X: 1200, Y: 600}, view.PicPt{X: 400, Y: 500}, 1.5},
	} {
		fit, err := r.CalibrationOf(c.sheet)
		if err != nil {
			t.Fatal(err)
		}
		s := SceneOf(p, r, fit, Selection{}, Options{Sheet: c.sheet})
		if len(s.Marks) != 3 || len(s.Legs) != 2 || len(s.Controls) != c.controls {
			t.Fatalf("%s: %d marks, %d legs, %d control points", c.sheet, len(s.Marks), len(s.Legs), len(s.Controls))
		}
		near(t, string(c.sheet)+" hut", s.Marks[0].At, c.hut, c.tolPx)
		near(t, string(c.sheet)+" cairn", s.Marks[1].At, c.cairn, c.tolPx)
		near(t, string(c.sheet)+" ford", s.Marks[2].At, c.ford, c.tolPx)
		near(t, string(c.sheet)+" leg's end", s.Legs[1].To, s.Marks[2].At, 0)
	}
	if s := SceneOf(p, r, nil, Selection{}, Options{Sheet: "none"}); !s.Empty() {
		t.Error("a sheet that is not there has a scene")
	}
}

// turnedAt is the ground in a picture of 1600 × 1200 pixels by a camera of usual
// lens, turned so far to the side that the horizon stands at column −2500.
func turnedAt(at calib.PicturePt) geodesy.Grid {
	u, v := at.Col-800, at.Row-600
	const focal = 1.06 * 2000
	tilt := math.Atan(focal / 3300.0)
	scale := 3.3 / (1 + u/3300)
	return geodesy.Grid{E: 217_500 + scale*u/math.Cos(tilt), N: 773_000 - scale*v}
}

// A photograph has a horizon: ground beyond it is nowhere on the picture, and
// a place far off the picture is a guess. Neither is drawn.
func TestAPhotographShowsNoGroundBeyondItsReach(t *testing.T) {
	t.Parallel()
	var points []calib.ControlPoint
	for _, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 1500, Row: 100}, {Col: 1500, Row: 1100}, {Col: 100, Row: 1100}} {
		points = append(points, calib.ControlPoint{At: at, Ref: turnedAt(at)})
	}
	sheet := plan.Sheet{ID: "sheet-1", Width: 1600, Height: 1200, Code: geodesy.EPSG(27700), Medium: calib.Photograph, Points: points}
	c, err := sheet.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	at := func(col, row float64) geodesy.Grid { return turnedAt(calib.PicturePt{Col: col, Row: row}) }
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 25}).SetSheet(sheet)
	for _, m := range []struct {
		id plan.ID
		g  geodesy.Grid
	}{{"on it", at(800, 600)}, {"beside it", at(2400, 600)}, {"far off", at(9000, 600)}, {"beyond the horizon", at(-4000, 600)}} {
		p = p.AddMark(plan.Mark{ID: m.id, Name: string(m.id), Position: plan.Position{Grid: m.g, Code: geodesy.EPSG(27700), Origin: plan.Typed}})
	}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	s := SceneOf(p, r, c, Selection{}, Options{})
	if len(s.Marks) != 2 {
		t.Fatalf("got %+v, want two marks", s.Marks)
	}
	near(t, "on it", s.Marks[0].At, view.PicPt{X: 800, Y: 600}, 0.1)
	near(t, "beside it", s.Marks[1].At, view.PicPt{X: 2400, Y: 600}, 0.5)
}

// On an unchecked sheet nothing is drawn by the sheet's own calibration: whoever clicks
// a diamond that it drew compares the sheet with itself.
func TestOnlyWhatWasPickedHereIsDrawn(t *testing.T) {
	t.Parallel()
	p, r := eastOf(t)
	for _, c := range []struct {
		sheet plan.ID
		marks int
		legs  int
	}{{"sheet-1", 1, 0}, {"sheet-2", 1, 0}} { // one mark is typed, and each leg ends elsewhere
		fit, err := r.CalibrationOf(c.sheet)
		if err != nil {
			t.Fatal(err)
		}
		s := SceneOf(p, r, fit, Selection{}, Options{Sheet: c.sheet, PickedHere: true})
		if len(s.Marks) != c.marks || len(s.Legs) != c.legs || len(s.Controls) == 0 {
			t.Errorf("%s: %d marks, %d legs, %d control points, want %d and %d", c.sheet, len(s.Marks), len(s.Legs), len(s.Controls), c.marks, c.legs)
		}
	}
}
