package session

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
)

// placedSheet is a sheet that its file places, 10 m a pixel, and the printed
// grid found in it: lines 100 px apart, that of E 21 and N 42 km first.
func placedSheet(t *testing.T, shiftM float64) (*Session, *lattice.Lattice) {
	t.Helper()
	s := New(nil, nil, today)
	must(t, s.OpenSheet("/maps/isle.tif", 500, 500, strings.Repeat("ab", 32), 0))
	must(t, s.TakePlace([6]float64{10, 0, 20500 + shiftM, 0, -10, 746500}, 0, geodesy.EPSG(27700)))
	l := &lattice.Lattice{SquarePx: 100}
	for i := range 4 {
		for j := range 4 {
			l.Crossings = append(l.Crossings, lattice.Crossing{Col: 50 + 100*float64(i), Row: 450 - 100*float64(j), I: i, J: j, Quality: 1})
		}
	}
	return s, l
}

func named(i, j int) lattice.Name {
	return lattice.Name{At: at(51+100*float64(i), 449-100*float64(j)), Ref: geodesy.Grid{E: 21000 + 1000*float64(i), N: 742000 + 1000*float64(j)}}
}

func TestNameCrossings(t *testing.T) {
	s, l := placedSheet(t, 0)
	for _, names := range [][]lattice.Name{nil, {named(0, 0)}, {named(0, 0), named(3, 0)}, {named(0, 0), named(1, 1), named(2, 2)}} {
		proved, err := s.NameCrossings(l, names, nil)
		if proved || err != nil {
			t.Fatalf("%d names: got %v, %v; want no proof yet", len(names), proved, err)
		}
	}
	if sheet, _ := s.Sheet(); sheet.Proof.Proved() {
		t.Fatal("proved by too little")
	}
	three := []lattice.Name{named(0, 0), named(3, 0), named(1, 2)}
	proved, err := s.NameCrossings(l, three, nil)
	sheet, _ := s.Sheet()
	if !proved || err != nil || sheet.Proof.Kind != calib.ProofPrintedGrid || !strings.Contains(sheet.Proof.Detail, "all 16 agree within 0.1 px") {
		t.Fatalf("three names: got %v, %v, %+v", proved, err, sheet.Proof)
	}
	s.Undo()
	if sheet, _ = s.Sheet(); sheet.Proof.Proved() {
		t.Error("undo did not take the proof back")
	}
}

func TestNameCrossingsRefuses(t *testing.T) {
	three := []lattice.Name{named(0, 0), named(3, 0), named(1, 2)}
	var refused *Refused
	s, l := placedSheet(t, 1000)
	if proved, err := s.NameCrossings(l, three, nil); proved || !errors.As(err, &refused) || !strings.Contains(err.Error(), "1000 m from there") {
		t.Errorf("a whole square off: got %v, %v", proved, err)
	}
	s, l = placedSheet(t, 60)
	if proved, err := s.NameCrossings(l, nil, nil); proved || !errors.As(err, &refused) || !strings.Contains(err.Error(), "6.0 px off") {
		t.Errorf("60 m off: got %v, %v", proved, err)
	}
	s, l = placedSheet(t, 0)
	must(t, s.Prove(at(120, 130), "21700 745200", 0.5)) // a feature elsewhere still proves
	s.Undo()
	if err := s.Prove(at(50, 450), "21000 742000", 0.5); !errors.As(err, &refused) || !strings.Contains(err.Error(), "three crossings") {
		t.Errorf("one crossing as a feature: got %v, want it refused", err)
	}
	_, err := s.AddControlPoint(at(50, 450), "21000 742000")
	must(t, err)
	_, err = s.AddControlPoint(at(350, 450), "24000 742000")
	must(t, err)
	if proved, err := s.NameCrossings(l, three, nil); proved || !errors.As(err, &refused) {
		t.Errorf("a sheet of control points: got %v, %v", proved, err)
	}
	sheet, _ := s.Sheet()
	file := slices.Clone(sheet.Points)
	file[1].At.Col++
	if proved, err := s.NameCrossings(l, three, file); proved || !errors.As(err, &refused) {
		t.Errorf("points that are not the file's: got %v, %v", proved, err)
	}
	if proved, err := s.NameCrossings(l, three, sheet.Points); !proved || err != nil {
		t.Errorf("points of the file: got %v, %v, want a proof", proved, err)
	}
}
