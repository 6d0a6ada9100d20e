package session

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
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
	if want := (ImportReport{Marks: 4, Legs: 2, Tracks: 1, Name: "import"}); report != want {
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
		t.Errorf("an imported position is known to %v m, want %v at best", r.FromSigmaM, ImportSigmaM)
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

// TestImportOfMany imports as many positions as a long season's file has, many of
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
		t.Errorf("cancelled: got %v after %d positions, want context.Canceled half way", err, told)
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

// exportedOf is what an exchange file of the plan holds.
func exportedOf(t *testing.T, s *Session) Imported {
	t.Helper()
	x, err := leg.Export(s.Plan(), nil)
	must(t, err)
	points := func(list []leg.ExportPoint) (out []ImportedPoint) {
		for _, p := range list {
			// seven decimals, as such files have
			at := geodesy.DegLatLon(math.Round(p.At.Lat.Deg()*1e7)/1e7, math.Round(p.At.Lon.Deg()*1e7)/1e7)
			out = append(out, ImportedPoint{Name: p.Name, Note: p.Desc, At: at})
		}
		return out
	}
	in := Imported{Name: "own.gpx", Marks: points(x.Marks)}
	for _, r := range x.Routes {
		in.Routes = append(in.Routes, points(r))
	}
	return in
}

// A plan's own export, imported again, adds nothing.
func TestImportOfOnesOwnExport(t *testing.T) {
	t.Parallel()
	a := ready(t)
	must(t, a.Remove(a.sight))
	_, err := a.KeepLeg(a.end(100, 900), a.end(100, 1000)) // a second route
	must(t, err)
	in := exportedOf(t, a.Session)
	if len(in.Routes) != 2 {
		t.Fatalf("%d routes, want 2", len(in.Routes))
	}
	in.Tracks = []plan.Track{{Name: "the route as a track"}}
	for _, p := range in.Routes[0] {
		in.Tracks[0].Points = append(in.Tracks[0].Points, p.At)
	}
	before := a.Plan()
	report, err := importInto(a.Session, in)
	must(t, err)
	if a.Plan() != before || report != (ImportReport{Known: 4}) { // one mark, also where a route begins, and three legs
		t.Errorf("%+v, and the plan is another one: %v; want 4 known and the plan as it was", report, a.Plan() != before)
	}
	must(t, a.MovePoint(a.later, int(plan.ToEnd), a.end(1500, 1500)))
	report, err = importInto(a.Session, in)
	must(t, err)
	if report.Legs != 2 || report.Known != 2 {
		t.Errorf("%+v, want the route that differs now as 2 new legs, and 2 known", report)
	}
}

// What came with one import goes with it, later too, and nothing else.
func TestRemoveImport(t *testing.T) {
	t.Parallel()
	a := ready(t)
	before := a.Plan()
	for range 2 {
		in := walk()
		in.Marks[0].At = geodesy.DegLatLon(56.2+0.003*float64(len(a.Plan().Imports())), -6.3)
		in.Routes[0][0].At, in.Tracks = in.Marks[0].At, nil
		_, err := importInto(a.Session, in)
		must(t, err)
	}
	if got := a.Plan().Imports(); len(got) != 2 || got[0].Name != "walk.gpx" || got[1].Name != "walk.gpx 2" || len(got[1].Things) != 2 {
		t.Fatalf("imports %+v", got)
	}
	_, err := a.AddMark("Gate", a.at(50, 50))
	must(t, err)
	must(t, a.RemoveImport("walk.gpx"))
	must(t, a.RemoveImport("walk.gpx 2"))
	if p := a.Plan(); len(p.Imports()) != 0 || len(p.Marks) != len(before.Marks)+1 || len(p.Legs) != len(before.Legs) {
		t.Errorf("left: %d imports, %d marks, %d legs", len(p.Imports()), len(p.Marks), len(p.Legs))
	}
	if err := a.RemoveImport("walk.gpx"); err == nil {
		t.Error("removed twice")
	}
}

// The positions of a track lie on the sheet's grid and are few enough to look through.
func TestPositionsAlongATrack(t *testing.T) {
	t.Parallel()
	a := ready(t)
	in := walk()
	in.Tracks[0].Points = nil
	for i := range 2000 {
		in.Tracks[0].Points = append(in.Tracks[0].Points, geodesy.DegLatLon(56.2+float64(i)*1e-5, -6.3))
	}
	_, err := importInto(a.Session, in)
	must(t, err)
	got := a.PositionsOf(a.Plan().Tracks[0].ID)
	first, _, _, err := a.Reader().System().FromWGS84(in.Tracks[0].Points[0])
	must(t, err)
	if len(got) < 400 || len(got) > 512 || got[0].Grid != first || got[0].Code != a.Reader().System().Code() {
		t.Errorf("%d positions, the first %+v, want about 500 from %v on", len(got), got[0], first)
	}
	if none := a.PositionsOf("track-99"); none != nil {
		t.Errorf("of no track: %v", none)
	}
}

// A cut name is that of a mark whose first letters and own end it has, and of no other.
func TestCutOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		whole, name string
		want        bool
	}{
		{"long ridge cairn 12", "long rid12", true},
		{"long ridge cairn 12", "long ri12b", true},
		{"long ridge cairn 12", "long ridge c 12", true},
		{"long ridge cairn 12", "long ridge", true},
		{"long ridge cairn 12", "long rid1", false},
		{"long ridge cairn 1", "long rid12", false},
		{"skelvig quay of stone", "skelvig-b", true},
		{"skelvig quay", "skelvig q2", false},
		{"skelvig north wall", "skelvig wall", false},
		{"ridge top iv", "ridge iv", true},
		{"ridge top iv", "ridge v", true}, // the same letters: only the position tells
		{"ridge top iv", "ridge x", false},
	} {
		if got := cutOf(c.whole, c.name); got != c.want {
			t.Errorf("%q of %q: got %v, want %v", c.name, c.whole, got, c.want)
		}
	}
}
