package session

import (
	"errors"
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

func TestReferencesGuessTheGridAndLendLetters(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	if _, err := s.AddControlPoint(at(1, 1), "NN 12 34"); !errors.Is(err, ErrNoSheet) {
		t.Errorf("without a sheet: %v, want ErrNoSheet", err)
	}
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 2000, Height: 2000}))
	if _, err := s.CheckReference("212000 734000"); err == nil {
		t.Error("plain numbers without a grid: no error")
	}
	ref, err := s.AddControlPoint(at(200, 200), "NN 12 34")
	must(t, err)
	if !ref.GridGuessed || ref.Code != geodesy.EPSG(27700) || ref.Grid != (geodesy.Grid{E: 212_000, N: 734_000}) {
		t.Errorf("first point: %+v, want the British grid guessed, south-west corner 212000 734000", ref)
	}
	if sheet, _ := s.Plan().Sheet(); sheet.Code != geodesy.EPSG(27700) {
		t.Errorf("the sheet's grid is %s", sheet.Code)
	}
	ref, err = s.AddControlPoint(at(1800, 1800), "20 26")
	must(t, err)
	if !ref.LettersInferred || ref.Grid != (geodesy.Grid{E: 220_000, N: 726_000}) {
		t.Errorf("second point: %+v, want the letters lent", ref)
	}
	if _, err := s.Calibration(); err != nil {
		t.Errorf("two points do not calibrate: %v", err)
	}
	var bad *geodesy.RefError
	if _, err := s.AddControlPoint(at(5, 900), "C 12 34"); !errors.As(err, &bad) {
		t.Errorf("Irish letters on a British sheet: %v, want a *geodesy.RefError", err)
	}
}

func TestContradictingControlPointsAreRefused(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	before := s.Plan()
	var (
		same  *calib.SameReference
		close *calib.Coincident
	)
	if _, err := s.AddControlPoint(at(900, 100), "51000 799000"); !errors.As(err, &same) {
		t.Errorf("the same reference: %v", err)
	}
	if _, err := s.AddControlPoint(at(200.5, 200), "52000 799000"); !errors.As(err, &close) {
		t.Errorf("the same position: %v", err)
	}
	if _, err := s.SetControlReference(1, "51000 799000"); !errors.As(err, &same) {
		t.Errorf("changed to the same reference: %v", err)
	}
	if err := s.MoveControlPoint(1, at(200, 200)); !errors.As(err, &close) {
		t.Errorf("moved to the same position: %v", err)
	}
	var refused *Refused
	if err := s.RemoveControlPoint(2); !errors.As(err, &refused) {
		t.Errorf("a point that is not there: %v", err)
	}
	if s.Plan() != before {
		t.Error("a refused act changed the plan")
	}
}

func TestRecalibratingIsOneStep(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	id := mark(t, s, "Cairn", 1000, 1000)
	typed, err := s.ParsePosition("53000 797000")
	must(t, err)
	hut, err := s.AddMark("Hut", typed)
	must(t, err)
	s.BeginDrag()
	for i := 1; i <= 20; i++ {
		must(t, s.MoveControlPoint(0, at(200-float64(i)/2, 200)))
	}
	s.EndDrag()
	m, _ := s.Plan().MarkByID(id)
	h, _ := s.Plan().MarkByID(hut)
	if m.Position.At != at(1000, 1000) || math.Abs(m.Position.Grid.E-55_000) < 5 {
		t.Errorf("the picked mark is at %v (picture %v): it did not move with its feature", m.Position.Grid, m.Position.At)
	}
	if h.Position != typed {
		t.Errorf("the typed mark moved to %v", h.Position.Grid)
	}
	if s.UndoName() != "move control point" {
		t.Errorf("UndoName = %q", s.UndoName())
	}
	s.Undo()
	if m, _ := s.Plan().MarkByID(id); math.Abs(m.Position.Grid.E-55_000) > 1e-6 {
		t.Errorf("one undo did not bring the mark back: %v", m.Position.Grid)
	}
}

