package plan

import (
	"math"
	"testing"

	"legwright/app/calib"
)

// A page drawn at another resolution keeps its calibration, and whatever was clicked
// on it stays on its feature.
func TestRedrawnSheetKeepsItsPlaces(t *testing.T) {
	t.Parallel()
	world := testSheet()
	world.Points, world.World = nil, &[6]float64{5, 0.1, 50_000, -0.1, -5, 800_000}
	for name, s := range map[string]Sheet{"control points": testSheet(), "matrix": world} {
		s = s.WithEvidence(calib.Evidence{Source: calib.FromList, At: calib.PicturePt{Col: 1052, Row: 374}, SigmaPx: 0.5})
		p := New(Date{2026, 11, 25}).SetSheet(s)
		p = p.AddMark(Mark{ID: "mark-1", Name: "Cairn", Position: picked(t, s, 1000, 900)})
		derived := typed(56_000, 795_000)
		derived.Sheet = s.ID
		p = p.AddMark(Mark{ID: "mark-2", Name: "Bend", Position: derived})
		other := northSheet().WithEvidence(calib.Evidence{Source: calib.FromSheet, Sheet: string(s.ID), SheetAt: calib.PicturePt{Col: 1000, Row: 900}, SheetSigmaPx: 0.5})
		p = p.SetSheet(other)
		q := p.RedrawSheet(s.ID, Page{Number: 1, DPI: 400}, 2*s.Width, 2*s.Height, 400)
		got, _ := q.SheetByID(s.ID)
		if got.Width != 4000 || got.DPI != 400 || got.Page.DPI != 400 || got.Evidence[0].At.Col != 2104 || got.Evidence[0].SigmaPx != 1 {
			t.Errorf("%s: the sheet is %+v", name, got)
		}
		if north, _ := q.SheetByID(other.ID); north.Evidence[len(north.Evidence)-1].SheetAt.Row != 1800 {
			t.Errorf("%s: the other sheet compares with %+v", name, north.Evidence)
		}
		for i, m := range q.Marks {
			was := p.Marks[i].Position
			if !near(m.Position.Grid, was.Grid, 0.01) || math.Abs(m.Position.SigmaM-was.SigmaM) > 0.01 {
				t.Errorf("%s: %s lies at %v ± %v, was at %v ± %v", name, m.Name, m.Position.Grid, m.Position.SigmaM, was.Grid, was.SigmaM)
			}
		}
		if at := q.Marks[0].Position.At; at.Col != 2000 || at.Row != 1800 {
			t.Errorf("%s: picture point %v, want it on its feature", name, at)
		}
		a, _ := s.Calibration()
		b, err := got.Calibration()
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range []calib.PicturePt{{}, {Col: 1500, Row: 300}} {
			x, y := a.Covariance(at, 0.5), b.Covariance(calib.PicturePt{Col: 2 * at.Col, Row: 2 * at.Row}, 1)
			if math.Abs(math.Sqrt(x.EE)-math.Sqrt(y.EE)) > 0.02*math.Sqrt(x.EE) {
				t.Errorf("%s: σ east at %v was %v m, is %v m", name, at, math.Sqrt(x.EE), math.Sqrt(y.EE))
			}
		}
	}
	fresh := testSheet() // placed by its file when it was drawn as finely at once
	fresh.Points, fresh.World, fresh.WorldPx = nil, &[6]float64{2.5, 0, 50_000, 0, -2.5, 800_000}, calib.DrawnSigmaPx(400)
	coarse := testSheet()
	coarse.Points, coarse.World, coarse.WorldPx = nil, &[6]float64{5, 0, 50_000, 0, -5, 800_000}, calib.DrawnSigmaPx(200)
	redrawn, _ := New(Date{2026, 11, 25}).SetSheet(coarse).RedrawSheet(coarse.ID, Page{Number: 1, DPI: 400}, 2*coarse.Width, 2*coarse.Height, 400).SheetByID(coarse.ID)
	if redrawn.WorldPx != fresh.WorldPx || *redrawn.World != *fresh.World {
		t.Errorf("redrawn %v ± %v px, drawn afresh %v ± %v px", *redrawn.World, redrawn.WorldPx, *fresh.World, fresh.WorldPx)
	}
	if p := testPlan(t); p.RedrawSheet("sheet-9", Page{}, 10, 10, 0) != p {
		t.Error("a sheet that is not there was redrawn")
	}
}
