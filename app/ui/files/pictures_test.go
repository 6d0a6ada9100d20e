package files_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
	"legwright/app/ui/opening"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// shown is the page and size of what is shown.
func (b *bench) shownPage() plan.Page {
	p, _ := b.desk.Picture()
	return p.Page
}

// still waits until nothing is being opened.
func (b *bench) still() {
	b.t.Helper()
	b.until("the end of the opening", func() bool { _, on := b.desk.Job(); return !on })
}

// Another picture asks what it is to become, and each answer does what it says.
func TestWhichSheet(t *testing.T) {
	for answer, want := range map[string]struct{ sheets, marks int }{
		"Cancel": {1, 1}, "Start a new plan": {1, 0}, "Replace the sheet": {1, 1}, "Add as another sheet": {2, 1},
	} {
		b := calibrated(t)
		b.mark("Cairn", 50, 50)
		other := picture(t, "other.png", 90)
		b.Opener.Open(other)
		b.asked(answer)
		b.answer(answer)
		if answer == "Start a new plan" {
			b.answer("Discard")
		}
		b.still()
		sheet, _ := b.s.Sheet()
		if p := b.s.Plan(); len(p.Sheets) != want.sheets || len(p.Marks) != want.marks || (sheet.Picture == other) != (answer != "Cancel") {
			t.Errorf("%s: %d sheets, %d marks, %s is shown, want %+v", answer, len(p.Sheets), len(p.Marks), sheet.Picture, want)
		}
	}
}

// The sheets of a plan follow each other in a ring; one that is removed comes back by
// undo.
func TestSheetsFollowEachOther(t *testing.T) {
	b := calibrated(t)
	first, _ := b.s.Sheet()
	b.Pictures.StepSheet(1)
	if !b.foot.Failed() {
		t.Error("a step among one sheet is not refused")
	}
	b.Opener.Open(picture(t, "other.png", 90))
	b.asked("what it is")
	b.answer("Add as another sheet")
	b.still()
	for _, by := range []int{1, -1} {
		before, _ := b.s.Sheet()
		if b.Pictures.StepSheet(by); b.s.Plan() == nil {
			t.Fatal("no plan")
		}
		b.still()
		if now, _ := b.s.Sheet(); now.ID == before.ID {
			t.Errorf("a step by %d stays at %s", by, now.ID)
		}
	}
	b.Pictures.ShowSheet(first.ID)
	b.still()
	b.Pictures.RemoveShown()
	b.still()
	if now, _ := b.s.Sheet(); len(b.s.Plan().Sheets) != 1 || now.ID == first.ID {
		t.Errorf("%d sheets, %s is shown", len(b.s.Plan().Sheets), now.ID)
	}
	b.s.Undo()
	if len(b.s.Plan().Sheets) != 2 {
		t.Error("undo does not bring the sheet back")
	}
}

// A picture whose content changed is used only where the person says so.
func TestAnotherPictureInItsFile(t *testing.T) {
	for answer, use := range map[string]bool{"Cancel": false, "Use anyway": true} {
		b, path := saved(t)
		do(t, b.s.Save())
		sheet, _ := b.s.Sheet()
		raw, err := os.ReadFile(picture(t, "other.png", 30))
		do(t, err)
		do(t, os.WriteFile(sheet.Picture, raw, 0o600))
		b.Opener.Open(path)
		b.asked("the question about the picture")
		b.answer(answer)
		b.still()
		if now, _ := b.s.Sheet(); (now.SHA256 != sheet.SHA256) != use || (b.desk.Pyramid() != nil) != use {
			t.Errorf("%s: the sheet has another picture %v, shown %v", answer, now.SHA256 != sheet.SHA256, b.desk.Pyramid() != nil)
		}
	}
}

// A picture that is not there any more is found elsewhere.
func TestMissingPicture(t *testing.T) {
	b, path := saved(t)
	do(t, b.s.Save())
	sheet, _ := b.s.Sheet()
	moved := filepath.Join(t.TempDir(), "moved.png")
	do(t, os.Rename(sheet.Picture, moved))
	b.Opener.Open(path)
	b.asked("the question about the picture")
	b.answer("Find it…")
	b.typeInto(moved)
	b.until("the picture", func() bool { return b.desk.Pyramid() != nil })
	if now, _ := b.s.Sheet(); now.Picture != moved || len(now.Points) != len(sheet.Points) {
		t.Errorf("the sheet has %s and %d points", now.Picture, len(now.Points))
	}
}

