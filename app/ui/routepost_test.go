package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/widgets"
)

// typeInto goes to a field of the Route post and types over what is there.
func typeInto(b *Bench, e *widgets.EditField, text string) {
	b.window.Canvas().Focus(e)
	e.SetText(text)
}

func markName(b *Bench) string {
	m, _ := b.s.Plan().MarkByID(b.selectedID())
	return m.Name
}

// What is typed into a field is kept when the focus leaves it, once, and
// Escape takes it back.
func TestTypingIsNotLost(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
	b.view.NewMark(picAt(100, 100))
	letter := markName(b)
	typeInto(b, b.routeP.name, "Cairn")
	b.focusSheet()
	if markName(b) != "Cairn" {
		t.Fatalf("the mark is called %q, want Cairn", markName(b))
	}
	b.undo()
	if markName(b) != letter {
		t.Errorf("after one undo the mark is called %q, want %q", markName(b), letter)
	}
	typeInto(b, b.routeP.name, "Sheepfold")
	b.routeP.name.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if markName(b) != letter || b.routeP.name.Text != letter {
		t.Errorf("after Escape the mark is %q, the field %q, want both %q", markName(b), b.routeP.name.Text, letter)
	}
	typeInto(b, b.routeP.name, "Wall end")
	b.files.Saver.Guard(func() {}) // as on the way out
	if markName(b) != "Wall end" {
		t.Errorf("the name being typed was lost on the way out: %q", markName(b))
	}
	b.escape()
}

// Undo straight after a mark is set takes the mark, though its name has the
// focus; while a name is being typed it takes the typing.
func TestUndoInAField(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
	b.view.NewMark(picAt(100, 100))
	if b.window.Canvas().Focused() != b.routeP.name {
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
	b.window.Canvas().Focus(b.routeP.name)
	b.routeP.name.TypedRune('X')
	b.undo()
	if len(b.s.Plan().Marks) != 1 || strings.Contains(b.routeP.name.Text, "X") {
		t.Errorf("%d marks, name %q: want the typing taken back alone", len(b.s.Plan().Marks), b.routeP.name.Text)
	}
}

// A refused text is told and taken back; the plan is as it was.
func TestRefusedTypingIsTakenBack(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
	b.routeP.showSection(sectionOuting)
	before := b.s.Plan()
	typeInto(b, b.routeP.date, "2026-02-30")
	b.routeP.date.OnSubmitted("")
	if !b.foot.Failed() || b.window.Canvas().Focused() != b.routeP.date || b.routeP.date.Text != "2026-02-30" {
		t.Errorf("fault %v, text %q: want the fault told and the text there to correct", b.foot.Failed(), b.routeP.date.Text)
	}
	b.focusSheet()
	if b.s.Plan() != before || b.routeP.date.Text != before.Date.String() {
		t.Errorf("the field says %q, want %v", b.routeP.date.Text, before.Date)
	}
}

// A field never carries one thing's text over to another.
func TestFieldsFollowTheSelection(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
	b.view.NewMark(picAt(100, 100))
	first := b.selectedID()
	b.view.NewMark(picAt(200, 100))
	second, name := b.selectedID(), markName(b)
	typeInto(b, b.routeP.name, "Half typed")
	b.s.Select(first)
	if b.routeP.name.Text == "Half typed" {
		t.Error("the text typed for one mark stands in the field of another")
	}
	b.focusSheet()
	if m, _ := b.s.Plan().MarkByID(second); m.Name != name {
		t.Errorf("the second mark is called %q, want %q", m.Name, name)
	}
}

// A mark is moved by its reference, and removed; each is one step.
func TestMarkByReferenceMovedAndRemoved(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
	b.addTypedMark("Quay", "NL 210 420")
	id := b.selectedID()
	typeInto(b, b.routeP.ref, "NL 220 430")
	b.routeP.ref.OnSubmitted("")
	m, _ := b.s.Plan().MarkByID(id)
	if e, n := m.Position.Grid.E, m.Position.Grid.N; e != 22050 || n != 743050 {
		t.Errorf("the mark stands at %v %v, want the centre 22050 743050", e, n)
	}
	b.removeSelected()
	if len(b.s.Plan().Marks) != 0 {
		t.Error("the mark was not removed")
	}
	b.undo()
	b.undo()
	if m, ok := b.s.Plan().MarkByID(id); !ok || m.Position.Grid.E != 21050 {
		t.Errorf("after two undos the mark is %+v, want it where it was typed first", m)
	}
	before := b.s.Plan()
	if err := b.addTypedMark("Nowhere", "ZZ 99"); err == nil || b.s.Plan() != before {
		t.Error("a wrong reference changed the plan, or was not told")
	}
}

// An offer was read on the plan as it was; when the plan changes under it, it
// goes.
func TestOfferGoesWhenThePlanChanges(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
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
