package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/uitest"
)

// groupReads is what stands on the board of the window for the group.
func groupReads(t *testing.T, b *Bench) string {
	t.Helper()
	p := b.teach.projector
	p.Window().Canvas().Capture()
	until(t, b, "the board", p.Board().Settled)
	var all []string
	for _, w := range p.Board().Written() {
		all = append(all, w.Text)
	}
	return strings.Join(all, " ")
}

// chooseEntry chooses an entry of the menus.
func chooseEntry(t *testing.T, b *Bench, label string) {
	t.Helper()
	for _, i := range entries(b) {
		if i.Label == label {
			i.Action()
			return
		}
	}
	t.Fatalf("no menu has %q", label)
}

// The coach walks the lesson at the bench, and the window for the group follows; its own
// keys walk the same lesson. On one screen figures that are hidden are hidden on both.
func TestWindowForTheGroup(t *testing.T) {
	b := onGround(t, "NL 23 42")
	keepLine(t, b, dragged{120, 100, 300, 150})
	keepLine(t, b, dragged{300, 150, 200, 240})
	b.goTo(panelTeach)
	chooseEntry(t, b, "Open the window for the group  (Ctrl+P)")
	p := b.teach.projector
	if !p.IsOpen() {
		t.Fatal("the window is not open")
	}
	if v := p.Area().View(); v.IsZero() {
		t.Error("it shows no sheet")
	}
	b.s.Select("")
	b.key(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	line, _ := b.teach.lesson.Line()
	r, err := b.teach.lesson.Read(b.s.Reader())
	if err != nil || line.ID != b.s.Plan().Legs[0].ID {
		t.Fatalf("at %q: %v", line.ID, err)
	}
	set := r.SetFigure(0)
	if got := groupReads(t, b); !strings.Contains(got, set) || !strings.Contains(got, line.Name) {
		t.Errorf("the group reads %q, want %s and %q", got, set, line.Name)
	}
	b.rune('h')
	if got := groupReads(t, b); strings.Contains(got, set) || !b.frame.dial.Concealed() {
		t.Errorf("hidden: the group reads %q, the dial is concealed %v", got, b.frame.dial.Concealed())
	}
	w := p.Window().(*uitest.Window)
	w.Type("h")
	if b.teach.lesson.Hidden() || b.frame.dial.Concealed() {
		t.Error("H in the window for the group does not show the figures")
	}
	w.Key(fyne.KeyPageDown)
	if got := b.s.Selection().ID; got != b.s.Plan().Legs[1].ID {
		t.Errorf("Page Down in the window for the group: %q is selected at the bench", got)
	}
	b.turnSheet(0.3)
	if got := p.Area().View().Rotation(); got < 0.29 || got > 0.31 {
		t.Errorf("the sheet is turned by %v for the group", got)
	}
	b.files.Opener.New()
	answerWith(t, b, "Discard")
	until(t, b, "the new plan", func() bool { return p.Area().View().IsZero() })
	if got := groupReads(t, b); !strings.Contains(got, "Drag a line on the bench") {
		t.Errorf("of a new plan the group reads %q", got)
	}
	chooseEntry(t, b, "Open the window for the group  (Ctrl+P)")
	if p.IsOpen() {
		t.Error("the entry does not close the window")
	}
}

// The bench takes the window for the group along when it ends, and not before.
func TestWindowForTheGroupEndsWithTheBench(t *testing.T) {
	b := calibrated(t)
	b.toggleProjector()
	b.quit()
	answerWith(t, b, "Cancel")
	if !b.teach.projector.IsOpen() {
		t.Error("it closes where the bench stays")
	}
	b.quit()
	answerWith(t, b, "Discard")
	if b.teach.projector.IsOpen() || !b.program.ended {
		t.Errorf("open %v, ended %v", b.teach.projector.IsOpen(), b.program.ended)
	}
}
