package session

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

func shaOf(letters string) string { return strings.Repeat(letters, 32) }

// panels is bench with a mark on its sheet and a second panel shown: the
// ground north of it, 4 m to the pixel, top-left corner at E 50 000, N 808 000.
func panels(t testing.TB) (s *Session, south, north plan.ID, cairn plan.ID) {
	t.Helper()
	s, _, _ = bench(t)
	first, _ := s.Sheet()
	cairn = mark(t, s, "Cairn", 1000, 200)
	must(t, s.AddSheet(Picture{Path: "/maps/north.png", Width: 2000, Height: 2000, SHA256: shaOf("ab")}))
	second, _ := s.Sheet()
	for _, c := range []struct {
		at   calib.PicturePt
		text string
	}{{at(250, 250), "51000 807000"}, {at(1750, 1750), "57000 801000"}, {at(1750, 250), "57000 807000"}} {
		_, err := s.AddControlPoint(c.at, c.text)
		must(t, err)
	}
	return s, first.ID, second.ID, cairn
}

func sheetShown(s *Session) plan.ID {
	sheet, _ := s.Sheet()
	return sheet.ID
}

func TestIntentionsGoToTheSheetInHand(t *testing.T) {
	t.Parallel()
	s, south, north, _ := panels(t)
	if sheetShown(s) != north || south == north {
		t.Fatalf("%q is shown, want the sheet added last, %q", sheetShown(s), north)
	}
	p := s.Plan()
	was, _ := p.SheetByID(south)
	if sheet, _ := p.SheetByID(north); len(sheet.Points) != 3 || sheet.Code != geodesy.EPSG(27700) || len(was.Points) != 2 {
		t.Errorf("%d and %d control points on %q, want 3 on the plan's grid and 2", len(sheet.Points), len(was.Points), sheet.Code)
	}
	ford := mark(t, s, "Ford", 1000, 1000)
	if m, _ := s.Plan().MarkByID(ford); m.Position.Sheet != north || math.Hypot(m.Position.Grid.E-54_000, m.Position.Grid.N-804_000) > 1e-6 {
		t.Errorf("the mark is at %v of %q, want 54000 804000 of %q", m.Position.Grid, m.Position.Sheet, north)
	}
	must(t, s.MoveControlPoint(0, at(251, 250)))
	must(t, s.ShowSheet(south))
	must(t, s.SetMedium(calib.Scan))
	if sheet, _ := s.Plan().SheetByID(north); sheet.Medium != calib.Scan || sheet.Points[0].At.Col != 251 {
		t.Errorf("the other sheet became %+v", sheet)
	}
	if sheet, _ := s.Plan().SheetByID(south); sheet.Medium != calib.Scan || sheet.Points[0].At != was.Points[0].At {
		t.Errorf("the sheet shown became %+v", sheet)
	}
	var missing *NotFound
	if err := s.ShowSheet("none"); !errors.As(err, &missing) || sheetShown(s) != south {
		t.Errorf("a sheet that is not there: %v, shown is %q", err, sheetShown(s))
	}
}

// Marks of one sheet lie on the other too, where its ground is; a mark that is
// dragged there belongs to that sheet from then on and moves with it.
func TestAMarkMovedOnAnotherSheetIsTiedToIt(t *testing.T) {
	t.Parallel()
	s, south, north, cairn := panels(t)
	// Cairn is at E 55 000, N 799 000: row 2250 of the north sheet, below it.
	if e, ok := s.Snap(at(1250, 2250), 1); !ok || e.Mark != cairn {
		t.Errorf("the mark is not where its ground is on the other sheet: %v, %v", e, ok)
	}
	pos, err := s.PositionAt(at(1250, 1900), 0.5)
	must(t, err)
	must(t, s.MovePoint(cairn, 0, plan.AtPosition(pos)))
	nudge := func(id plan.ID) float64 {
		must(t, s.ShowSheet(id))
		sheet, _ := s.Sheet()
		before, _ := s.Plan().MarkByID(cairn)
		for i, c := range sheet.Points {
			must(t, s.MoveControlPoint(i, at(c.At.Col-10, c.At.Row)))
		}
		after, _ := s.Plan().MarkByID(cairn)
		return after.Position.Grid.E - before.Position.Grid.E
	}
	if got := nudge(south); got != 0 {
		t.Errorf("the sheet it was first on moved it by %v m", got)
	}
	if got := nudge(north); math.Abs(got-40) > 1e-6 {
		t.Errorf("the sheet it is on moved it by %v m, want 40", got)
	}
}