// Features check a sheet, whatever their source is called, only where they are none of
// its control points or their like; and a check is judged anew with each change.
func TestChecking(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	for _, tc := range []struct {
		what string
		at   calib.PicturePt
		text string
		stop bool
	}{
		{"a control point", at(200, 200), "51000 799000", false},
		{"another intersection of the printed grid", at(1000, 400), "55000 798000", false},
		{"a feature a kilometre off", at(1052, 374), "E 56260 N 798130", true},
	} {
		v, err := s.AddEvidence(calib.FromList, tc.at, tc.text, 0.5)
		must(t, err)
		if v.Checked || caution.Stops(v.Cautions, caution.All) != tc.stop {
			t.Errorf("by %s: %+v", tc.what, v)
		}
		s.Undo()
	}
	sheet, _ := s.Sheet()
	must(t, s.do("check", "", s.Plan().SetSheet(pillared(sheet))))
	if v := s.Verdict(); !v.Checked {
		t.Errorf("by two pillars: %+v", v)
	}
	must(t, s.MoveControlPoint(0, at(200.2, 200)))
	if !s.Verdict().Checked {
		t.Error("unchecked after a control point was moved by a fifth of a pixel")
	}
	must(t, s.MoveControlPoint(0, at(260, 200)))
	if s.Verdict().Checked {
		t.Error("checked after a control point was moved by 300 m")
	}
}

// A grid on which the typed references mean nothing is refused: as bare
// numbers they would put the sheet elsewhere.
func TestSetGridKeepsReferencesTrue(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 2000, Height: 1500}))
	must(t, s.SetGrid(geodesy.EPSG(27700)))
	for _, p := range []struct {
		col, row float64
		ref      string
	}{{100, 900, "NL 22 47"}, {900, 900, "NL 33 47"}} {
		_, err := s.AddControlPoint(at(p.col, p.row), p.ref)
		must(t, err)
	}
	before := s.Plan()
	var refused *Refused
	if err := s.SetGrid(geodesy.EPSG(29903)); !errors.As(err, &refused) || s.Plan() != before {
		t.Errorf("British letters on the Irish grid: %v, want a refusal and the plan as it was", err)
	}
	must(t, s.SetGrid(geodesy.EPSG(27700)))
}

func TestFilesMatrix(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/w.tif", Width: 100, Height: 100}))
	must(t, s.TakeGeoref([6]float64{5, 0, 310_300, 0, -5, 4_907_700}, 0, geodesy.EPSG(32619), ""))
	c, err := s.Calibration()
	must(t, err)
	if got := c.ToGrid(at(10, 10)); math.Abs(got.E-310_350) > 1e-6 || math.Abs(got.N-4_907_650) > 1e-6 {
		t.Errorf("pixel 10 10 is at %v", got)
	}
	if err := s.TakeGeoref([6]float64{0, 0, 1, 0, 0, 1}, 0, geodesy.EPSG(32619), ""); err == nil {
		t.Error("a matrix without an inverse: no error")
	}
}

// TestFilesMatrixInTheGridsUnit: on a grid in feet a matrix in metres reads as feet, and
// a picture that states how exact it is is taken at its word.
func TestFilesMatrixInTheGridsUnit(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Define("+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83 +units=us-ft")
	must(t, err)
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/w.png", Width: 100, Height: 100}))
	matrix := [6]float64{20, 0, 310_000, 0, -20, 190_000}
	for i := range matrix {
		matrix[i] *= sys.Unit().Metres
	}
	must(t, s.TakeGeoref(matrix, 12.5, sys.Code(), ""))
	c, err := s.Calibration()
	must(t, err)
	g := c.ToGrid(at(10, 10))
	if e, n := sys.InUnits(g); math.Abs(e-310_200) > 1e-6 || math.Abs(n-189_800) > 1e-6 {
		t.Errorf("pixel 10 10 is at %.2f %.2f ft, want 310200 and 189800", e, n)
	}
	if v := c.Covariance(at(10, 10), 0); math.Abs(v.EE-174.5) > 0.5 || math.Abs(v.NN-174.5) > 0.5 { // 12.5², and 0.7 pixels of 20 feet
		t.Errorf("variances %.1f and %.1f m², want about 174.5", v.EE, v.NN)
	}
}

