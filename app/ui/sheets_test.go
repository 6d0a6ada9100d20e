package ui

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/files"
	"legwright/app/ui/uitest"
	"legwright/canvas/view"
	"legwright/mapio/planfile"
)

// answerWith presses the button of the question that stands open.
func answerWith(t *testing.T, b *Bench, text string) {
	t.Helper()
	if !b.dialogs.Waiting() {
		t.Fatalf("no question stands open to be answered %q", text)
	}
	b.window.(*uitest.Window).Tap(t, text)
}

// panels is calibrated with a second picture as another sheet in hand: 10 m
// a pixel as well, east of the first, from NL 24 44 on.
func panels(t *testing.T) (b *Bench, west, east plan.ID) {
	t.Helper()
	b = calibrated(t)
	first, _ := b.s.Sheet()
	b.view.NewMark(picAt(150, 150))
	b.desk.Open(otherPicture(t))
	answerWith(t, b, "Add as another sheet")
	until(t, b, "the second sheet", func() bool {
		return !b.openingPicture() && b.pictures.shown.Path != first.Picture && b.desk.Pyramid() != nil
	})
	second, _ := b.s.Sheet()
	point(b, 100, 100, "NL 25 43")
	point(b, 20, 100, "242 430")
	if len(second.Points) != 0 || points2(b) != 2 || first.ID == second.ID {
		t.Fatalf("sheets %v and %v, %d points: %s", first.ID, second.ID, points2(b), b.foot.Message())
	}
	return b, first.ID, second.ID
}

// points2 counts the control points of the sheet in hand.
func points2(b *Bench) int {
	s, _ := b.s.Sheet()
	return len(s.Points)
}

func shown(b *Bench, id plan.ID) func() bool {
	return func() bool {
		s, ok := b.s.Sheet()
		return ok && s.ID == id && b.desk.Pyramid() != nil && b.pictures.shown.Path == s.Picture && !b.openingPicture()
	}
}

// The question comes before anything of the picture is read, and only where
// something would be lost or could be meant otherwise.
func TestOpeningAsksWhichSheet(t *testing.T) {
	b := opened(t)
	path := otherPicture(t)
	b.desk.Open(path)
	if b.dialogs.Waiting() {
		t.Error("asked about a sheet on which nothing has been done")
	}
	until(t, b, "the picture", func() bool { return b.pictures.shown.Path == path && !b.openingPicture() })

	b = calibrated(t)
	before := b.s.Plan()
	b.desk.Open(b.pictures.shown.Path)
	if b.dialogs.Waiting() {
		t.Error("asked about the sheet itself")
	}
	until(t, b, "the sheet again", func() bool { return !b.openingPicture() })
	b.desk.Open(path)
	if !b.dialogs.Waiting() || b.openingPicture() {
		t.Fatalf("asked %v, being read %v, want the question first", b.dialogs.Waiting(), b.openingPicture())
	}
	answerWith(t, b, "Cancel")
	if b.s.Plan() != before || b.openingPicture() || b.dialogs.Waiting() {
		t.Error("something was opened all the same")
	}
	b.desk.Open(path)
	answerWith(t, b, "Start a new plan")
	answerWith(t, b, "Discard")
	until(t, b, "the new plan", func() bool { return b.pictures.shown.Path == path && !b.openingPicture() })
	if p := b.s.Plan(); len(p.Sheets) != 1 || len(p.Sheets[0].Points) != 0 || b.s.Path() != "" {
		t.Errorf("the new plan has %v", p.Sheets)
	}
}

func TestTwoSheets(t *testing.T) {
	b, west, east := panels(t)
	if !strings.HasPrefix(b.foot.Quality().Text, "other.png: ") {
		t.Errorf("foot line %q", b.foot.Quality().Text)
	}
	// The mark is at E 121 500, N 742 500: 250 pixels west of the east sheet.
	b.view.NewMark(picAt(60, 60))
	marks := b.s.Plan().Marks
	if len(marks) != 2 || marks[0].Position.Sheet != west || marks[1].Position.Sheet != east {
		t.Fatalf("marks %+v: %s", marks, b.foot.Message())
	}
	if _, err := b.s.KeepLeg(plan.AtMark(marks[0]), plan.AtMark(marks[1])); err != nil {
		t.Fatal(err)
	}
	if want := "sheet ground.png"; !strings.Contains(b.foot.Message(), want) {
		t.Errorf("of the leg it says %q, want %q", b.foot.Message(), want)
	}
	row := b.s.Rows()[0]
	if row.Err != nil || !row.Reading.Has(caution.Unchecked) || row.Reading.GridM < 3000 || row.Reading.GridM > 3300 {
		t.Errorf("from sheet to sheet: %+v", row)
	}
	b.files.Pictures.StepSheet(1)
	until(t, b, "the first sheet", shown(b, west))
	if points2(b) != 2 || b.desk.Pyramid().Size().X != 400 {
		t.Errorf("%d points on a picture of %v", points2(b), b.desk.Pyramid().Size())
	}
	b.files.Pictures.StepSheet(-1)
	until(t, b, "the second sheet", shown(b, east))
}

