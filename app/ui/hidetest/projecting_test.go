package hidetest

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/benchtest"
)

// The coach walks the lesson at the bench, and the window for the group follows; its own
// keys walk the same lesson. On one screen figures that are hidden are hidden on both.
func TestWindowForTheGroup(t *testing.T) {
	b := onGround(t, "NL 23000 41382") // turned by 0.3
	b.Route.KeepLine(120, 100, 300, 150)
	b.Route.KeepLine(300, 150, 200, 240)
	b.GoTo("Teach")
	b.Choose("Open the window for the group")
	p := b.Group()
	if p == nil {
		t.Fatal("the window is not open")
	}
	if v := p.Sheet().View(); v.IsZero() {
		t.Error("it shows no sheet")
	}
	b.Session().Select("")
	b.Key(fyne.KeyPageDown)
	line, _ := b.Lesson().Line()
	r, err := b.Lesson().Read(b.Session().Reader())
	if err != nil || line.ID != b.Plan().Legs[0].ID {
		t.Fatalf("at %q: %v", line.ID, err)
	}
	set := r.SetFigure(0)
	if got := p.Reads(); !strings.Contains(got, set) || !strings.Contains(got, line.Name) {
		t.Errorf("the group reads %q, want %s and %q", got, set, line.Name)
	}
	b.Letters("h")
	if got := p.Reads(); strings.Contains(got, set) || !b.Dial.Concealed() {
		t.Errorf("hidden: the group reads %q, the dial is concealed %v", got, b.Dial.Concealed())
	}
	p.Type("h")
	if b.Lesson().Hidden() || b.Dial.Concealed() {
		t.Error("H in the window for the group does not show the figures")
	}
	p.Key(fyne.KeyPageDown)
	if got := b.Session().Selection().ID; got != b.Plan().Legs[1].ID {
		t.Errorf("Page Down in the window for the group: %q is selected at the bench", got)
	}
	b.Choose("Turn grid north up")
	if got := p.Sheet().View().Rotation(); got < 0.29 || got > 0.31 {
		t.Errorf("the sheet is turned by %v for the group", got)
	}
	b.Choose("New plan")
	b.Answer("Discard")
	b.Until("the new plan", func() bool { return p.Sheet().View().IsZero() })
	if got := p.Reads(); !strings.Contains(got, "Drag a line in the main window") {
		t.Errorf("of a new plan the group reads %q", got)
	}
	b.Choose("Open the window for the group")
	if b.Group() != nil {
		t.Error("the entry does not close the window")
	}
}

// The bench takes the window for the group along when it ends, and not before.
func TestWindowForTheGroupEndsWithTheBench(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.Choose("Open the window for the group")
	b.RequestClose()
	b.Answer("Cancel")
	if b.Group() == nil {
		t.Error("it closes where the bench stays")
	}
	b.RequestClose()
	b.Answer("Discard")
	if b.Group() != nil || !b.App.Ended {
		t.Errorf("open %v, ended %v", b.Group() != nil, b.App.Ended)
	}
}