func TestOpeningAnotherPictureBeginsAnew(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	id := mark(t, s, "Cairn", 1000, 1000)
	sha := strings.Repeat("ab", 32)
	must(t, s.OpenSheet(Picture{Path: "/maps/other.png", Width: 500, Height: 500, SHA256: sha}))
	if _, err := s.Calibration(); !errors.Is(err, plan.ErrUncalibrated) {
		t.Errorf("Calibration: %v, want ErrUncalibrated", err)
	}
	if m, _ := s.Plan().MarkByID(id); math.Abs(m.Position.Grid.E-55_000) > 1e-6 {
		t.Errorf("the mark moved to %v", m.Position.Grid)
	}
	must(t, s.SetGrid(geodesy.EPSG(27700)))
	must(t, s.OpenSheet(Picture{Path: "/elsewhere/other.png", Width: 500, Height: 500, SHA256: sha}))
	if sheet, _ := s.Plan().Sheet(); sheet.Code != geodesy.EPSG(27700) || s.PicturePath() != "/elsewhere/other.png" {
		t.Errorf("the same picture elsewhere lost its grid: %+v", sheet)
	}
}

// TestNudgesAreOneStep moves a control point in small steps, as by arrow keys:
// one undo takes them back, and each is in the journal.
func TestNudgesAreOneStep(t *testing.T) {
	t.Parallel()
	s, _, d := bench(t)
	sheet, _ := s.Plan().Sheet()
	from, other, steps := sheet.Points[0].At, sheet.Points[1].At, len(d.steps)
	for i := 1; i <= 50; i++ {
		must(t, s.NudgeControlPoint(0, at(from.Col+float64(i)*0.1, from.Row)))
	}
	if got := len(d.steps) - steps; got != 50 {
		t.Errorf("got %d steps in the journal, want 50", got)
	}
	must(t, s.NudgeControlPoint(1, at(other.Col, other.Row+0.1)))
	col := func() float64 { sheet, _ := s.Plan().Sheet(); return sheet.Points[0].At.Col }
	s.Undo()
	if got, want := col(), from.Col+5; math.Abs(got-want) > 1e-9 {
		t.Errorf("after one undo: got column %v, want %v: another point was nudged last", got, want)
	}
	s.Undo()
	if got := col(); got != from.Col {
		t.Errorf("after two undos: got column %v, want %v", got, from.Col)
	}
}

// TestPlaceByTheFile: what a picture's file states calibrates the sheet in one
// step, checks nothing, and another page of the document knows nothing of it.
func TestPlaceByTheFile(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	sha := strings.Repeat("cd", 32)
	page := plan.Page{Number: 1, DPI: 200}
	must(t, s.OpenSheet(Picture{Path: "/maps/valley.pdf", Page: page, Width: 800, Height: 600, SHA256: sha, DPI: 200}))
	must(t, s.TakeGeoref([6]float64{10, 0, 612_000, 0, -10, 5_261_000}, 0, geodesy.EPSG(32632), ""))
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	if g := c.ToGrid(calib.PicturePt{Col: 100, Row: 50}); g.E != 613_000 || g.N != 5_260_500 {
		t.Errorf("got %v, want E 613000 N 5260500", g)
	}
	sheet, _ := s.Plan().Sheet()
	if s.Verdict().Checked || len(sheet.Evidence) > 0 || s.UndoName() != "use the file's position" {
		t.Errorf("checked %v, undo %q", s.Verdict().Checked, s.UndoName())
	}
	must(t, s.OpenSheet(Picture{Path: "/moved/valley.pdf", Page: page, Width: 800, Height: 600, SHA256: sha, DPI: 200}))
	if _, err := s.Calibration(); err != nil {
		t.Errorf("the same page elsewhere: %v", err)
	}
	must(t, s.OpenSheet(Picture{Path: "/moved/valley.pdf", Page: plan.Page{Number: 1, DPI: 100}, Width: 400, Height: 300, SHA256: sha, DPI: 100}))
	if _, err := s.Calibration(); !errors.Is(err, plan.ErrUncalibrated) {
		t.Errorf("the page drawn coarser: %v, want ErrUncalibrated", err)
	}
}

