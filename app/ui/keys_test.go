package ui

import (
	"math"
	"testing"

	"legwright/app/ui/dial"

	"fyne.io/fyne/v2"
)

// press types a key on the sheet a number of times.
func press(b *Bench, times int, name fyne.KeyName) {
	for range times {
		b.view.Area().TypedKey(&fyne.KeyEvent{Name: name})
	}
}

// A leg is made without a mouse: arrows, Return, arrows, Return, L.
func TestLegByKeyboard(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	b.view.Focus()
	if b.window.Canvas().Focused() != b.view.Area() {
		t.Fatal("the sheet has not the focus")
	}
	press(b, 40, fyne.KeyLeft)
	press(b, 1, fyne.KeyReturn)
	press(b, 60, fyne.KeyRight)
	press(b, 60, fyne.KeyUp)
	if b.frame.dial.Figures().Texts[dial.Grid] == "" {
		t.Error("the dial shows nothing while the keyboard drags")
	}
	press(b, 1, fyne.KeyReturn)
	if !b.view.Strip().Visible() {
		t.Fatal("nothing is offered after the second Return")
	}
	b.view.Area().TypedRune('l')
	rows := b.s.Rows()
	if len(rows) != 1 {
		t.Fatalf("%d legs, want one: %s", len(rows), b.foot.Message())
	}
	// 60 screen pixels each way, ten metres a picture pixel; what is drawn lies
	// on the screen's pixels to within a tenth.
	perPx := 10 / b.view.Area().View().Scale()
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
	b := calibrated(t)
	b.goTo(panelRoute)
	drag(b, 100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	id := b.selectedID()
	b.view.Focus()
	press(b, 1, fyne.KeyReturn)
	press(b, 30, fyne.KeyUp)
	press(b, 1, fyne.KeyEscape)
	if b.view.Strip().Visible() || b.selectedID() != id {
		t.Errorf("strip %v, selected %q, want no offer and %q", b.view.Strip().Visible(), b.selectedID(), id)
	}
	drag(b, 100, 100, 200, 100)
	press(b, 1, fyne.KeyEscape)
	if b.view.Strip().Visible() || b.selectedID() != id {
		t.Errorf("strip %v, selected %q after Escape, want no offer and %q", b.view.Strip().Visible(), b.selectedID(), id)
	}
	press(b, 1, fyne.KeyEscape)
	if b.selectedID() != "" {
		t.Errorf("%q is still selected", b.selectedID())
	}
}

// Undo in the middle of a drag puts back what is dragged, and no more.
func TestUndoWhileDragging(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	drag(b, 100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	b.view.Focus()
	press(b, 1, fyne.KeyReturn)
	press(b, 30, fyne.KeyUp)
	b.undo()
	if len(b.s.Plan().Legs) != 1 {
		t.Error("undo took the leg as well as the drag")
	}
	press(b, 1, fyne.KeyReturn)
	press(b, 1, fyne.KeyReturn)
	b.view.Discard()
	b.undo()
	if len(b.s.Plan().Legs) != 0 {
		t.Error("the next undo did not take the leg")
	}
}

// Letters and Delete mean nothing to the bench while a dialog is open.
func TestKeysWaitForTheDialog(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	drag(b, 100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	b.frame.help.about()
	b.key(&fyne.KeyEvent{Name: fyne.KeyDelete})
	b.rune('s')
	if len(b.s.Plan().Legs) != 1 {
		t.Error("Delete reached through the dialog")
	}
	b.escape()
	b.key(&fyne.KeyEvent{Name: fyne.KeyDelete})
	if len(b.s.Plan().Legs) != 0 {
		t.Error("Delete does not remove the selected leg")
	}
}
