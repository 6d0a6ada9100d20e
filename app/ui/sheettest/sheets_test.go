package sheettest

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/files"
	"legwright/canvas/view"
	"legwright/mapio/planfile"
)

// panels is calibrated with a second picture as another sheet in hand: 10 m
// a pixel as well, east of the first, from NL 24 44 on.
func panels(t *testing.T) (b *benchtest.Bench, west, east plan.ID) {
	t.Helper()
	b = benchtest.Calibrated(t)
	first, _ := b.Session().Sheet()
	b.Mouse.NewMark(150, 150)
	b.Files.Drop(benchtest.OtherPicture(t))
	b.Answer("Add as another sheet")
	b.Until("the second sheet", func() bool {
		return !b.Opening() && b.Shown().Path != first.Picture && b.Shown().Pyramid != nil
	})
	second, _ := b.Session().Sheet()
	b.Sheets.Point(100, 100, "NL 25 43")
	b.Sheets.Point(20, 100, "242 430")
	if len(second.Points) != 0 || b.Points() != 2 || first.ID == second.ID {
		t.Fatalf("sheets %v and %v, %d points: %s", first.ID, second.ID, b.Points(), b.Foot.Message())
	}
	return b, first.ID, second.ID
}

func shown(b *benchtest.Bench, id plan.ID) func() bool {
	return func() bool {
		s, ok := b.Session().Sheet()
		return ok && s.ID == id && b.Shown().Pyramid != nil && b.Shown().Path == s.Picture && !b.Opening()
	}
}

// The question comes before anything of the picture is read, and only where
// something would be lost or could be meant otherwise.
func TestOpeningAsksWhichSheet(t *testing.T) {
	b := benchtest.Opened(t)
	path := benchtest.OtherPicture(t)
	b.Files.Drop(path)
	if b.Asks() {
		t.Error("asked about a sheet on which nothing has been done")
	}
	b.Until("the picture", func() bool { return b.Shown().Path == path && !b.Opening() })

	b = benchtest.Calibrated(t)
	before := b.Plan()
	b.Files.Drop(b.Shown().Path)
	if b.Asks() {
		t.Error("asked about the sheet itself")
	}
	b.Until("the sheet again", func() bool { return !b.Opening() })
	b.Files.Drop(path)
	if !b.Asks() || b.Opening() {
		t.Fatalf("asked %v, being read %v, want the question first", b.Asks(), b.Opening())
	}
	b.Answer("Cancel")
	if b.Plan() != before || b.Opening() || b.Asks() {
		t.Error("something was opened all the same")
	}
	b.Files.Drop(path)
	b.Answer("Start a new plan")
	b.Answer("Discard")
	b.Until("the new plan", func() bool { return b.Shown().Path == path && !b.Opening() })
	if p := b.Plan(); len(p.Sheets) != 1 || len(p.Sheets[0].Points) != 0 || b.Session().Path() != "" {
		t.Errorf("the new plan has %v", p.Sheets)
	}
}

func TestTwoSheets(t *testing.T) {
	b, west, east := panels(t)
	if !strings.HasPrefix(b.Foot.Quality().Text, "other.png: ") {
		t.Errorf("foot line %q", b.Foot.Quality().Text)
	}
	// The mark is at E 121 500, N 742 500: 250 pixels west of the east sheet.
	b.Mouse.NewMark(60, 60)
	marks := b.Plan().Marks
	if len(marks) != 2 || marks[0].Position.Sheet != west || marks[1].Position.Sheet != east {
		t.Fatalf("marks %+v: %s", marks, b.Foot.Message())
	}
	if _, err := b.Session().KeepLeg(plan.AtMark(marks[0]), plan.AtMark(marks[1])); err != nil {
		t.Fatal(err)
	}
	if want := "sheet ground.png"; !strings.Contains(b.Foot.Message(), want) {
		t.Errorf("of the leg it says %q, want %q", b.Foot.Message(), want)
	}
	row := b.Session().Rows()[0]
	if row.Err != nil || !row.Reading.Has(caution.Unchecked) || row.Reading.GridM < 3000 || row.Reading.GridM > 3300 {
		t.Errorf("from sheet to sheet: %+v", row)
	}
	b.Choose("Next sheet")
	b.Until("the first sheet", shown(b, west))
	if b.Points() != 2 || b.Shown().Pyramid.Size().X != 400 {
		t.Errorf("%d points on a picture of %v", b.Points(), b.Shown().Pyramid.Size())
	}
	b.Choose("Previous sheet")
	b.Until("the second sheet", shown(b, east))
}