// Each sheet is found as it was left, and its picture alone is in memory.
func TestSheetsRememberTheirView(t *testing.T) {
	b, west, east := panels(t)
	b.view.Area().ZoomBy(3)
	b.view.Area().CenterOn(view.PicPt{X: 40, Y: 30})
	b.view.Area().Cancel()
	until(t, b, "the move", b.view.Area().Settled)
	want, old := b.view.Area().View(), b.desk.Pyramid()
	b.showSheet(west, "")
	until(t, b, "the first sheet", shown(b, west))
	if b.view.Area().View() == want || b.desk.Pyramid() == old {
		t.Error("the first sheet is shown by the second's view")
	}
	b.showSheet(east, "")
	until(t, b, "the second sheet", shown(b, east))
	if got := b.view.Area().View(); got != want {
		t.Errorf("shown by %+v, left by %+v", got, want)
	}
}

// What is selected in the ledger and lies on another sheet is found there.
func TestFindingOnAnotherSheet(t *testing.T) {
	b, west, east := panels(t)
	here, there := b.s.Plan().Marks[0], plan.ID("")
	b.view.NewMark(picAt(60, 60))
	there = b.selectedID()
	b.s.Select(here.ID)
	if !strings.Contains(b.foot.Message(), "ground.png") || !strings.Contains(b.foot.Message(), "Ctrl+F") {
		t.Errorf("it says %q, want where the mark lies", b.foot.Message())
	}
	b.route.Find(here.ID)
	until(t, b, "the mark's sheet", shown(b, west))
	until(t, b, "the move", b.view.Area().Settled)
	if at := b.view.Area().View().ToScreen(view.PicPt{X: 150, Y: 150}); !b.view.InView(view.PicPt{X: 150, Y: 150}) {
		t.Errorf("the mark is at %v of the screen", at)
	}
	b.route.Find(there)
	until(t, b, "the other mark's sheet", shown(b, east))
	if _, err := b.s.AddMark("Far", plan.Position{Grid: b.s.Plan().Marks[0].Position.Grid, Code: here.Position.Code, Origin: plan.Typed}); err != nil {
		t.Fatal(err)
	}
	far := b.selectedID()
	b.route.Find(far) // typed, and its ground is on the first sheet
	until(t, b, "the ground of a typed mark", shown(b, west))
}

func TestSheetsComeAndGo(t *testing.T) {
	b, west, east := panels(t)
	b.files.Pictures.RemoveSheet(east)
	until(t, b, "the sheet that is left", shown(b, west))
	if n := len(b.s.Plan().Sheets); n != 1 {
		t.Errorf("%d sheets are left", n)
	}
	b.undo()
	until(t, b, "the sheet that was removed", shown(b, east))
	for b.s.UndoName() != "add sheet" {
		b.undo()
	}
	b.undo()
	until(t, b, "the sheet before", shown(b, west))
	b.redo()
	until(t, b, "the sheet added again", shown(b, east))
	b.files.Pictures.RemoveSheet(west)
	until(t, b, "the second alone", shown(b, east))
	b.files.Pictures.RemoveSheet(east)
	if _, ok := b.s.Sheet(); ok || b.desk.Pyramid() != nil {
		t.Error("a picture is shown without a sheet")
	}
}

// The picture of one sheet may be missing: the other is worked on all the
// same.
func TestOneMissingPicture(t *testing.T) {
	b, west, east := panels(t)
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	first, _ := b.s.Plan().SheetByID(west)
	if err := os.Remove(first.Picture); err != nil {
		t.Fatal(err)
	}
	again := stand(t)
	reopened(t, again, file)
	until(t, again, "the question", again.dialogs.Waiting)
	if again.desk.Pyramid() != nil {
		t.Fatal("a picture is shown whose file is gone")
	}
	answerWith(t, again, "Not now")
	again.files.Pictures.StepSheet(1)
	until(t, again, "the sheet that is there", shown(again, east))
	if points2(again) != 2 || again.dialogs.Waiting() {
		t.Errorf("%d points, asked %v", points2(again), again.dialogs.Waiting())
	}
	again.files.Pictures.StepSheet(1)
	until(t, again, "the question about the missing one", again.dialogs.Waiting)
	if again.desk.Pyramid() != nil {
		t.Error("back on the missing one a picture is shown")
	}
}

// Control+Page Down is a menu's key: it works wherever the focus is.
func TestSheetKeys(t *testing.T) {
	b, west, _ := panels(t)
	for _, i := range entries(b) {
		if strings.HasPrefix(i.Label, "Next sheet") {
			if !strings.HasSuffix(i.Label, "(Ctrl+"+keyWord(fyne.KeyPageDown)+")") {
				t.Errorf("the entry says %q", i.Label)
			}
			i.Action()
		}
	}
	until(t, b, "the next sheet", shown(b, west))
}

