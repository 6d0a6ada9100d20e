package session

import (
	"errors"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

func TestTakeIntersections(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 2000, Height: 2000}))
	if _, err := s.AddControlPoint(at(200, 200), "NN 12 34"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddControlPoint(at(1800.4, 1800.3), "20 26"); err != nil {
		t.Fatal(err)
	}
	var cs []calib.ControlPoint
	for i := range 5 {
		for j := range 5 {
			cs = append(cs, calib.ControlPoint{
				At: at(200.2+400*float64(i), 200.1+400*float64(j)), SigmaPx: 0.1,
				Ref: geodesy.Grid{E: 212000 + 2000*float64(i), N: 734000 - 2000*float64(j)},
			})
		}
	}
	if err := s.TakeIntersections(cs, 20, false); err != nil {
		t.Fatal(err)
	}
	sheet, _ := s.Plan().Sheet()
	if len(sheet.Points) != 25 || sheet.Points[0].Text != "NN 12 34" || sheet.Points[1].Text != "212000 732000" || sheet.Points[0].SigmaPx != 0.1 {
		t.Fatalf("got %d points, the first %+v, the second %+v", len(sheet.Points), sheet.Points[0], sheet.Points[1])
	}
	c, err := s.Calibration()
	if err != nil || c.DOF() < 40 || c.RMSPx() > 0.01 {
		t.Errorf("got %v, %v; want a fit of 25 points that agree", c, err)
	}
	if !s.Undo() {
		t.Fatal("nothing to undo")
	}
	if sheet, _ := s.Plan().Sheet(); len(sheet.Points) != 2 {
		t.Errorf("one undo left %d points, want the 2 before", len(sheet.Points))
	}
}

func TestTakeIntersectionsNeedsASheet(t *testing.T) {
	t.Parallel()
	if err := New(nil, nil, today).TakeIntersections(nil, 5, false); !errors.Is(err, ErrNoSheet) {
		t.Errorf("got %v, want ErrNoSheet", err)
	}
}

// TestIntersectionsTakeTheFilesPlace: the printed grid is not bent by points of a
// file that puts the picture elsewhere, nor as inexact as they were.
func TestIntersectionsTakeTheFilesPlace(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 1200, Height: 1200}))
	code := geodesy.EPSG(27700)
	sys, err := geodesy.Lookup(code)
	must(t, err)
	must(t, s.TakeGeorefPoints(filePoints(sys), 300, code, calib.Scan, ""))
	if _, err := s.AddControlPoint(at(700, 700), "NN 21 29"); err != nil {
		t.Fatal(err)
	}
	var cs []calib.ControlPoint
	for i := range 4 {
		for j := range 4 {
			cs = append(cs, calib.ControlPoint{
				At: at(100+200*float64(i), 100+200*float64(j)), SigmaPx: 0.1,
				Ref: geodesy.Grid{E: 218000 + 1000*float64(i), N: 732000 - 1000*float64(j)},
			})
		}
	}
	must(t, s.TakeIntersections(cs, 20, false))
	sheet, _ := s.Sheet()
	c, err := s.Calibration()
	must(t, err)
	if len(sheet.Points) != 16 || sheet.WorldM != 0 || c.RMSPx() > 0.01 {
		t.Errorf("got %d points, σ %g m, off by %.2f px; want the 16 intersections alone", len(sheet.Points), sheet.WorldM, c.RMSPx())
	}
	for _, p := range sheet.Points {
		if p.Source == calib.FilePoint {
			t.Errorf("a point of the file stayed: %+v", p)
		}
	}
}

// A person may type three decimals. Only where the reference of a point comes from
// decides whether the printed grid replaces it.
func TestTypedPointsWithThreeDecimalsStay(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 1200, Height: 1200}))
	must(t, s.SetGrid(geodesy.EPSG(27700)))
	for _, p := range []struct {
		at   calib.PicturePt
		text string
	}{
		{at(50, 50), "217750.000 732250.000"},
		{at(1150, 50), "223250.000 732250.000"},
		{at(50, 1150), "217750.000 726750.000"},
		{at(1150, 1150), "223250.000 726750.000"},
	} {
		if _, err := s.AddControlPoint(p.at, p.text); err != nil {
			t.Fatal(err)
		}
	}
	if sheet, _ := s.Sheet(); sheet.RestsOnFile() || sheet.PlacedByFile() {
		t.Error("four typed points are taken for those of a file")
	}
	must(t, s.TakeIntersections([]calib.ControlPoint{
		{At: at(300, 300), Ref: geodesy.Grid{E: 219000, N: 731000}, Source: calib.FoundPoint},
		{At: at(500, 300), Ref: geodesy.Grid{E: 220000, N: 731000}, Source: calib.FoundPoint},
	}, 20, false))
	sheet, _ := s.Sheet()
	if len(sheet.Points) != 6 {
		t.Fatalf("%d control points are left, want the two found and the four typed", len(sheet.Points))
	}
	for i, p := range sheet.Points {
		want := calib.TypedPoint
		if i < 2 {
			want = calib.FoundPoint
		}
		if p.Source != want {
			t.Errorf("control point %d comes from %q, want %q", i+1, p.Source, want)
		}
	}
}

// A point that lies off the intersection it names is moved onto it or stays in its
// place, as one step either way.
func TestPointsOffTheirIntersections(t *testing.T) {
	t.Parallel()
	for _, move := range []bool{true, false} {
		s := New(nil, nil, today)
		must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 1200, Height: 1200}))
		must(t, s.SetGrid(geodesy.EPSG(27700)))
		for _, p := range []struct {
			at   calib.PicturePt
			text string
		}{{at(100, 100), "NN 19 31"}, {at(540, 130), "NN 21 31"}} {
			if _, err := s.AddControlPoint(p.at, p.text); err != nil {
				t.Fatal(err)
			}
		}
		var cs []calib.ControlPoint
		for i := range 3 {
			cs = append(cs, calib.ControlPoint{At: at(100+200*float64(i), 100), Ref: geodesy.Grid{E: 219000 + 1000*float64(i), N: 731000}, Source: calib.FoundPoint})
		}
		must(t, s.TakeIntersections(cs, 12, move))
		sheet, _ := s.Sheet()
		if len(sheet.Points) != 3 {
			t.Fatalf("move %v: %d control points, want 3", move, len(sheet.Points))
		}
		last := sheet.Points[2]
		if last.Text != "NN 21 31" || (last.At == at(500, 100)) != move || (last.At == at(540, 130)) == move {
			t.Errorf("move %v: %+v", move, last)
		}
		s.Undo()
		if sheet, _ := s.Sheet(); len(sheet.Points) != 2 || sheet.Points[1].At != at(540, 130) {
			t.Errorf("move %v: undo left %+v", move, sheet.Points)
		}
	}
}