// Each sheet is found as it was left, and its picture alone is in memory.
func TestSheetsRememberTheirView(t *testing.T) {
	b, west, east := panels(t)
	b.Sheet().ZoomBy(3)
	b.Sheet().CenterOn(view.PicPt{X: 40, Y: 30})
	b.Sheet().Cancel()
	b.Until("the move", b.Sheet().Settled)
	want, old := b.Sheet().View(), b.Shown().Pyramid
	b.Choose("Next sheet")
	b.Until("the first sheet", shown(b, west))
	if b.Sheet().View() == want || b.Shown().Pyramid == old {
		t.Error("the first sheet is shown by the second's view")
	}
	b.Choose("Next sheet")
	b.Until("the second sheet", shown(b, east))
	if got := b.Sheet().View(); got != want {
		t.Errorf("shown by %+v, left by %+v", got, want)
	}
}

// What is selected in the ledger and lies on another sheet is found there.
func TestFindingOnAnotherSheet(t *testing.T) {
	b, west, east := panels(t)
	here, there := b.Plan().Marks[0], plan.ID("")
	b.Mouse.NewMark(60, 60)
	there = b.Selected()
	b.Session().Select(here.ID)
	if !strings.Contains(b.Foot.Message(), "ground.png") || !strings.Contains(b.Foot.Message(), "Ctrl+F") {
		t.Errorf("it says %q, want where the mark lies", b.Foot.Message())
	}
	b.Route.Find(here.ID)
	b.Until("the mark's sheet", shown(b, west))
	b.Until("the move", b.Sheet().Settled)
	if at := b.Sheet().View().ToScreen(view.PicPt{X: 150, Y: 150}); !b.Mouse.InView(150, 150) {
		t.Errorf("the mark is at %v of the screen", at)
	}
	b.Route.Find(there)
	b.Until("the other mark's sheet", shown(b, east))
	if _, err := b.Session().AddMark("Far", plan.Position{Grid: b.Plan().Marks[0].Position.Grid, Code: here.Position.Code, Origin: plan.Typed}); err != nil {
		t.Fatal(err)
	}
	far := b.Selected()
	b.Route.Find(far) // typed, and its ground is on the first sheet
	b.Until("the ground of a typed mark", shown(b, west))
}

func TestSheetsComeAndGo(t *testing.T) {
	b, west, east := panels(t)
	b.Choose("Delete sheet from the plan")
	b.Until("the sheet that is left", shown(b, west))
	if n := len(b.Plan().Sheets); n != 1 {
		t.Errorf("%d sheets are left", n)
	}
	b.Undo()
	b.Until("the sheet that was removed", shown(b, east))
	for b.Session().UndoName() != "add sheet" {
		b.Undo()
	}
	b.Undo()
	b.Until("the sheet before", shown(b, west))
	b.Redo()
	b.Until("the sheet added again", shown(b, east))
	b.GoTo("Sheet")
	b.Tap(t, "Delete ground.png from the plan")
	b.Until("the second alone", shown(b, east))
	b.Choose("Delete sheet from the plan")
	if _, ok := b.Session().Sheet(); ok || b.Shown().Pyramid != nil {
		t.Error("a picture is shown without a sheet")
	}
}

// The picture of one sheet may be missing: the other is worked on all the
// same.
func TestOneMissingPicture(t *testing.T) {
	b, west, east := panels(t)
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.Session().SaveAs(file); err != nil {
		t.Fatal(err)
	}
	first, _ := b.Plan().SheetByID(west)
	if err := os.Remove(first.Picture); err != nil {
		t.Fatal(err)
	}
	again := benchtest.Open(t)
	again.Files.Open(file)
	again.Until("the question", again.Asks)
	if again.Shown().Pyramid != nil {
		t.Fatal("a picture is shown whose file is gone")
	}
	again.Answer("Not now")
	again.Choose("Next sheet")
	again.Until("the sheet that is there", shown(again, east))
	if again.Points() != 2 || again.Asks() {
		t.Errorf("%d points, asked %v", again.Points(), again.Asks())
	}
	again.Choose("Next sheet")
	again.Until("the question about the missing one", again.Asks)
	if again.Shown().Pyramid != nil {
		t.Error("back on the missing one a picture is shown")
	}
}

// Control+Page Down is a menu's key: it works wherever the focus is.
func TestSheetKeys(t *testing.T) {
	b, west, _ := panels(t)
	for _, i := range b.Entries() {
		if strings.HasPrefix(i.Label, "Next sheet") {
			if !strings.HasSuffix(i.Label, "(Ctrl+Page Down)") {
				t.Errorf("the entry says %q", i.Label)
			}
			i.Action()
		}
	}
	b.Until("the next sheet", shown(b, west))
}

