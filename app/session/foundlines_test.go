package session

import (
	"strings"
	"testing"

	"legwright/app/calib/lattice"
	"legwright/app/caution"
	"legwright/app/geodesy"
)

// placedSheet is a sheet that its file places, 10 m a pixel, and the printed
// grid found in it: lines 100 px apart, that of E 21 and N 42 km first.
func placedSheet(t *testing.T, shiftM float64) (*Session, *lattice.Lattice) {
	t.Helper()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/isle.tif", Width: 500, Height: 500, SHA256: strings.Repeat("ab", 32)}))
	must(t, s.TakeGeoref([6]float64{10, 0, 20500 + shiftM, 0, -10, 746500}, 0, geodesy.EPSG(27700), ""))
	l := &lattice.Lattice{SquarePx: 100}
	for i := range 4 {
		for j := range 4 {
			l.Intersections = append(l.Intersections, lattice.Intersection{Col: 50 + 100*float64(i), Row: 450 - 100*float64(j), I: i, J: j, Quality: 1})
		}
	}
	return s, l
}

// A printed grid that disagrees with a file's georeference is kept as evidence, as one
// act, and is a stop; where the lines agree, or a person removes them, it is none.
func TestLinesThatDisagreeAreKept(t *testing.T) {
	s, l := placedSheet(t, 60)
	stopped := func() bool { return said(s.Verdict(), caution.EvidenceDisagree) }
	if stopped() {
		t.Fatal("stopped before anything was compared")
	}
	a, why, err := s.CompareWithLines(l)
	if err != nil || a == nil || a.Agrees() || !stopped() || s.Verdict().Checked {
		t.Fatalf("agreement %+v, %q, %v, %+v", a, why, err, s.Verdict())
	}
	step := s.UndoName()
	if _, _, err := s.CompareWithLines(l); err != nil || s.UndoName() != step {
		t.Errorf("compared once more: %v, step %q, want the same as before: %q", err, s.UndoName(), step)
	}
	s.Undo()
	if stopped() {
		t.Error("undone, and still stopped")
	}
	s.Redo()
	must(t, s.RemoveFoundLines())
	if sheet, _ := s.Sheet(); stopped() || len(sheet.Evidence) > 0 {
		t.Errorf("removed: %+v", s.Verdict())
	}
	s.Undo()
	must(t, s.TakeGeoref([6]float64{10, 0, 20500, 0, -10, 746500}, 0, geodesy.EPSG(27700), ""))
	if stopped() {
		t.Error("the right georeference is still stopped")
	}
	if a, _, err := s.CompareWithLines(l); err != nil || !a.Agrees() {
		t.Errorf("%+v, %v", a, err)
	}
	if sheet, _ := s.Sheet(); len(sheet.Evidence) > 0 {
		t.Error("lines that agree are kept")
	}
}

// What a picture's file says against its own georeference stops the sheet while that
// calibrates it.
func TestFileCautions(t *testing.T) {
	s, _ := placedSheet(t, 0)
	matrix := [6]float64{10, 0, 20500, 0, -10, 746500}
	must(t, s.TakeGeoref(matrix, 0, geodesy.EPSG(27700), "evidence-disagrees"))
	s.Undo()
	if sheet, _ := s.Sheet(); sheet.FileCautions != "" {
		t.Error("undone, and its caution stays")
	}
	s.Redo()
	checkEvidence(t, s)
	if s.Verdict().Checked {
		t.Error("evidence checks a georeference that its file itself stops")
	}
	must(t, s.TakeGeoref(matrix, 0, geodesy.EPSG(27700), ""))
	if !s.Verdict().Checked {
		t.Errorf("without it: %+v", s.Verdict())
	}
}