func TestSheetsAndUndo(t *testing.T) {
	t.Parallel()
	s, south, north, _ := panels(t)
	told := 0
	s.OnChange(func(c Change) {
		if c.What.Has(SheetShown) {
			told++
		}
	})
	steps := s.UndoName()
	must(t, s.ShowSheet(south))
	must(t, s.ShowSheet(south))
	if s.UndoName() != steps || told != 1 {
		t.Errorf("showing a sheet is step %q with %d notifications, want no step and one", s.UndoName(), told)
	}
	s.Undo() // a control point of the north sheet
	if sheetShown(s) != north {
		t.Errorf("after undoing on the other sheet %q is shown", sheetShown(s))
	}
	s.Undo()
	s.Undo()
	if s.UndoName() != "add sheet" {
		t.Fatalf("undo %q", s.UndoName())
	}
	s.Undo()
	if sheetShown(s) != south || len(s.Plan().Sheets) != 1 {
		t.Errorf("after undoing the adding: %q is shown of %d", sheetShown(s), len(s.Plan().Sheets))
	}
	s.Redo()
	if sheetShown(s) != north {
		t.Errorf("after redoing the adding: %q is shown", sheetShown(s))
	}
	must(t, s.RemoveSheet(north))
	if sheetShown(s) != south {
		t.Errorf("after removing: %q is shown", sheetShown(s))
	}
	s.Undo()
	if sheetShown(s) != north {
		t.Errorf("after undoing the removal: %q is shown", sheetShown(s))
	}
	must(t, s.RemoveSheet(south))
	if sheetShown(s) != north {
		t.Errorf("after removing the first: %q is shown", sheetShown(s))
	}
	must(t, s.RemoveSheet(north))
	if _, ok := s.Sheet(); ok {
		t.Error("after removing all a sheet is shown")
	}
	var missing *NotFound
	if err := s.RemoveSheet(north); !errors.As(err, &missing) {
		t.Errorf("removing it again: %v", err)
	}
}

// Nudges on two sheets are two steps, even of control points of one number.
func TestNudgesOnTwoSheets(t *testing.T) {
	t.Parallel()
	s, south, north, _ := panels(t)
	col := func(id plan.ID) float64 { sheet, _ := s.Plan().SheetByID(id); return sheet.Points[0].At.Col }
	must(t, s.NudgeControlPoint(0, at(250.1, 250)))
	must(t, s.ShowSheet(south))
	must(t, s.NudgeControlPoint(0, at(200.1, 200)))
	s.Undo()
	if col(south) != 200 || col(north) != 250.1 {
		t.Errorf("after one undo the columns are %v and %v, want 200 and 250.1", col(south), col(north))
	}
}

func TestRemovedSheetIsTold(t *testing.T) {
	t.Parallel()
	s, south, _, cairn := panels(t)
	ford := mark(t, s, "Ford", 1000, 1000)
	m := func(id plan.ID) plan.End { m, _ := s.Plan().MarkByID(id); return plan.AtMark(m) }
	before, err := s.LiveEnds(m(cairn), m(ford))
	must(t, err)
	must(t, s.RemoveSheet(south))
	after, err := s.LiveEnds(m(cairn), m(ford))
	must(t, err)
	if after.Grid != before.Grid || !after.Has(caution.SheetGone) || before.Has(caution.SheetGone) {
		t.Errorf("got %v with %v, before %v with %v", after.Grid, after.Cautions, before.Grid, before.Cautions)
	}
	if r := after.FromSigmaM / before.FromSigmaM; math.Abs(r-1) > 1e-9 {
		t.Errorf("σ of the position went from %v m to %v m", before.FromSigmaM, after.FromSigmaM)
	}
}

func TestTheSamePictureIsNoSecondSheet(t *testing.T) {
	t.Parallel()
	s, south, north, _ := panels(t)
	must(t, s.ShowSheet(south))
	before := s.Plan()
	must(t, s.AddSheet(Picture{Path: "/maps/north.png", Width: 2000, Height: 2000, SHA256: shaOf("ab")}))
	if sheetShown(s) != north || s.Plan() != before {
		t.Errorf("adding it again: %q is shown, %d sheets", sheetShown(s), len(s.Plan().Sheets))
	}
	must(t, s.ShowSheet(south))
	must(t, s.OpenSheet(Picture{Path: "/moved/north.png", Width: 2000, Height: 2000, SHA256: shaOf("ab")}))
	if sheetShown(s) != north || len(s.Plan().Sheets) != 2 || s.PicturePath() != "/moved/north.png" {
		t.Errorf("opening it: %q is shown, %d sheets, path %q", sheetShown(s), len(s.Plan().Sheets), s.PicturePath())
	}
	if _, err := s.Calibration(); err != nil {
		t.Errorf("it lost its calibration: %v", err)
	}
}

func TestOpeningInPlaceOfOneSheet(t *testing.T) {
	t.Parallel()
	s, south, north, _ := panels(t)
	must(t, s.ShowSheet(south))
	must(t, s.OpenSheet(Picture{Path: "/maps/better.png", Width: 3000, Height: 3000, SHA256: shaOf("cd")}))
	sheets := s.Plan().Sheets
	if len(sheets) != 2 || sheets[0].ID == south || sheetShown(s) != sheets[0].ID || sheets[1].ID != north {
		t.Fatalf("got %v, %q is shown", sheets, sheetShown(s))
	}
	if sheets[0].Code != geodesy.EPSG(27700) || len(sheets[0].Points) != 0 {
		t.Errorf("the new sheet begins as %+v, want the plan's grid and no points", sheets[0])
	}
	s.Undo()
	if sheetShown(s) != south {
		t.Errorf("after undo %q is shown", sheetShown(s))
	}
}

