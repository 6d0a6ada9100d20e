package plan

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// contradicted is a sheet at 5 m a pixel that its file places 60 m too far east,
// by a matrix, and what its printed grid says against that.
func contradicted(t *testing.T) Sheet {
	t.Helper()
	s := Sheet{
		ID: "one", Picture: "one.tif", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700),
		World: &[6]float64{5, 0, 50_060, 0, -5, 800_000},
	}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	var crossings []calib.PicturePt
	for i := range 5 {
		for j := range 5 {
			crossings = append(crossings, calib.PicturePt{Col: 200 + 200*float64(i), Row: 200 + 200*float64(j)})
		}
	}
	if s.Contradicted = c.ContradictedBy(crossings, 1000); !s.Contradicted.Found() {
		t.Fatal("nothing contradicts")
	}
	return s
}

// byFilePoints is that sheet placed by four points of its file.
func byFilePoints(t *testing.T) Sheet {
	t.Helper()
	s := contradicted(t)
	for _, p := range []calib.ControlPoint{crossing(0, 0, 50_060, 800_000), crossing(2000, 0, 60_060, 800_000), crossing(2000, 2000, 60_060, 790_000), crossing(0, 2000, 50_060, 790_000)} {
		p.Source = calib.FilePoint
		s = s.WithPoint(p)
	}
	s.World = nil
	return s
}

// What contradicts a place stays with it, and goes with it: with another place,
// or where no file gives it any more.
func TestContradictionIsOfThePlace(t *testing.T) {
	t.Parallel()
	typed := func(s Sheet) Sheet {
		s.Points = pillared(t, "one").Points
		return s
	}
	for _, tc := range []struct {
		name   string
		sheet  Sheet
		change func(s Sheet) Sheet
		stays  bool
	}{
		{"another name of the picture", contradicted(t), func(s Sheet) Sheet { s.Picture = "two.tif"; return s }, true},
		{"another place, right", contradicted(t), func(s Sheet) Sheet { s.World = &[6]float64{5, 0, 50_000, 0, -5, 800_000}; return s }, false},
		{"another place, wrong too", contradicted(t), func(s Sheet) Sheet { s.World = &[6]float64{5, 0, 50_100, 0, -5, 800_000}; return s }, true},
		{"calibrated by points", contradicted(t), typed, false},
		{"another fit through the file's points", byFilePoints(t), func(s Sheet) Sheet { s.Medium = calib.Scan; return s }, true},
		{"one of the file's points less", byFilePoints(t), func(s Sheet) Sheet { return s.WithoutPoint(3) }, true},
		{"a typed point beside the file's", byFilePoints(t), func(s Sheet) Sheet {
			return s.WithPoint(crossing(1000, 1000, 55_000, 795_000))
		}, true},
		{"the file's points go", byFilePoints(t), typed, false},
		{"no calibration left", byFilePoints(t), func(s Sheet) Sheet { s.Points = s.Points[:1]; return s }, false},
		{"proved all the same", contradicted(t), func(s Sheet) Sheet { s.Proof = pillared(t, "one").Proof; return s }, true},
	} {
		p := New(Date{}).SetSheet(tc.sheet)
		q := p.SetSheet(tc.change(tc.sheet))
		got := q.Sheets[0]
		if got.Contradicted.Found() != tc.stays || got.Proof.Proved() {
			t.Errorf("%s: contradicted %+v, proof %+v; want it to stay: %v", tc.name, got.Contradicted, got.Proof, tc.stays)
		}
		if !p.Sheets[0].Contradicted.Same(tc.sheet.Contradicted) {
			t.Errorf("%s: the plan before was changed", tc.name)
		}
	}
}

// A proof falls where the place is contradicted afterwards, and with it those
// that rest on it.
func TestContradictionTakesTheProof(t *testing.T) {
	t.Parallel()
	first := pillared(t, "one")
	first.Points, first.World = nil, &[6]float64{5, 0, 50_000, 0, -5, 800_000}
	second := pillared(t, "two")
	second.Proof = calib.Proof{Kind: ProofBySheet("one"), Detail: "a mark of the other", By: first.Proof.By}
	p := New(Date{}).SetSheet(first).SetSheet(second)
	if p.HoldProofs() != p {
		t.Fatalf("the proofs do not hold: %v", p.HoldProofs().Mended)
	}
	first.Contradicted = calib.Contradiction{Detail: "12.0 px off"}
	for i, s := range p.SetSheet(first).Sheets {
		if s.Proof.Proved() {
			t.Errorf("sheet %d is still proved", i+1)
		}
	}
}

// What a file says against a place is shown again; where it cannot be, it counts.
func TestContradictionsOfAFile(t *testing.T) {
	t.Parallel()
	with := func(s Sheet, f func(s *Sheet)) Sheet { f(&s); return s }
	for _, tc := range []struct {
		name  string
		sheet Sheet
		stays bool
		told  string
	}{
		{"as it was found", contradicted(t), true, ""},
		{"by points of the file", byFilePoints(t), true, ""},
		{"the bare word", with(contradicted(t), func(s *Sheet) { s.Contradicted.By = nil }), true, ""},
		{"beside a proof", with(contradicted(t), func(s *Sheet) { s.Proof = pillared(t, "one").Proof }), true, "the printed grid contradicts"},
		{"the right place", with(contradicted(t), func(s *Sheet) { s.World = &[6]float64{5, 0, 50_000, 0, -5, 800_000} }), false, "agree"},
		{"beside typed points", with(contradicted(t), func(s *Sheet) { s.World, s.Points = nil, pillared(t, "one").Points }), false, "no file places it"},
	} {
		p := &Plan{Sheets: []Sheet{tc.sheet}}
		got := p.HoldProofs()
		told := strings.Join(got.Mended, "\n")
		if got.Sheets[0].Contradicted.Found() != tc.stays || got.Sheets[0].Proof.Proved() || !strings.Contains(told, tc.told) || (tc.told == "") != (got == p) {
			t.Errorf("%s: contradicted %+v, proof %+v, told %q; want it to stay: %v, told %q", tc.name, got.Sheets[0].Contradicted, got.Sheets[0].Proof, told, tc.stays, tc.told)
		}
	}
}
