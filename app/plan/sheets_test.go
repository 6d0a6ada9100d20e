package plan

import (
	"errors"
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// northSheet is a second panel: the ground north of testSheet, turned upside
// down and at 4 m to the pixel.
func northSheet() Sheet {
	return Sheet{
		ID: "sheet-2", Picture: "/maps/north.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700),
		Points: []calib.ControlPoint{
			{At: calib.PicturePt{Col: 250, Row: 250}, Ref: geodesy.Grid{E: 58_000, N: 801_000}},
			{At: calib.PicturePt{Col: 1750, Row: 1750}, Ref: geodesy.Grid{E: 52_000, N: 807_000}},
			{At: calib.PicturePt{Col: 250, Row: 1750}, Ref: geodesy.Grid{E: 58_000, N: 807_000}},
		},
	}
}

// twoSheets is testPlan with a second sheet and a mark picked on it.
func twoSheets(t testing.TB) *Plan {
	p := testPlan(t).SetSheet(northSheet())
	return p.AddMark(Mark{ID: "mark-3", Name: "Ford", Position: picked(t, northSheet(), 1000, 1000)})
}

func TestRecalibratingOneSheetLeavesTheOthers(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	north := northSheet()
	for i := range north.Points {
		north.Points[i].Ref.E += 100
	}
	q := p.SetSheet(north)
	for _, c := range []struct {
		mark  ID
		moved float64 // metres east
	}{{"mark-1", 0}, {"mark-2", 0}, {"mark-3", 100}} {
		was, _ := p.MarkByID(c.mark)
		is, _ := q.MarkByID(c.mark)
		if want := (geodesy.Grid{E: was.Position.Grid.E + c.moved, N: was.Position.Grid.N}); !near(is.Position.Grid, want, 1e-6) {
			t.Errorf("%s: got %v, want %v", c.mark, is.Position.Grid, want)
		}
	}
}

func TestARemovedSheetLeavesWhatItKnew(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	c, _ := northSheet().Calibration()
	cov := c.Covariance(calib.PicturePt{Col: 1000, Row: 1000}, 0.5)
	want := math.Sqrt((cov.EE + cov.NN) / 2)
	for name, q := range map[string]*Plan{
		"removed":  p.RemoveSheet("sheet-2"),
		"replaced": p.ReplaceSheet("sheet-2", Sheet{ID: p.NextSheetID(), Picture: "/maps/other.png"}),
	} {
		was, _ := p.MarkByID("mark-3")
		is, _ := q.MarkByID("mark-3")
		if is.Position.Grid != was.Position.Grid || math.Abs(is.Position.SigmaM-want) > 1e-9 || is.Position.SigmaM <= was.Position.SigmaM {
			t.Errorf("%s: got %v ± %.3f, want %v ± %.3f, above its own %.3f", name, is.Position.Grid, is.Position.SigmaM, was.Position.Grid, want, was.Position.SigmaM)
		}
		if kept, _ := q.MarkByID("mark-1"); kept != p.Marks[0] {
			t.Errorf("%s: a mark of the other sheet became %+v", name, kept)
		}
	}
}

// A position remembers its sheet by its ID. Were the ID given to the next
// sheet, the position would be read at its pixel there.
func TestASheetsIDIsNotGivenAgain(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	for name, q := range map[string]*Plan{
		"mark":     p.RemoveSheet("sheet-2"),
		"leg":      New(Date{2026, 11, 25}).AddLeg(Leg{ID: "leg-1", From: AtPosition(picked(t, northSheet(), 3, 4)), To: AtPosition(typed(1, 2))}),
		"sight":    New(Date{2026, 11, 25}).AddSight(Sight{ID: "sight-1", From: AtPosition(typed(1, 2)), To: AtPosition(picked(t, northSheet(), 3, 4))}),
		"evidence": New(Date{2026, 11, 25}).SetSheet(Sheet{ID: "sheet-1", Evidence: []calib.Evidence{{Source: calib.FromSheet, Sheet: "sheet-2"}}}),
	} {
		if got := q.NextSheetID(); got != "sheet-3" {
			t.Errorf("%s: got %q, want sheet-3", name, got)
		}
	}
}

func TestReplacedSheetKeepsItsPlace(t *testing.T) {
	t.Parallel()
	q := twoSheets(t).ReplaceSheet("sheet-1", Sheet{ID: "sheet-9", Picture: "/maps/new.png"})
	if len(q.Sheets) != 2 || q.Sheets[0].ID != "sheet-9" || q.Sheets[1].ID != "sheet-2" {
		t.Errorf("got %v", q.Sheets)
	}
	if q := New(Date{2026, 11, 25}).ReplaceSheet("sheet-1", testSheet()); len(q.Sheets) != 1 {
		t.Errorf("nothing to replace: got %v", q.Sheets)
	}
}

func TestSheetsOfAPlanShareOneGrid(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	if got := p.Code(); got != geodesy.EPSG(27700) {
		t.Errorf("the plan's grid is %q", got)
	}
	blank := northSheet()
	blank.Code, blank.Points = "", nil
	if err := p.SetSheet(blank).Validate(); err != nil {
		t.Errorf("a sheet without a grid yet: %v", err)
	}
	other := northSheet()
	other.Code = geodesy.EPSG(32629)
	var bad *Invalid
	if err := p.SetSheet(other).Validate(); !errors.As(err, &bad) || !strings.Contains(err.Error(), "must be on the same grid") {
		t.Errorf("another grid: got %v", err)
	}
}

func TestSheetNames(t *testing.T) {
	t.Parallel()
	p := New(Date{2026, 11, 25})
	for _, s := range []Sheet{
		{ID: "a", Picture: "/maps/west.png"},
		{ID: "b", Picture: "/other/west.png"},
		{ID: "c", Picture: `C:\maps\atlas.pdf`, Page: Page{Number: 2, DPI: 200}},
		{ID: "d", Picture: "/maps/atlas.pdf", Page: Page{Number: 3, DPI: 200}},
		{ID: "e", Picture: EmbeddedPrefix + "isle.jpg"},
		{ID: "f"},
	} {
		p = p.SetSheet(s)
	}
	for id, want := range map[ID]string{
		"a": "west.png (sheet 1)", "b": "west.png (sheet 2)", "c": "atlas.pdf, page 2", "d": "atlas.pdf, page 3",
		"e": "isle.jpg", "f": "sheet 6", "none": "",
	} {
		if got := p.SheetName(id); got != want {
			t.Errorf("%s: got %q, want %q", id, got, want)
		}
	}
}