// A document whose first page is a sheet already gives another page as another
// sheet.
func TestAnotherPageIsAnotherSheet(t *testing.T) {
	b := benchtest.Open(t)
	path := benchtest.TwoPages(t)
	page := func(n int) func() bool {
		return func() bool {
			return b.Shown().Page.Number == n && b.Shown().Pyramid != nil && !b.Opening()
		}
	}
	b.Files.Drop(path)
	b.Until("the first page", page(1))
	b.Answer("Cancel")
	first, _ := b.Session().Sheet()
	b.Files.Drop(path)
	b.Answer("Add as another sheet")
	b.Until("the question about the page", func() bool { return b.Asks() && !b.Opening() })
	if n := len(b.Plan().Sheets); n != 1 {
		t.Fatalf("%d sheets, want the one that was there", n)
	}
	b.Files.TypePage("2", "100")
	b.Until("the second page", page(2))
	sheets := b.Plan().Sheets
	if len(sheets) != 2 || sheets[0].ID != first.ID || sheets[0].World == nil || sheets[1].Page.Number != 2 {
		t.Errorf("the sheets are %+v", sheets)
	}
	if name := b.Plan().SheetName(sheets[1].ID); !strings.HasSuffix(name, ".pdf, page 2") {
		t.Errorf("it is called %q", name)
	}
}

// Pictures that the command line names together become sheets of one plan.
func TestPanelsOfTheCommandLine(t *testing.T) {
	b := benchtest.Open(t)
	paths := []string{benchtest.Picture(t), benchtest.OtherPicture(t)}
	b.Begin(files.Beginning{Files: paths})
	b.Until("the last panel", func() bool { return b.Shown().Path == paths[1] && !b.Opening() })
	if n := len(b.Plan().Sheets); n != 2 {
		t.Errorf("%d sheets, want 2", n)
	}
}

// Pictures that are dropped together become sheets of one plan.
func TestPanelsDroppedTogether(t *testing.T) {
	b := benchtest.Open(t)
	paths := []string{benchtest.Picture(t), benchtest.OtherPicture(t), benchtest.OtherPicture(t)}
	benchtest.Overwrite(t, paths[2])
	b.Files.Drop(paths...)
	b.Until("the last panel", func() bool { return b.Shown().Path == paths[2] && !b.Opening() })
	var got []string
	for _, s := range b.Plan().Sheets {
		got = append(got, s.Picture)
	}
	if !slices.Equal(got, paths) || b.Asks() {
		t.Errorf("the sheets are %v, want %v; asked %v", got, paths, b.Asks())
	}
	mixed := benchtest.Open(t)
	mixed.Files.Drop(append(paths, "/nowhere/walk.gpx")...)
	mixed.Until("the message about a mixed drop", func() bool { return mixed.Asks() && !mixed.Opening() })
	if told := strings.Join(mixed.Texts(), "\n"); len(mixed.Plan().Sheets) != 1 || !strings.Contains(told, filepath.Base(paths[1])+" and 2 more were skipped") {
		t.Errorf("a mixed drop leads to %d sheets and tells %q, want one, and of all others", len(mixed.Plan().Sheets), told)
	}
}

// A calibration from the file that was undone is not made again when the sheet
// comes back, but is for the same picture in another plan.
func TestAPlaceIsTakenOnce(t *testing.T) {
	b := benchtest.Open(t)
	path := benchtest.TwoPages(t)
	b.Files.Drop(path)
	b.Until("the placed page", func() bool { return b.Whole() })
	b.Answer("Cancel")
	placed, _ := b.Session().Sheet()
	for b.Session().UndoName() == "use the file's position" {
		b.Undo()
	}
	if sheet, _ := b.Session().Sheet(); placed.World == nil || sheet.World != nil || sheet.ID != placed.ID {
		t.Fatalf("placed %v, after undo %v", placed.World, sheet.World)
	}
	other := benchtest.OtherPicture(t)
	b.Choose("Add another sheet…")
	b.Files.TypePath(other)
	b.Until("the other sheet", func() bool { return b.Shown().Path == other && !b.Opening() })
	b.Choose("Next sheet")
	b.Until("the first sheet", shown(b, placed.ID))
	if sheet, _ := b.Session().Sheet(); sheet.World != nil {
		t.Error("the position that was undone is used again")
	}
	b.Choose("New plan")
	b.Answer("Discard")
	b.Files.Drop(path)
	b.Until("the page in another plan", func() bool { return b.Whole() })
	if sheet, _ := b.Session().Sheet(); sheet.World == nil {
		t.Error("in another plan the position is not used")
	}
}

// What is drawn beyond the picture's edge is of another sheet: nothing is set
// there, and what is dragged there stays where it was.
func TestNothingIsSetBeyondTheEdge(t *testing.T) {
	b, west, _ := panels(t)
	before := b.Plan()
	mark := before.Marks[0]
	b.Mouse.NewMark(-250, 150)
	b.Choose("Move marks and ends by dragging")
	b.Settle()
	at := b.Scene().Marks[0].At
	b.Mouse.Drag(at.X, at.Y, -200, 150)
	if b.Plan() != before || !b.Foot.Failed() {
		t.Errorf("marks %+v: %s", b.Plan().Marks, b.Foot.Message())
	}
	b.Mouse.Drag(at.X, at.Y, 20, 150)
	if now, _ := b.Plan().MarkByID(mark.ID); now.Position.Sheet == west || math.Abs(now.Position.At.Col-20) > 0.5 {
		t.Errorf("on the sheet it is %+v", now.Position)
	}
}