// A file that states how exact its position is has its readings say so, beside what
// a click can hit.
func TestPlaceSaysHowExact(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	must(t, s.OpenSheet(Picture{Path: "/maps/overlay.png", Width: 800, Height: 600, SHA256: strings.Repeat("cd", 32)}))
	for _, stated := range []float64{30, 0, 0.1} {
		want := math.Hypot(stated, 10*calib.DefaultSigmaPx)
		must(t, s.TakeGeoref([6]float64{10, 0, 612_000, 0, -10, 5_261_000}, stated, geodesy.EPSG(32632), ""))
		fit, err := s.Calibration()
		must(t, err)
		if cov := fit.Covariance(at(100, 100), 0); math.Abs(math.Sqrt(cov.EE)-want) > 1e-9 {
			t.Errorf("stated %v m: σ is %v m, want %v", stated, math.Sqrt(cov.EE), want)
		}
	}
	must(t, s.OpenSheet(Picture{Path: "/maps/quad.pdf", Page: plan.Page{Number: 1, DPI: 400}, Width: 800, Height: 600, SHA256: strings.Repeat("ef", 32), DPI: 400}))
	must(t, s.TakeGeoref([6]float64{10, 0, 612_000, 0, -10, 5_261_000}, 0, geodesy.EPSG(32632), ""))
	fit, err := s.Calibration()
	must(t, err) // of a drawn page, 0.09 mm of it whatever its resolution
	if cov, want := fit.Covariance(at(100, 100), 0), 0.09/25.4*400*10; math.Abs(math.Sqrt(cov.EE)-want) > 1e-9 {
		t.Errorf("a page at 400 pixels per inch: σ is %v m, want %v", math.Sqrt(cov.EE), want)
	}
	if err := s.TakeGeoref([6]float64{10, 0, 612_000, 0, -10, 5_261_000}, math.NaN(), geodesy.EPSG(32632), ""); err == nil {
		t.Error("a σ that is no number was taken")
	}
}

func TestTakeGeorefPoints(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	must(t, s.OpenSheet(Picture{Path: "/maps/quad.pdf", Page: plan.Page{Number: 1, DPI: 200}, Width: 800, Height: 600, SHA256: strings.Repeat("ef", 32), DPI: 200}))
	at := func(col, row float64) calib.ControlPoint {
		return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: 612_000 + 10*col, N: 5_261_000 - 10*row}, Text: "as the file says"}
	}
	if err := s.TakeGeorefPoints([]calib.ControlPoint{at(0, 0), at(0, 0)}, 0, geodesy.EPSG(32632), calib.Scan, ""); err == nil {
		t.Error("two points on one position were taken")
	}
	if sheet, _ := s.Plan().Sheet(); len(sheet.Points) != 0 || sheet.Code != "" {
		t.Errorf("after the refusal: %d points on %q, want none", len(sheet.Points), sheet.Code)
	}
	must(t, s.TakeGeorefPoints([]calib.ControlPoint{at(0, 0), at(800, 0), at(800, 600), at(0, 600)}, 40, geodesy.EPSG(32632), calib.Scan, ""))
	sheet, _ := s.Plan().Sheet()
	c, err := s.Calibration()
	must(t, err)
	if cov := c.Covariance(calib.PicturePt{Col: 400, Row: 300}, 0); cov.EE < 40*40 || cov.NN < 40*40 || cov.EE > 50*50 {
		t.Errorf("a position has σ %.1f m, want a little over the 40 m that the points share", math.Sqrt(cov.EE))
	}
	if len(sheet.Points) != 4 || sheet.Points[2].Text != "as the file says" || s.Verdict().Checked {
		t.Errorf("got %d points, checked %v, want the file's 4, unchecked", len(sheet.Points), s.Verdict().Checked)
	}
	s.Undo()
	if sheet, _ := s.Plan().Sheet(); len(sheet.Points) != 0 || sheet.Code != "" {
		t.Errorf("after one undo: %d points on %q, want none", len(sheet.Points), sheet.Code)
	}
}
