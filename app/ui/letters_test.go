package ui

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/session"
	"legwright/canvas/view"
)

// Where letters are supplied, the person sees which, and from what, wherever a
// reference is typed; the readings bear it until the sheet is checked.
func TestLentLettersAreSeen(t *testing.T) {
	b := placedBench(t, 0)
	clickAt(b, view.PicPt{X: 102, Y: 199})
	typeReference(b, "21 42")
	if got := saidBy(b.sheetP.Body()); !strings.Contains(got, "Read as NL 21000 42000") || !strings.Contains(got, "supplied from ground.png, which is unchecked") {
		t.Errorf("at a control point: %q", got)
	}
	b.sheetP.Points().Cancel()
	b.goTo(postRoute)
	b.addTypedMark("Cairn", "217 427")
	mark := b.s.Plan().Marks[0]
	if got := b.foot.Message(); !strings.HasPrefix(got, "Mark set, letters not typed") || !strings.Contains(got, "which is unchecked") {
		t.Errorf("the mark set: %q", got)
	}
	p := b.routeP
	if !p.lent.Visible() || !strings.Contains(p.lent.Text(), "Read as NL 217 427. Its letters were not typed") || p.ref.Text != "217 427" {
		t.Errorf("the mark's panel: %q, field %q", p.lent.Text(), p.ref.Text)
	}
	if got := p.marks.at(0).shown(); strings.HasSuffix(got, "!") {
		t.Errorf("the list shows %q", got)
	}
	p.from.SetText("Cairn")
	p.bearing.SetText("057")
	p.length.SetText("850 m")
	p.typedLeg()
	row := b.s.Rows()[0]
	if got := strings.Join(caution.Shorts(row.Reading.Cautions), ", "); !strings.Contains(got, "grid letters assumed") || !strings.Contains(b.foot.Message(), "which is unchecked") {
		t.Errorf("the leg from there: %q, %q", got, b.foot.Message())
	}
	if number, _ := b.ledger.Cell(0, "leg"); number != "1" {
		t.Errorf("the ledger marks leg %q for a note", number)
	}
	typeCell(b, row.ID, session.FieldTo, "231 431")
	if end := b.s.Plan().Legs[0].To.Position; end.Text != "231 431" || end.LettersOf == "" || b.foot.Failed() || !strings.Contains(b.foot.Message(), "which is unchecked") {
		t.Errorf("typed into the ledger: %+v, %q", end, b.foot.Message())
	}
	b.s.Select(mark.ID)
	p.ref.SetText("NL 217 427")
	if !p.ref.Commit() || p.lent.Visible() || strings.Contains(b.foot.Message(), "supplied") {
		t.Errorf("with its letters: %q, %q", p.lent.Text(), b.foot.Message())
	}
}

// A second control point takes its letters from the first one: no doubt, but it
// is said.
func TestLentLettersOfControlPoints(t *testing.T) {
	b := opened(t)
	point(b, 100, 200, "NL 21 42")
	clickAt(b, view.PicPt{X: 300, Y: 200})
	typeReference(b, "23 42")
	if text := saidBy(b.sheetP.Body()); !strings.Contains(text, "Read as NL 23000 42000") || !strings.Contains(text, "the sheet's other control points") {
		t.Errorf("got %q", text)
	}
}
