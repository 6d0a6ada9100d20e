package session

import (
	"errors"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// The printed grid that contradicts the place of a file is kept with the sheet,
// as one act, and every reading says so.
func TestContradictedPlaceIsKept(t *testing.T) {
	s, l := placedSheet(t, 60)
	_, err := s.KeepLeg(endAt(t, s, 100, 100), endAt(t, s, 300, 200))
	must(t, err)
	flagged := func() bool { return s.Rows()[0].Reading.Has(caution.FileDisagrees) }
	if flagged() {
		t.Fatal("flagged before anything was compared")
	}
	a, why, err := s.HoldAgainst(l)
	if err != nil || a == nil || a.Agrees() || !flagged() || !s.Rows()[0].Reading.Has(caution.Unchecked) {
		t.Fatalf("agreement %+v, %q, %v, flags %+v", a, why, err, s.Rows()[0].Reading.Cautions)
	}
	if sheet, _ := s.Sheet(); !strings.Contains(sheet.Contradicted.Detail, "6.0 px (60 m)") || len(sheet.Contradicted.By) != 16 {
		t.Errorf("kept %+v", sheet.Contradicted)
	}
	step := s.UndoName()
	if _, _, err := s.HoldAgainst(l); err != nil || s.UndoName() != step {
		t.Errorf("held once more: %v, step %q, want the same as before: %q", err, s.UndoName(), step)
	}
	s.Undo()
	if flagged() || s.UndoName() != "keep leg" {
		t.Errorf("undone: flagged %v, the step before %q", flagged(), s.UndoName())
	}
	s.Redo()
	if !flagged() {
		t.Error("done again it is not flagged")
	}
	must(t, s.SetAside())
	if flagged() || !s.Rows()[0].Reading.Has(caution.Unchecked) {
		t.Errorf("set aside: flags %+v, want the sheet unproved alone", s.Rows()[0].Reading.Cautions)
	}
	s.Undo()
	must(t, s.TakePlace([6]float64{10, 0, 20500, 0, -10, 746500}, 0, geodesy.EPSG(27700)))
	if flagged() {
		t.Error("the right place is still contradicted")
	}
}

// A lattice that agrees takes an earlier contradiction back; one that cannot be
// compared says nothing.
func TestContradictionIsTakenBackByAgreement(t *testing.T) {
	s, l := placedSheet(t, 0)
	off := *l
	off.Crossings = append(off.Crossings[:0:0], l.Crossings...)
	for i := range off.Crossings {
		off.Crossings[i].Col += 8
	}
	held := func() bool { sheet, _ := s.Sheet(); return sheet.Contradicted.Found() }
	if _, _, err := s.HoldAgainst(&off); err != nil || !held() {
		t.Fatalf("contours for lines: %v, held %v", err, held())
	}
	wide := *l
	wide.SquarePx = 137
	if a, why, err := s.HoldAgainst(&wide); a != nil || why == "" || err != nil || !held() {
		t.Errorf("meshes of no usual size: %+v, %q, %v, held %v; want it to stay", a, why, err, held())
	}
	if _, _, err := s.HoldAgainst(l); err != nil || held() {
		t.Errorf("the right lines: %v, held %v", err, held())
	}
}

// Nothing proves a sheet whose place its printed grid contradicts, however exact
// its file claims to be.
func TestContradictedPlaceIsNotProved(t *testing.T) {
	s, l := placedSheet(t, 60)
	must(t, s.TakePlace([6]float64{10, 0, 20560, 0, -10, 746500}, 60, geodesy.EPSG(27700))) // good to 120 m, it says
	must(t, s.Prove(at(120, 130), "21700 745200", 0.5))                                     // 60 m off
	if _, _, err := s.HoldAgainst(l); err != nil {
		t.Fatal(err)
	}
	sheet, _ := s.Sheet()
	if sheet.Proof.Proved() || !sheet.Contradicted.Found() {
		t.Fatalf("after the comparison: %+v, %+v", sheet.Proof, sheet.Contradicted)
	}
	var refused *Refused
	if err := s.Prove(at(120, 130), "21700 745200", 0.5); !errors.As(err, &refused) || !strings.Contains(err.Error(), "contradicts") {
		t.Errorf("a feature 60 m off: got %v", err)
	}
	must(t, s.SetAside())
	must(t, s.Prove(at(120, 130), "21700 745200", 0.5))
}

// A sheet of typed control points is not contradicted by lines: it is no file's
// place.
func TestTypedPointsAreNotContradicted(t *testing.T) {
	s, l := placedSheet(t, 60)
	_, err := s.AddControlPoint(at(50, 450), "21060 742000")
	must(t, err)
	_, err = s.AddControlPoint(at(350, 450), "24060 742000")
	must(t, err)
	a, _, err := s.HoldAgainst(l)
	if sheet, _ := s.Sheet(); err != nil || a == nil || a.Agrees() || sheet.Contradicted.Found() {
		t.Errorf("agreement %+v, %v, kept %+v", a, err, sheet.Contradicted)
	}
}