func TestOneGridForAllSheets(t *testing.T) {
	t.Parallel()
	var refused *Refused
	s, south, north, _ := panels(t)
	if err := s.TakeGeoref([6]float64{10, 0, 612_000, 0, -10, 5_261_000}, 0, geodesy.EPSG(32632), ""); !errors.As(err, &refused) || !strings.Contains(err.Error(), "must be on the same grid") {
		t.Errorf("a position on another grid: %v", err)
	}
	before := s.Plan()
	local, err := geodesy.Define("+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=100000 +y_0=800000 +datum=WGS84")
	must(t, err)
	must(t, s.SetGrid(local.Code()))
	for _, sheet := range s.Plan().Sheets {
		if sheet.Code != local.Code() {
			t.Errorf("%s is on %q", sheet.ID, sheet.Code)
		}
	}
	s.Undo()
	if s.Plan() != before {
		t.Error("the grid of all sheets is not one step")
	}
	must(t, s.ShowSheet(south))
	must(t, s.TakeGeoref([6]float64{5, 0, 50_000, 0, -5, 800_000}, 0, geodesy.EPSG(27700), ""))
	must(t, s.ShowSheet(north))
	if err := s.SetGrid(local.Code()); !errors.As(err, &refused) || !strings.Contains(err.Error(), "isle.png") {
		t.Errorf("a sheet placed by a file does not go along: %v", err)
	}
}

// A second sheet may be the first to get a grid, and the first one then has it.
func TestGridOfTheSecondSheet(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 2000, Height: 2000, SHA256: shaOf("01")}))
	first := sheetShown(s)
	must(t, s.AddSheet(Picture{Path: "/maps/b.png", Width: 2000, Height: 2000, SHA256: shaOf("02")}))
	_, err := s.AddControlPoint(at(200, 200), "NL 51 99")
	must(t, err)
	must(t, s.ShowSheet(first))
	r, err := s.CheckReference("59000 791000")
	if err != nil || r.Code != geodesy.EPSG(27700) || r.GridGuessed {
		t.Errorf("plain numbers on the first sheet: %+v, %v", r, err)
	}
}

func TestTooManySheets(t *testing.T) {
	t.Parallel()
	s := New(nil, nil, today)
	add := func(i int) error {
		return s.AddSheet(Picture{Path: fmt.Sprintf("/maps/%d.png", i), Width: 10, Height: 10, SHA256: fmt.Sprintf("%064x", i)})
	}
	for i := range plan.MaxSheets {
		must(t, add(i))
	}
	last := sheetShown(s)
	var bad *plan.Invalid
	if err := add(plan.MaxSheets); !errors.As(err, &bad) || sheetShown(s) != last {
		t.Errorf("one too many: %v, %q is shown", err, sheetShown(s))
	}
}

// Panels of one map lie together: letters that were left out come from a sheet
// that is calibrated already, and the session says so.
func TestLettersFromTheOtherSheet(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	must(t, s.AddSheet(Picture{Path: "/maps/east.png", Width: 2000, Height: 2000, SHA256: shaOf("ab")}))
	r, err := s.CheckReference("62 95")
	if err != nil || r.Grid != (geodesy.Grid{E: 62_000, N: 795_000}) || !r.LettersInferred {
		t.Errorf("got %+v, %v", r, err)
	}
}

// One grid by two names is one grid.
func TestTheSameGridByAnotherName(t *testing.T) {
	t.Parallel()
	const text = "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=100000 +y_0=800000 +datum=WGS84"
	first, err := geodesy.Define(text + " +title=Isle_grid")
	must(t, err)
	second, err := geodesy.Define(text + " +title=Grid_of_the_isle")
	must(t, err)
	other, err := geodesy.Define(strings.Replace(text, "lon_0=-6", "lon_0=-5", 1) + " +title=Isle_grid")
	must(t, err)
	if first.Code() == second.Code() || !first.Code().Alike(second.Code()) || first.Code().Alike(other.Code()) || first.Code().Alike(geodesy.EPSG(27700)) {
		t.Fatalf("the codes are %q, %q and %q", first.Code(), second.Code(), other.Code())
	}
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.tif", Width: 2000, Height: 2000, SHA256: shaOf("01")}))
	must(t, s.TakeGeoref([6]float64{5, 0, 50_000, 0, -5, 800_000}, 0, first.Code(), ""))
	must(t, s.AddSheet(Picture{Path: "/maps/b.tif", Width: 2000, Height: 2000, SHA256: shaOf("02")}))
	must(t, s.TakeGeoref([6]float64{5, 0, 60_000, 0, -5, 800_000}, 0, second.Code(), ""))
	if sheet, _ := s.Sheet(); sheet.Code != first.Code() {
		t.Errorf("the second sheet is on %q", sheet.Code)
	}
	if err := s.TakeGeoref([6]float64{5, 0, 60_000, 0, -5, 800_000}, 0, other.Code(), ""); err == nil {
		t.Error("another grid of the same name was taken")
	}
}