// small is the page that the dialog shows, nil for none.
func (b *bench) small() *canvas.Image {
	for _, o := range test.LaidOutObjects(b.overlay()) {
		if m, ok := o.(*canvas.Image); ok && m.Image != nil {
			return m
		}
	}
	return nil
}

// grey reports whether a button of the dialog cannot be clicked.
func (b *bench) grey(label string) bool {
	w, ok := uitest.Find[*widgets.Tool](b.window, label)
	return ok && w.Disabled()
}

// The page dialog shows the page that is chosen, by number or by its buttons, and opens
// no other.
func TestChoosingAPage(t *testing.T) {
	b := stand(t)
	path, err := filepath.Abs("../testdata/two-pages.tif")
	do(t, err)
	b.Opener.Open(path)
	b.still()
	b.asked("the page")
	b.until("the small page", func() bool { return b.small() != nil })
	for _, o := range test.LaidOutObjects(b.window.Canvas().Overlays().Top()) {
		if w, ok := o.(*widgets.Sentence); ok && w.Visible() && w.Text() == "" {
			t.Error("a refusal without words is shown")
		}
	}
	first := b.small().Image
	if !b.grey("Previous") || b.grey("Next") {
		t.Error("the first page has a previous one, or no next one")
	}
	b.answer("Next")
	b.until("the other small page", func() bool { m := b.small(); return m != nil && m.Image != first })
	if size := b.small().Image.Bounds().Size(); size.X != 50 || size.Y != 70 {
		t.Errorf("shown is %v, want the second page, 50 × 70", size)
	}
	if b.grey("Previous") || !b.grey("Next") {
		t.Error("the last page has no previous one, or a next one")
	}
	b.window.Canvas().Focused().TypedRune('7')
	b.window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if !b.dialogs.Waiting() || b.shownPage().Number != 1 {
		t.Fatal("page 7 was not refused")
	}
	b.dialogs.Escape()
	if b.still(); b.shownPage().Number != 1 || b.dialogs.Waiting() {
		t.Errorf("after Escape page %d is shown", b.shownPage().Number)
	}
	b.Pictures.ChoosePage()
	b.fill("1", "2")
	b.answer("Show page")
	b.still()
	if b.shownPage().Number != 2 {
		t.Errorf("page %d is shown, want 2", b.shownPage().Number)
	}
	b = calibrated(t)
	b.Pictures.ChoosePage()
	if !b.foot.Failed() || b.dialogs.Waiting() {
		t.Error("a single picture has pages")
	}
}

// The message about a file that cannot be opened also says what became of the files beside it.
func TestBadPictures(t *testing.T) {
	b := stand(t)
	bad := filepath.Join(t.TempDir(), "bad.png")
	write(t, bad, "no picture")
	b.Opener.Drop([]string{bad, picture(t, "good.png", 80)})
	b.asked("the refusal")
	if _, has := b.s.Sheet(); has || !b.foot.Failed() || b.desk.State() != opening.Empty {
		t.Errorf("a sheet %v, refused %v, state %v", has, b.foot.Failed(), b.desk.State())
	}
}

// Where the picture of a plan is missing, the message names the menu entry that brings it
// back; where another plan comes back, the message says so.
func TestEndsOfOpeningsSayHowToGoOn(t *testing.T) {
	const find = "Picture → Find the picture…"
	for _, c := range []struct {
		r          opening.Report
		find, back bool
	}{
		{opening.Report{Reason: opening.Cancelled}, false, false},
		{opening.Report{Reason: opening.Cancelled, Bare: true}, true, false},
		{opening.Report{Reason: opening.Cancelled, Back: true, Use: opening.NewPlan}, false, true},
		{opening.Report{Reason: opening.Refused, Use: opening.NewPlan, Err: os.ErrInvalid}, false, false},
		{opening.Report{Reason: opening.Refused, Back: true, Use: opening.NewPlan, Err: os.ErrInvalid}, false, true},
		{opening.Report{Reason: opening.Removed, Err: os.ErrInvalid}, true, false},
		{opening.Report{Reason: opening.Withheld}, true, false},
	} {
		b := stand(t)
		c.r.Path = "/maps/isle.png"
		b.Pictures.Tell(c.r)
		says := b.foot.Message()
		if strings.Contains(says, find) != c.find || strings.Contains(says, "open again") != c.back {
			t.Errorf("%+v: the foot line says %q", c.r, says)
		}
	}
}
