package ui_test

import (
	"strings"
	"testing"

	"legwright/app/ui/benchtest"
)

func markName(b *benchtest.Bench) string {
	m, _ := b.Plan().MarkByID(b.Selected())
	return m.Name
}

// A name that is being typed is kept on the way out of the plan.
func TestNameIsKeptOnTheWayOut(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.NewMark(100, 100)
	b.Route.NameField().SetText("Wall end")
	b.Choose("New plan")
	if markName(b) != "Wall end" {
		t.Errorf("the name being typed was lost: %q", markName(b))
	}
	b.Escape()
}

// Undo straight after a mark is set takes the mark, though its name has the
// focus; while a name is being typed it takes the typing.
func TestUndoInAField(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.NewMark(100, 100)
	if !b.Route.Naming() {
		t.Fatal("the new mark's name has not the focus")
	}
	b.Undo()
	if len(b.Plan().Marks) != 0 {
		t.Error("undo did not take the mark")
	}
	b.Redo()
	if len(b.Plan().Marks) != 1 {
		t.Fatal("redo did not bring it back")
	}
	b.Session().Select(b.Plan().Marks[0].ID)
	b.Canvas().Focus(b.Route.NameField())
	b.Route.NameField().TypedRune('X')
	b.Undo()
	if len(b.Plan().Marks) != 1 || strings.Contains(b.Route.NameField().Text, "X") {
		t.Errorf("%d marks, name %q: want the typing taken back alone", len(b.Plan().Marks), b.Route.NameField().Text)
	}
}

// An offer was read on the plan as it was; when the plan changes under it, it
// goes.
func TestOfferGoesWhenThePlanChanges(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.NewMark(100, 100)
	b.Mouse.Drag(100, 100, 200, 100)
	if !b.Offered() {
		t.Fatal("nothing was offered")
	}
	b.Choose("Delete selection")
	if b.Offered() {
		t.Error("a reading is offered whose start may be gone")
	}
	b.Letters("l")
	if len(b.Plan().Legs) != 0 {
		t.Error("it was kept")
	}
}
