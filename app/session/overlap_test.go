package session

import (
	"strings"
	"testing"

	"legwright/app/plan"
)

// overlap is panels with the south sheet proved, a mark on it that the north
// sheet shows as well, and the place where that is on the north sheet: 13 m
// north and east of a whole hundred, so that no printed line is near.
func overlap(t *testing.T) (s *Session, south, north, third plan.ID) {
	t.Helper()
	s, south, north, _ = panels(t)
	must(t, s.ShowSheet(south))
	must(t, s.Prove(at(1300, 1111), "56500 794445", 0.5))
	mark(t, s, "Pillar", 862.6, 37.4) // E 54 313, N 799 813
	must(t, s.AddSheet("/maps/east.png", plan.Page{}, 2000, 2000, shaOf("cd"), 0))
	third = inHand(s)
	must(t, s.ShowSheet(north))
	return s, south, north, third
}

// pillarAt is where Pillar is on the north sheet.
var pillarAt = at((54_313-50_000)/4.0, (808_000-799_813)/4.0)

func TestOnePanelProvesTheNext(t *testing.T) {
	t.Parallel()
	s, south, north, _ := overlap(t)
	if err := s.Prove(at(pillarAt.Col+30, pillarAt.Row), "Pillar", 0.5); err == nil || !strings.Contains(err.Error(), "off by 120 m") {
		t.Errorf("120 m off: %v", err)
	}
	must(t, s.Prove(pillarAt, "pillar ", 0.5))
	sheet, _ := s.Sheet()
	if sheet.Proof.Kind != plan.ProofBySheet(south) || !strings.Contains(sheet.Proof.Detail, "“Pillar”") || !strings.Contains(sheet.Proof.Detail, "isle.png") {
		t.Fatalf("proof %+v", sheet.Proof)
	}
	must(t, s.ShowSheet(south))
	must(t, s.MoveControlPoint(0, at(201, 200))) // the south sheet is proved no more
	for _, id := range []plan.ID{south, north} {
		if sheet, _ := s.Plan().SheetByID(id); sheet.Proof.Proved() {
			t.Errorf("%s keeps its proof %+v", id, sheet.Proof)
		}
	}
	s.Undo()
	if sheet, _ := s.Plan().SheetByID(north); !sheet.Proof.Proved() {
		t.Error("undo does not bring the proof back")
	}
	must(t, s.RemoveSheet(south)) // nothing has shown it wrong
	if sheet, _ := s.Plan().SheetByID(north); !sheet.Proof.Proved() {
		t.Error("the proof went with the picture of the other sheet")
	}
}

// Proofs that rest on each other fall together.
func TestAChainOfProofsFalls(t *testing.T) {
	t.Parallel()
	s, south, north, third := overlap(t)
	must(t, s.Prove(pillarAt, "Pillar", 0.5))
	mark(t, s, "Cross", 1811.5, 1033.25) // E 57 246, N 803 867
	must(t, s.ShowSheet(third))          // 5 m a pixel, top-left corner at E 55 000, N 806 000
	for _, c := range []struct {
		col, row float64
		ref      string
	}{{200, 200, "56000 805000"}, {1400, 200, "62000 805000"}, {200, 1400, "56000 799000"}} {
		_, err := s.AddControlPoint(at(c.col, c.row), c.ref)
		must(t, err)
	}
	must(t, s.Prove(at(449.2, 426.6), "Cross", 0.5))
	must(t, s.ShowSheet(south))
	_, err := s.SetControlReference(0, "51000 799001")
	must(t, err)
	for _, id := range []plan.ID{south, north, third} {
		if sheet, _ := s.Plan().SheetByID(id); sheet.Proof.Proved() {
			t.Errorf("%s keeps its proof %+v", id, sheet.Proof)
		}
	}
}

func TestMarksThatProveNothing(t *testing.T) {
	t.Parallel()
	s, south, north, _ := overlap(t)
	refused := func(what, name, says string) {
		t.Helper()
		before := s.Plan()
		if err := s.Prove(pillarAt, name, 0.5); err == nil || !strings.Contains(err.Error(), says) || s.Plan() != before {
			t.Errorf("%s: %v, want %q", what, err, says)
		}
	}
	mark(t, s, "Own", pillarAt.Col, pillarAt.Row)
	refused("a mark of this sheet", "Own", "this sheet itself")
	pos, err := s.ParsePosition("54313 799813")
	must(t, err)
	_, err = s.AddMark("Typed", pos)
	must(t, err)
	refused("a typed mark", "Typed", "type the reference")
	pos.Origin = plan.Imported // perhaps written from this very sheet
	_, err = s.AddMark("Read", pos)
	must(t, err)
	refused("a mark from a file", "Read", "type the reference")
	must(t, s.ShowSheet(south))
	must(t, s.MoveControlPoint(0, at(201, 200)))
	must(t, s.ShowSheet(north))
	refused("a mark of an unproved sheet", "Pillar", "not proved itself")
	must(t, s.RemoveSheet(south))
	refused("a mark of a sheet that is gone", "Pillar", "type the reference")
}
