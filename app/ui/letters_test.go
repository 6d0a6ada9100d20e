package ui

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/session"
	"legwright/app/ui/widgets"
	"legwright/canvas/view"
)

// Where letters are supplied, the person sees which, and from what, wherever a
// reference is typed; the readings bear it until the sheet is checked.
func TestLentLettersAreSeen(t *testing.T) {
	b := placedBench(t, 0)
	clickAt(b, view.PicPt{X: 102, Y: 199})
	b.sheetP.ref.SetText("21 42")
	if got := b.sheetP.check.Text(); !strings.Contains(got, "Read as NL 21000 42000") || !strings.Contains(got, "supplied from ground.png, which is unchecked") {
		t.Errorf("at a control point: %q", got)
	}
	b.sheetP.forgetAndRefresh()
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
	b.sheetP.ref.SetText("23 42")
	ref, err := b.s.CheckReference("23 42")
	if err != nil {
		t.Fatal(err)
	}
	text, tone := b.referenceWords(ref)
	if !strings.Contains(text, "Read as NL 23000 42000") || !strings.Contains(text, "the sheet's other control points") || tone != widgets.Note {
		t.Errorf("got %q in tone %v", text, tone)
	}
}

// Figures alone name no intersection and check no sheet: their letters come from what
// is to be checked.
func TestLentLettersCheckNothing(t *testing.T) {
	b := placedBench(t, 0)
	b.foundGrid(madeLattice())
	nameCrossing(b, 0, 0, "21 42")
	if len(b.sheetNow().Evidence) != 0 || !b.foot.Failed() || !strings.Contains(b.foot.Message(), "with its letters") {
		t.Errorf("an intersection by figures alone: %d pieces, %q", len(b.sheetNow().Evidence), b.foot.Message())
	}
	b.sheetP.forgetAndRefresh()
	b.letGridGo()
	useAsCheck(b, 143, 77, "a published list", "2143 4323")
	if len(b.sheetNow().Evidence) != 0 || !strings.Contains(b.foot.Message(), "with its letters") {
		t.Errorf("a feature by figures alone: %q", b.foot.Message())
	}
	b.sheetP.forgetAndRefresh()
	useAsCheck(b, 143, 77, "", "NL 2143 4323")
	if len(b.sheetNow().Evidence) != 0 || !strings.Contains(b.foot.Message(), "where the reference comes from") {
		t.Errorf("a reference of which nobody said where it comes from: %q", b.foot.Message())
	}
	b.sheetP.evidence.origin.SetSelected("a published list")
	b.sheetP.addEvidence()
	if len(b.sheetNow().Evidence) != 1 {
		t.Errorf("with its letters: %q", b.foot.Message())
	}
}
