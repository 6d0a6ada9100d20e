package plan

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

func crossing(col, row, e, n float64) calib.ControlPoint {
	return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: e, N: n}}
}

// pillared is a sheet at 5 m a pixel, north up, with its top left corner at
// E 50 000, N 800 000, and proved by a pillar.
func pillared(t *testing.T, id ID) Sheet {
	t.Helper()
	s := Sheet{ID: id, Picture: string(id) + ".png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700), Points: []calib.ControlPoint{
		crossing(200, 200, 51_000, 799_000), crossing(1800, 1800, 59_000, 791_000), crossing(200, 1800, 51_000, 791_000),
	}}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	proof, miss, ok := calib.CheckFeature(c, calib.PicturePt{Col: 1052, Row: 374}, geodesy.Grid{E: 55_260, N: 798_130}, 0.3, 0.5)
	if !ok {
		t.Fatalf("the pillar is %v m off", miss)
	}
	s.Proof = proof
	return s
}

// A proof in a file counts only where it can be made again from what the file
// says of it.
func TestProofsOfAFileAreMadeAgain(t *testing.T) {
	t.Parallel()
	sound := pillared(t, "one")
	with := func(f func(s *Sheet)) []Sheet {
		s := pillared(t, "one")
		s.Points = append([]calib.ControlPoint(nil), s.Points...)
		f(&s)
		return []Sheet{s}
	}
	second := func(kind string, by ...calib.ControlPoint) Sheet {
		s := pillared(t, "two")
		s.Proof = calib.Proof{Kind: kind, Detail: "a mark of the other", By: by}
		return s
	}
	given := func(by ...calib.ControlPoint) []Sheet {
		return with(func(s *Sheet) {
			s.Points, s.World = nil, &[6]float64{5, 0, 50_000, 0, -5, 800_000}
			s.Proof = calib.Proof{Kind: calib.ProofPrintedGrid, By: by}
		})
	}
	named := []calib.ControlPoint{crossing(200, 200, 51_000, 799_000), crossing(1800, 1800, 59_000, 791_000), crossing(200.1, 1800, 51_000, 791_000)}
	for _, tc := range []struct {
		name   string
		sheets []Sheet
		want   string // in what is told; "" where every proof holds
	}{
		{"as it was proved", []Sheet{sound}, ""},
		{"no proof at all", with(func(s *Sheet) { s.Proof = calib.Proof{} }), ""},
		{"the bare word", with(func(s *Sheet) { s.Proof.By = nil }), "does not say by what place"},
		{"every point a square farther east", with(func(s *Sheet) {
			for i := range s.Points {
				s.Points[i].Ref.E += 1000
			}
		}), "sigma where 2 are allowed"},
		{"mirrored", with(func(s *Sheet) {
			s.Medium = calib.Scan
			for i := range s.Points {
				s.Points[i].At.Col = 2000 - s.Points[i].At.Col
			}
		}), "mirrors"},
		{"by a control point", with(func(s *Sheet) { s.Proof.By[0] = s.Points[0] }), "control point 1"},
		{"by another crossing", with(func(s *Sheet) { s.Proof.By[0] = crossing(1000, 400, 55_000, 798_000) }), "crossing of the printed grid"},
		{"no calibration left", with(func(s *Sheet) { s.Points = s.Points[:1] }), "not calibrated"},
		{"a photograph with three points", with(func(s *Sheet) { s.Medium = calib.Photograph }), "photograph"},
		{"by a proved sheet", []Sheet{sound, second("sheet one", sound.Proof.By...)}, ""},
		{"by a sheet that is not proved", append(with(func(s *Sheet) { s.Proof = calib.Proof{} }), second("sheet one", sound.Proof.By...)), "which is itself unproved"},
		{"by a sheet that only says so", append(with(func(s *Sheet) { s.Proof.By = nil }), second("sheet one", sound.Proof.By...)), "which is itself unproved"},
		{"by itself", []Sheet{second("sheet two", sound.Proof.By...)}, "which is itself unproved"},
		{"named crossings of a file's place", given(named...), ""},
		{"two of them", given(named[:2]...), "not in one line"},
		{"one of them a square out", given(named[0], named[1], crossing(200, 1800, 52_000, 791_000)), "crossing 3"},
		{"a pillar on a file's place", with(func(s *Sheet) {
			s.Points, s.World = nil, &[6]float64{5, 0, 50_000, 0, -5, 800_000}
		}), ""},
		{"one crossing on a file's place", with(func(s *Sheet) {
			s.Points, s.World = nil, &[6]float64{5, 0, 50_000, 0, -5, 800_000}
			s.Proof.By = named[:1]
		}), "three crossings"},
	} {
		p := &Plan{Sheets: tc.sheets}
		got := p.HoldProofs()
		told := strings.Join(got.Mended, "\n")
		if tc.want == "" {
			if got != p {
				t.Errorf("%s: %s", tc.name, told)
			}
			continue
		}
		last := got.Sheets[len(got.Sheets)-1]
		if last.Proof.Proved() || !strings.Contains(told, tc.want) || !strings.Contains(told, last.Picture) {
			t.Errorf("%s: proof %+v, told %q, want none and %q", tc.name, last.Proof, told, tc.want)
		}
		if p.Mended != nil || !p.Sheets[len(p.Sheets)-1].Same(tc.sheets[len(tc.sheets)-1]) {
			t.Errorf("%s: the plan that was held was changed", tc.name)
		}
	}
}