// A document whose first page is a sheet already gives another page as another
// sheet.
func TestAnotherPageIsAnotherSheet(t *testing.T) {
	b := stand(t)
	path := twoPages(t)
	page := func(n int) func() bool {
		return func() bool {
			return b.pictures.shown.Page.Number == n && b.desk.Pyramid() != nil && !b.openingPicture()
		}
	}
	b.desk.Open(path)
	until(t, b, "the first page", page(1))
	answerWith(t, b, "Cancel")
	first, _ := b.s.Sheet()
	b.desk.Open(path)
	answerWith(t, b, "Add as another sheet")
	until(t, b, "the question about the page", func() bool { return b.dialogs.Waiting() && !b.openingPicture() })
	if n := len(b.s.Plan().Sheets); n != 1 {
		t.Fatalf("%d sheets, want the one that was there", n)
	}
	typePage(t, b, "2", "100")
	until(t, b, "the second page", page(2))
	sheets := b.s.Plan().Sheets
	if len(sheets) != 2 || sheets[0].ID != first.ID || sheets[0].World == nil || sheets[1].Page.Number != 2 {
		t.Errorf("the sheets are %+v", sheets)
	}
	if name := b.s.Plan().SheetName(sheets[1].ID); !strings.HasSuffix(name, ".pdf, page 2") {
		t.Errorf("it is called %q", name)
	}
}

// Pictures that the command line names together become sheets of one plan.
func TestPanelsOfTheCommandLine(t *testing.T) {
	b := stand(t)
	paths := []string{picture(t), otherPicture(t)}
	b.begin(files.Beginning{Files: paths})
	until(t, b, "the last panel", func() bool { return b.pictures.shown.Path == paths[1] && !b.openingPicture() })
	if n := len(b.s.Plan().Sheets); n != 2 {
		t.Errorf("%d sheets, want 2", n)
	}
}

// Pictures that are dropped together become sheets of one plan.
func TestPanelsDroppedTogether(t *testing.T) {
	b := stand(t)
	paths := []string{picture(t), otherPicture(t), otherPicture(t)}
	otherOfSize(t, paths[2])
	dropAll(b, paths...)
	until(t, b, "the last panel", func() bool { return b.pictures.shown.Path == paths[2] && !b.openingPicture() })
	var got []string
	for _, s := range b.s.Plan().Sheets {
		got = append(got, s.Picture)
	}
	if !slices.Equal(got, paths) || b.dialogs.Waiting() {
		t.Errorf("the sheets are %v, want %v; asked %v", got, paths, b.dialogs.Waiting())
	}
	dropAll(b, append(paths, "/nowhere/walk.gpx")...)
	if batch := b.desk.EndBatch(); len(batch.Waiting) > 1 {
		t.Errorf("a mixed drop waits for %v", batch.Waiting)
	}
}

// A calibration from the file that was undone is not made again when the sheet
// comes back, but is for the same picture in another plan.
func TestAPlaceIsTakenOnce(t *testing.T) {
	b := stand(t)
	path := twoPages(t)
	b.desk.Open(path)
	until(t, b, "the placed page", func() bool { return whole(b) })
	answerWith(t, b, "Cancel")
	placed, _ := b.s.Sheet()
	for b.s.UndoName() == "use the file's position" {
		b.undo()
	}
	if sheet, _ := b.s.Sheet(); placed.World == nil || sheet.World != nil || sheet.ID != placed.ID {
		t.Fatalf("placed %v, after undo %v", placed.World, sheet.World)
	}
	other := otherPicture(t)
	b.desk.Add(other)
	until(t, b, "the other sheet", func() bool { return b.pictures.shown.Path == other && !b.openingPicture() })
	b.showSheet(placed.ID, "")
	until(t, b, "the first sheet", shown(b, placed.ID))
	if sheet, _ := b.s.Sheet(); sheet.World != nil {
		t.Error("the position that was undone is used again")
	}
	b.files.Opener.New()
	answerWith(t, b, "Discard")
	b.desk.Open(path)
	until(t, b, "the page in another plan", func() bool { return whole(b) })
	if sheet, _ := b.s.Sheet(); sheet.World == nil {
		t.Error("in another plan the position is not used")
	}
}

// What is drawn beyond the picture's edge is of another sheet: nothing is set
// there, and what is dragged there stays where it was.
func TestNothingIsSetBeyondTheEdge(t *testing.T) {
	b, west, _ := panels(t)
	before := b.s.Plan()
	mark := before.Marks[0]
	b.view.NewMark(picAt(-250, 150))
	b.toggleMoving()
	settle(b)
	at := b.view.Scene().Marks[0].At
	drag(b, at.X, at.Y, -200, 150)
	if b.s.Plan() != before || !b.foot.Failed() {
		t.Errorf("marks %+v: %s", b.s.Plan().Marks, b.foot.Message())
	}
	drag(b, at.X, at.Y, 20, 150)
	if now, _ := b.s.Plan().MarkByID(mark.ID); now.Position.Sheet == west || math.Abs(now.Position.At.Col-20) > 0.5 {
		t.Errorf("on the sheet it is %+v", now.Position)
	}
}
