package session

import (
	"fmt"
	"testing"

	"legwright/app/caution"
)

// A slip that is named is corrected in one step, as the person writes references, and
// counts as chosen until evidence decides.
func TestCorrectSlip(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name  string
		spoil func(*Session)
		point int
		want  string
	}{
		{"a digit", func(s *Session) { mustRef(t, s, 4, "29300 754400") }, 4, "28300 754400"},
		{"a digit of a lettered reference", func(s *Session) { mustRef(t, s, 4, "NL 283 554") }, 4, "NL 283 544"},
		{"easting and northing swapped", func(s *Session) { mustRef(t, s, 4, "754400 28300") }, 4, "28300 754400"},
		{"two references swapped", func(s *Session) {
			must(t, s.RemoveControlPoint(2))
			must(t, s.RemoveControlPoint(1))
			for _, row := range []float64{80, 2280} {
				_, err := s.AddControlPoint(at(2940, row), map[float64]string{80: "35000 749000", 2280: "35000 760000"}[row])
				must(t, err)
			}
		}, 4, "35000 760000"},
	} {
		s := squared(t, 27700, 20300, 760400)
		for _, c := range [][2]float64{{8000, 6000}, {4700, 7400}} {
			_, err := s.AddControlPoint(at(c[0]/5, c[1]/5), fmt.Sprintf("%.0f %.0f", 20300+c[0], 760400-c[1]))
			must(t, err)
		}
		tc.spoil(s)
		v := s.Verdict()
		if len(v.Named) != 1 {
			t.Errorf("%s: %d slips named: %+v", tc.name, len(v.Named), v.Cautions)
			continue
		}
		if got := s.CorrectedReference(v.Named[0], tc.point); got != tc.want {
			t.Errorf("%s: the corrected reference is %q, want %q", tc.name, got, tc.want)
		}
		before := s.Plan()
		must(t, s.CorrectSlip(v.Named[0]))
		sheet, _ := s.Sheet()
		if got := sheet.Points[tc.point].Text; got != tc.want {
			t.Errorf("%s: corrected to %q, want %q", tc.name, got, tc.want)
		}
		if v := s.Verdict(); len(v.Named) > 0 || caution.Stops(v.Cautions, caution.All) || !caution.Has(v.Cautions, caution.OpenSlip) {
			t.Errorf("%s: afterwards %+v", tc.name, v.Cautions)
		}
		if s.Undo(); s.Plan() != before {
			t.Errorf("%s: not one step of undo", tc.name)
		}
	}
}

func mustRef(t *testing.T, s *Session, i int, text string) {
	t.Helper()
	_, err := s.SetControlReference(i, text)
	must(t, err)
}
