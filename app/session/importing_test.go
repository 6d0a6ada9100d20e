package session

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

// importInto imports into the plan at once.
func importInto(s *Session, in Imported) (ImportReport, error) {
	w, err := s.BeginImport(in)
	if err != nil {
		return ImportReport{}, err
	}
	if err := w.Run(context.Background(), nil); err != nil {
		return ImportReport{}, err
	}
	return s.EndImport(w)
}

func TestImport(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	sys := s.Reader().System()
	ll := func(e, n float64) geodesy.LatLon {
		out, _, err := sys.ToWGS84(geodesy.Grid{E: e, N: n})
		must(t, err)
		return out
	}
	in := Imported{
		Marks: []ImportedPoint{{Name: "Ford", At: ll(53_000, 797_000)}, {Name: "Ford", At: ll(54_000, 797_000)}, {At: ll(55_000, 797_000)}},
		Routes: [][]ImportedPoint{{
			{Name: "Ford", At: ll(53_000, 797_000)}, {At: ll(53_500, 796_000)}, {At: ll(53_500, 796_000)}, {Name: "Top", At: ll(54_000, 795_000)},
		}},
		Tracks: []plan.Track{{Name: "walked", Points: []geodesy.LatLon{ll(53_000, 797_000)}}},
	}
	report, err := importInto(s, in)
	must(t, err)
	if want := (ImportReport{Marks: 4, Legs: 2, Tracks: 1, Skipped: 2}); report != want {
		t.Errorf("report %+v, want %+v", report, want)
	}
	rows := s.Rows()
	if rows[0].From != "Ford" || rows[1].To != "Top" || rows[0].To == "" || rows[0].To != rows[1].From {
		t.Errorf("legs %s–%s, %s–%s", rows[0].From, rows[0].To, rows[1].From, rows[1].To)
	}
	if _, ok := s.Plan().MarkByName("Ford 2"); !ok {
		t.Error("the second ford has no name of its own")
	}
	if r := rows[0].Reading; r.FromSigmaM < ImportSigmaM {
		t.Errorf("an imported place is said to be known to %v m", r.FromSigmaM)
	}
	s.Undo()
	if len(s.Plan().Marks) != 0 || len(s.Plan().Tracks) != 0 {
		t.Error("importing is not one step")
	}
	bare := New(nil, nil, today)
	_, err = importInto(bare, Imported{Marks: []ImportedPoint{{Name: "x", At: geodesy.DegLatLon(60, 5.5)}}})
	must(t, err)
	if got := bare.Plan().Marks[0].Position.Code; got != geodesy.EPSG(32632) {
		t.Errorf("without a sheet it lies on %s, want 32632 (south-west Norway)", got)
	}
	if _, err := importInto(bare, Imported{Marks: []ImportedPoint{{At: geodesy.DegLatLon(999, 0)}}}); err == nil {
		t.Error("latitude 999: no error")
	}
	if _, err := importInto(New(nil, nil, today), Imported{}); err == nil {
		t.Error("nothing to import: no error")
	}
}

// TestImportOfMany imports as many places as a long season's file has, many of
// one name.
func TestImportOfMany(t *testing.T) {
	t.Parallel()
	in := Imported{}
	for i := range 20_000 {
		name := "Cache"
		if i%2 == 1 {
			name = fmt.Sprintf("Place %d", i)
		}
		in.Marks = append(in.Marks, ImportedPoint{Name: name, At: geodesy.DegLatLon(56.4+float64(i)*1e-5, -8)})
	}
	s := New(nil, nil, today)
	report, err := importInto(s, in)
	must(t, err)
	if report.Marks != 20_000 || s.Plan().Marks[19_998].Name != "Cache 10000" {
		t.Errorf("%+v, the last Cache is %q", report, s.Plan().Marks[19_998].Name)
	}
}

// TestImportWorkGivesUpAndFollows gives an import up half way, and lets the
// plan change while another is computed.
func TestImportWorkGivesUpAndFollows(t *testing.T) {
	t.Parallel()
	in := Imported{}
	for i := range 2_000 {
		in.Marks = append(in.Marks, ImportedPoint{Name: fmt.Sprintf("Place %d", i), At: geodesy.DegLatLon(56.4+float64(i)*1e-5, -8)})
	}
	s := New(nil, nil, today)
	w, err := s.BeginImport(in)
	must(t, err)
	ctx, giveUp := context.WithCancel(context.Background())
	told := 0
	err = w.Run(ctx, func(done, total int) {
		if told = done; total != 2_000 {
			t.Errorf("got a total of %d, want 2000", total)
		}
		giveUp()
	})
	if !errors.Is(err, context.Canceled) || told == 0 || told >= 2_000 {
		t.Errorf("given up: got %v after %d places, want context.Canceled half way", err, told)
	}

	w, err = s.BeginImport(in)
	must(t, err)
	must(t, w.Run(context.Background(), nil))
	must(t, s.SetDate("2026-12-01"))
	if _, err := s.EndImport(w); !errors.Is(err, ErrPlanChanged) || len(s.Plan().Marks) != 0 {
		t.Errorf("the plan changed meanwhile: got %v and %d marks, want %v and none", err, len(s.Plan().Marks), ErrPlanChanged)
	}
	w, err = s.BeginImport(in)
	must(t, err)
	must(t, w.Run(context.Background(), nil))
	report, err := s.EndImport(w)
	must(t, err)
	if p := s.Plan(); report.Marks != 2_000 || len(p.Marks) != 2_000 || p.Date.String() != "2026-12-01" {
		t.Errorf("got %+v, %d marks on %v, want 2000 and the date set meanwhile", report, len(p.Marks), p.Date)
	}
}
