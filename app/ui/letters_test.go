package ui_test

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/session"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// Where letters are supplied, the person sees which, and from what, wherever a
// reference is typed; the readings bear it until the sheet is checked.
func TestLentLettersAreSeen(t *testing.T) {
	b := benchtest.Placed(t, 0)
	b.Sheets.Aim(102, 199, "21 42")
	if got := strings.Join(b.Parts.Says(), "\n"); !strings.Contains(got, "The full reference is NL 21000 42000") || !strings.Contains(got, "come from ground.png, which is unchecked") {
		t.Errorf("at a control point: %q", got)
	}
	b.Sheets.Cancel()
	b.GoTo("Route")
	b.Route.AddMark("Cairn", "217 427")
	mark := b.Plan().Marks[0]
	ref, _ := uitest.Find[*widgets.EditField](b.Window, "grid reference")
	if words := strings.Join(b.Texts(), " "); !strings.Contains(words, "The full reference is NL 217 427. Its grid letters come from ground.png, which is unchecked") || ref.Text != "217 427" {
		t.Errorf("the mark's panel: %q, field %q", words, ref.Text)
	}
	b.Route.TypeLeg("Cairn", "057", "850 m")
	row := b.Session().Rows()[0]
	if got := row.Reading.Cautions; !caution.Has(got, caution.LettersInferred) {
		t.Errorf("the leg from there: %q", got)
	}
	if number, _ := b.Ledger.Cell(0, "leg"); number != "1" {
		t.Errorf("the ledger marks leg %q for a note", number)
	}
	b.Route.TypeCell(row.ID, session.FieldTo, "231 431")
	if end := b.Plan().Legs[0].To.Position; end.Text != "231 431" || end.LettersFrom == "" || b.Foot.Failed() || !strings.HasSuffix(b.Foot.Message(), b.Session().LettersNote(row.ID)) || b.Session().LettersNote(row.ID) == "" {
		t.Errorf("typed into the ledger: %+v, %q", end, b.Foot.Message())
	}
	b.Session().Select(mark.ID)
	ref.SetText("NL 217 427")
	if !ref.Commit() || b.Session().LettersNote(mark.ID) != "" || strings.Contains(strings.Join(b.Texts(), " "), "grid letters come from") {
		t.Errorf("with its letters: %q, %q", b.Session().LettersNote(mark.ID), b.Foot.Message())
	}
}

// A second control point takes its letters from the first one. The panel says so; it is
// no caution.
func TestLentLettersOfControlPoints(t *testing.T) {
	b := benchtest.Opened(t)
	b.Sheets.Point(100, 200, "NL 21 42")
	b.Sheets.Aim(300, 200, "23 42")
	if text := strings.Join(b.Parts.Says(), "\n"); !strings.Contains(text, "The full reference is NL 23000 42000") || !strings.Contains(text, "the sheet's other control points") {
		t.Errorf("got %q", text)
	}
}
