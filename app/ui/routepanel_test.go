package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// addTypedMark sets a mark at a typed reference.
func addTypedMark(t *testing.T, b *Bench, name, ref string) {
	t.Helper()
	pos, err := b.s.ParsePosition(ref)
	if err == nil {
		_, err = b.s.AddMark(name, pos)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// typeLeg types a leg into the form of the Route panel.
func typeLeg(b *Bench, from, bearing, length string) {
	fields := b.route.Controls()
	for name, text := range map[string]string{"typed from": from, "typed bearing": bearing, "typed length": length} {
		fields[name].(*widget.Entry).SetText(text)
	}
	fields["typed length"].(*widget.Entry).OnSubmitted("")
}

// nameField is the field for the name of the selected thing.
func nameField(b *Bench) *widgets.EditField {
	f, _ := uitest.Find[*widgets.EditField](&uitest.Window{Window: b.window}, "name")
	return f
}

// typesName reports whether the focus is in that field.
func typesName(b *Bench) bool {
	return nameField(b) != nil && b.window.Canvas().Focused() == fyne.Focusable(nameField(b))
}

func markName(b *Bench) string {
	m, _ := b.s.Plan().MarkByID(b.selectedID())
	return m.Name
}

// A name that is being typed is kept on the way out of the plan.
func TestNameIsKeptOnTheWayOut(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	b.view.NewMark(picAt(100, 100))
	nameField(b).SetText("Wall end")
	b.files.Saver.Guard(func() {})
	if markName(b) != "Wall end" {
		t.Errorf("the name being typed was lost: %q", markName(b))
	}
	b.escape()
}

// Undo straight after a mark is set takes the mark, though its name has the
// focus; while a name is being typed it takes the typing.
func TestUndoInAField(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	b.view.NewMark(picAt(100, 100))
	if !typesName(b) {
		t.Fatal("the new mark's name has not the focus")
	}
	b.undo()
	if len(b.s.Plan().Marks) != 0 {
		t.Error("undo did not take the mark")
	}
	b.redo()
	if len(b.s.Plan().Marks) != 1 {
		t.Fatal("redo did not bring it back")
	}
	b.s.Select(b.s.Plan().Marks[0].ID)
	b.window.Canvas().Focus(nameField(b))
	nameField(b).TypedRune('X')
	b.undo()
	if len(b.s.Plan().Marks) != 1 || strings.Contains(nameField(b).Text, "X") {
		t.Errorf("%d marks, name %q: want the typing taken back alone", len(b.s.Plan().Marks), nameField(b).Text)
	}
}

// An offer was read on the plan as it was; when the plan changes under it, it
// goes.
func TestOfferGoesWhenThePlanChanges(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	b.view.NewMark(picAt(100, 100))
	drag(b, 100, 100, 200, 100)
	if !b.offered() {
		t.Fatal("nothing was offered")
	}
	b.removeSelected()
	if b.offered() || b.view.Strip().Visible() {
		t.Error("a reading is offered whose start may be gone")
	}
	b.view.Offer().KeepLeg()
	if len(b.s.Plan().Legs) != 0 {
		t.Error("it was kept")
	}
}
