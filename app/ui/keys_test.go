package ui_test

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/benchtest"
	"legwright/app/ui/dial"
	"legwright/assets/release"
)

// A leg is made without a mouse: arrows, Return, arrows, Return, L.
func TestLegByKeyboard(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.FocusSheet()
	if b.Canvas().Focused() != b.Sheet() {
		t.Fatal("the sheet has not the focus")
	}
	b.Keys(40, fyne.KeyLeft)
	b.Key(fyne.KeyReturn)
	b.Keys(60, fyne.KeyRight)
	b.Keys(60, fyne.KeyUp)
	if b.Dial.Figures().Texts[dial.Grid] == "" {
		t.Error("the dial shows nothing while the keyboard drags")
	}
	b.Key(fyne.KeyReturn)
	if !b.Offered() {
		t.Fatal("nothing is offered after the second Return")
	}
	b.Letters("l")
	rows := b.Session().Rows()
	if len(rows) != 1 {
		t.Fatalf("%d legs, want one: %s", len(rows), b.Foot.Message())
	}
	// 60 screen pixels each way, ten metres a picture pixel; what is drawn lies
	// on the screen's pixels to within a tenth.
	perPx := 10 / b.Sheet().View().Scale()
	want := 60 * math.Sqrt2 * perPx
	if got := rows[0].Reading.GridM; math.Abs(got-want) > 0.1*perPx {
		t.Errorf("the leg is %v m long, want %v ± %v", got, want, 0.1*perPx)
	}
	if got := rows[0].Reading.Grid.Angle().Deg(); math.Abs(got-45) > 0.07 {
		t.Errorf("its bearing is %v°, want 45 ± 0.07", got)
	}
}

// Escape ends a drag by keyboard, then the offer, then the selection.
func TestEscapeGoesStepByStep(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Letters("l")
	id := b.Selected()
	b.FocusSheet()
	b.Key(fyne.KeyReturn)
	b.Keys(30, fyne.KeyUp)
	b.Key(fyne.KeyEscape)
	if b.Offered() || b.Selected() != id {
		t.Errorf("strip %v, selected %q, want no offer and %q", b.Offered(), b.Selected(), id)
	}
	b.Mouse.Drag(100, 100, 200, 100)
	b.Key(fyne.KeyEscape)
	if b.Offered() || b.Selected() != id {
		t.Errorf("strip %v, selected %q after Escape, want no offer and %q", b.Offered(), b.Selected(), id)
	}
	b.Key(fyne.KeyEscape)
	if b.Selected() != "" {
		t.Errorf("%q is still selected", b.Selected())
	}
}

// Undo in the middle of a drag puts back what is dragged, and no more.
func TestUndoWhileDragging(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Letters("l")
	b.FocusSheet()
	b.Key(fyne.KeyReturn)
	b.Keys(30, fyne.KeyUp)
	b.Undo()
	if len(b.Plan().Legs) != 1 {
		t.Error("undo took the leg as well as the drag")
	}
	b.Key(fyne.KeyReturn)
	b.Key(fyne.KeyReturn)
	b.Discard()
	b.Undo()
	if len(b.Plan().Legs) != 0 {
		t.Error("the next undo did not take the leg")
	}
}

// Letters and Delete mean nothing to the bench while a dialog is open.
func TestKeysWaitForTheDialog(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Letters("l")
	b.Choose("About Legwright…")
	if !b.Shows(release.Program) {
		t.Errorf("About does not name %s but says %q", release.Program, b.Texts())
	}
	b.Escape()
	b.Choose("Show what is new…")
	if !b.Shows("Version "+release.Version) || !b.Shows("Escapes") || b.Shows("**") {
		t.Errorf("the list of changes says %q", b.Texts())
	}
	b.Key(fyne.KeyDelete)
	b.Letters("s")
	if len(b.Plan().Legs) != 1 {
		t.Error("Delete reached through the dialog")
	}
	b.Escape()
	b.Key(fyne.KeyDelete)
	if len(b.Plan().Legs) != 0 {
		t.Error("Delete does not remove the selected leg")
	}
	if said := b.Foot.Message(); said != "Leg 1 deleted. Undo restores it." {
		t.Errorf("the foot line says %q", said)
	}
}

// Undo and redo say so where there is nothing to undo: the words of an earlier act would speak of it
// as if it had just been done.
func TestNothingToUndo(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.Mouse.NewMark(100, 200)
	b.FocusSheet()
	for steps := 0; b.Session().UndoName() != ""; steps++ {
		if steps > 50 {
			t.Fatal("no end to undo")
		}
		b.Undo()
	}
	b.Undo()
	if said := b.Foot.Message(); said != "Nothing to undo." {
		t.Errorf("the foot line says %q", said)
	}
	b.Redo()
	if said := b.Foot.Message(); !strings.HasPrefix(said, "Redone: ") {
		t.Errorf("after redo it says %q", said)
	}
	for b.Session().RedoName() != "" {
		b.Redo()
	}
	b.Redo()
	if said := b.Foot.Message(); said != "Nothing to redo." {
		t.Errorf("the foot line says %q", said)
	}
}

// What the rows of a list in a panel do not use of the keyboard themselves reaches the window, so that
// Escape and Delete mean the thing that was chosen there.
func TestKeysOfWhatAListChose(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.NewMark(100, 200)
	mark := b.Plan().Marks[0]
	b.Key(fyne.KeyEscape)
	b.Choose("List marks")
	rows := func() bool { _, is := b.Canvas().Focused().(interface{ ScrollToBottom() }); return is }
	for i := 0; !rows(); i++ {
		if i > 50 {
			t.Fatal("no list takes the focus")
		}
		b.Canvas().FocusNext()
	}
	b.Key(fyne.KeySpace)
	if b.Selected() != mark.ID {
		t.Fatalf("%q is selected, want the mark %q", b.Selected(), mark.ID)
	}
	b.Key(fyne.KeyEscape)
	if b.Selected() != "" {
		t.Error("Escape left the mark selected")
	}
	b.Key(fyne.KeySpace)
	b.Key(fyne.KeyDelete)
	if said := b.Foot.Message(); len(b.Plan().Marks) != 0 || said != mark.Name+" deleted. Undo restores it." {
		t.Errorf("%d marks after Delete, and the foot line says %q", len(b.Plan().Marks), said)
	}
}
