package ui

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/session"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/canvas/view"
)

// Where letters are supplied, the person sees which, and from what, wherever a
// reference is typed; the readings bear it until the sheet is checked.
func TestLentLettersAreSeen(t *testing.T) {
	b := placedBench(t, 0)
	clickAt(b, view.PicPt{X: 102, Y: 199})
	typeReference(b, "21 42")
	if got := saidBy(b.sheetP.Body()); !strings.Contains(got, "Read as NL 21000 42000") || !strings.Contains(got, "come from ground.png, which is unchecked") {
		t.Errorf("at a control point: %q", got)
	}
	b.sheetP.Points().Cancel()
	b.goTo(panelRoute)
	addTypedMark(t, b, "Cairn", "217 427")
	mark := b.s.Plan().Marks[0]
	win := &uitest.Window{Window: b.window}
	ref, _ := uitest.Find[*widgets.EditField](win, "grid reference")
	if words := strings.Join(win.Texts(), " "); !strings.Contains(words, "Read as NL 217 427. Its grid letters come from ground.png, which is unchecked") || ref.Text != "217 427" {
		t.Errorf("the mark's panel: %q, field %q", words, ref.Text)
	}
	typeLeg(b, "Cairn", "057", "850 m")
	row := b.s.Rows()[0]
	if got := row.Reading.Cautions; !caution.Has(got, caution.LettersInferred) {
		t.Errorf("the leg from there: %q", got)
	}
	if number, _ := b.ledger.Cell(0, "leg"); number != "1" {
		t.Errorf("the ledger marks leg %q for a note", number)
	}
	typeCell(b, row.ID, session.FieldTo, "231 431")
	if end := b.s.Plan().Legs[0].To.Position; end.Text != "231 431" || end.LettersFrom == "" || b.foot.Failed() || !strings.HasSuffix(b.foot.Message(), b.s.LettersNote(row.ID)) || b.s.LettersNote(row.ID) == "" {
		t.Errorf("typed into the ledger: %+v, %q", end, b.foot.Message())
	}
	b.s.Select(mark.ID)
	ref.SetText("NL 217 427")
	if !ref.Commit() || b.s.LettersNote(mark.ID) != "" || strings.Contains(strings.Join(win.Texts(), " "), "grid letters come from") {
		t.Errorf("with its letters: %q, %q", b.s.LettersNote(mark.ID), b.foot.Message())
	}
}

// A second control point takes its letters from the first one. The panel says so; it is
// no caution.
func TestLentLettersOfControlPoints(t *testing.T) {
	b := opened(t)
	point(b, 100, 200, "NL 21 42")
	clickAt(b, view.PicPt{X: 300, Y: 200})
	typeReference(b, "23 42")
	if text := saidBy(b.sheetP.Body()); !strings.Contains(text, "Read as NL 23000 42000") || !strings.Contains(text, "the sheet's other control points") {
		t.Errorf("got %q", text)
	}
}
