package plan

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// Invented ground in the sea west of Scotland; the sheet is 5 m to the pixel,
// north up, its top-left corner at E 50 000, N 800 000.
func testSheet() Sheet {
	return Sheet{
		ID: "sheet-1", Picture: "/maps/isle.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700), DPI: 254,
		Points: []calib.ControlPoint{
			{At: calib.PicturePt{Col: 200, Row: 200}, Ref: geodesy.Grid{E: 51_000, N: 799_000}, Text: "51000 799000"},
			{At: calib.PicturePt{Col: 1800, Row: 1800}, Ref: geodesy.Grid{E: 59_000, N: 791_000}, Text: "59000 791000"},
		},
	}
}

func picked(t testing.TB, s Sheet, col, row float64) Position {
	t.Helper()
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	return PickedAt(s, c, calib.PicturePt{Col: col, Row: row}, 0.5)
}

func typed(e, n float64) Position {
	return Position{Grid: geodesy.Grid{E: e, N: n}, Code: geodesy.EPSG(27700), Origin: Typed, Text: "typed"}
}

func testPlan(t testing.TB) *Plan {
	s := testSheet()
	p := New(Date{2026, 11, 25}).SetSheet(s)
	p = p.AddMark(Mark{ID: "mark-1", Name: "Cairn", Position: picked(t, s, 1000, 1000)})
	p = p.AddMark(Mark{ID: "mark-2", Name: "Hut", Position: typed(56_000, 795_000)})
	m1, _ := p.MarkByID("mark-1")
	m2, _ := p.MarkByID("mark-2")
	own := AtPosition(picked(t, s, 600, 500))
	p = p.AddLeg(Leg{ID: "leg-1", From: AtMark(m1), To: own})
	p = p.AddLeg(Leg{ID: "leg-2", From: own, To: AtMark(m2)})
	return p.AddSight(Sight{ID: "sight-1", From: AtMark(m1), To: own})
}

func near(a, b geodesy.Grid, tolM float64) bool { return math.Hypot(a.E-b.E, a.N-b.N) <= tolM }

func TestPickedPositionLiesWhereTheSheetSays(t *testing.T) {
	t.Parallel()
	got := picked(t, testSheet(), 1000, 1000)
	if want := (geodesy.Grid{E: 55_000, N: 795_000}); !near(got.Grid, want, 1e-6) {
		t.Errorf("grid = %v, want %v", got.Grid, want)
	}
	if math.Abs(got.SigmaM-2.5) > 1e-9 {
		t.Errorf("σ = %v m, want 2.5 (half a pixel of 5 m)", got.SigmaM)
	}
}

func TestTypedReferenceMeansTheCentreOfItsSquare(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	got := TypedAs("x", geodesy.Ref{Grid: geodesy.Grid{E: 212_300, N: 745_600}, SquareM: 100, System: sys})
	if want := (geodesy.Grid{E: 212_350, N: 745_650}); !near(got.Grid, want, 1e-9) {
		t.Errorf("grid = %v, want %v", got.Grid, want)
	}
	if want := 100 / math.Sqrt(12); math.Abs(got.SigmaM-want) > 1e-9 || got.Code != geodesy.EPSG(27700) {
		t.Errorf("σ = %v, grid %s, want %v, EPSG:27700", got.SigmaM, got.Code, want)
	}
}

func TestRecalibratingMovesPickedAndKeepsTyped(t *testing.T) {
	t.Parallel()
	p := testPlan(t)
	s, _ := p.Sheet()
	c := s.Points[0]
	for i := range s.Points { // every reference was a whole square out
		c = s.Points[i]
		c.Ref.E += 1000
		s = s.SetPoint(i, c)
	}
	q := p.SetSheet(s)
	m1, _ := q.MarkByID("mark-1")
	m2, _ := q.MarkByID("mark-2")
	l1, _ := q.LegByID("leg-1")
	for _, k := range []struct {
		name      string
		got, want geodesy.Grid
	}{
		{"picked mark", m1.Position.Grid, geodesy.Grid{E: 56_000, N: 795_000}},
		{"typed mark", m2.Position.Grid, geodesy.Grid{E: 56_000, N: 795_000}},
		{"own end", q.Resolve(l1.To).Grid, geodesy.Grid{E: 54_000, N: 797_500}},
		{"end at the mark", q.Resolve(l1.From).Grid, geodesy.Grid{E: 56_000, N: 795_000}},
		{"stale copy in the end", l1.From.Position.Grid, geodesy.Grid{E: 56_000, N: 795_000}},
	} {
		if !near(k.got, k.want, 1e-6) {
			t.Errorf("%s at %v, want %v", k.name, k.got, k.want)
		}
	}
	old, _ := p.MarkByID("mark-1")
	if !near(old.Position.Grid, geodesy.Grid{E: 55_000, N: 795_000}, 1e-6) {
		t.Errorf("the old plan moved: %v", old.Position.Grid)
	}
	if old.Position.At != m1.Position.At {
		t.Errorf("picture point changed: %v, want %v", m1.Position.At, old.Position.At)
	}
}

func TestALostCalibrationLeavesPositions(t *testing.T) {
	t.Parallel()
	p := testPlan(t)
	s, _ := p.Sheet()
	q := p.SetSheet(s.WithoutPoint(1))
	m, _ := q.MarkByID("mark-1")
	if !near(m.Position.Grid, geodesy.Grid{E: 55_000, N: 795_000}, 1e-6) {
		t.Errorf("mark at %v, want where it was", m.Position.Grid)
	}
	lost, _ := q.Sheet()
	if _, err := lost.Calibration(); !errors.Is(err, ErrUncalibrated) {
		t.Errorf("Calibration: %v, want ErrUncalibrated", err)
	}
}

// Evidence stays whatever becomes of the calibration: it is judged anew.
func TestEvidenceStays(t *testing.T) {
	t.Parallel()
	p := testPlan(t)
	s, _ := p.Sheet()
	s = s.WithEvidence(calib.Evidence{Source: calib.FromList, At: calib.PicturePt{Col: 1052, Row: 374}, Text: "55260 798130"})
	p = p.SetSheet(s)
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	c := s.Points[0]
	c.At.Col += 0.1
	if got, _ := p.SetSheet(s.SetPoint(0, c)).Sheet(); len(got.Evidence) != 1 || got.Same(s) {
		t.Errorf("with another control point: %+v", got.Evidence)
	}
	if got := s.WithoutEvidence(0); len(got.Evidence) != 0 || got.Same(s) || len(s.Evidence) != 1 {
		t.Errorf("without it: %+v", got.Evidence)
	}
	for _, bad := range []calib.Evidence{{Source: "hearsay"}, {Source: calib.FromList, SigmaRefM: -1}, {Source: calib.FromOwnGrid, SquareM: -3}} {
		if err := p.SetSheet(s.WithEvidence(bad)).Validate(); err == nil || !strings.Contains(err.Error(), "check 2") {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

func TestGivenMatrixCalibrates(t *testing.T) {
	t.Parallel()
	s := Sheet{ID: "s", Code: geodesy.EPSG(32619), World: &[6]float64{5, 0, 310_300, 0, -5, 4_907_700}}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := c.ToGrid(calib.PicturePt{Col: 100, Row: 200}), (geodesy.Grid{E: 310_800, N: 4_906_700}); !near(got, want, 1e-6) {
		t.Errorf("grid = %v, want %v", got, want)
	}
}

func TestRemovedMarkLeavesItsPlace(t *testing.T) {
	t.Parallel()
	p := testPlan(t)
	q := p.Remove("mark-1")
	l, _ := q.LegByID("leg-1")
	s, _ := q.SightByID("sight-1")
	if l.From.Mark != "" || s.From.Mark != "" || !near(l.From.Position.Grid, geodesy.Grid{E: 55_000, N: 795_000}, 1e-6) {
		t.Errorf("ends after removal: %+v, %+v, want the mark's last position", l.From, s.From)
	}
	if err := q.Validate(); err != nil {
		t.Error(err)
	}
}

func TestMovedEndTakesTheNeighbourAlong(t *testing.T) {
	t.Parallel()
	p, to := testPlan(t), AtPosition(typed(53_500, 796_000))
	q := p.MovePoint("leg-1", int(ToEnd), to)
	l1, _ := q.LegByID("leg-1")
	l2, _ := q.LegByID("leg-2")
	if !l1.To.Same(to) || !l2.From.Same(to) || l1.To.Letter != "A" {
		t.Errorf("joined ends at %v and %v, want both moved", l1.To.Position.Grid, l2.From.Position.Grid)
	}
	q = p.MovePoint("leg-2", int(ToEnd), to)
	if l, _ := q.LegByID("leg-1"); l.From != p.Legs[0].From || l.To != p.Legs[0].To {
		t.Error("a leg that does not join there moved too")
	}
	q = p.MovePoint("leg-2", int(FromEnd), to)
	if l, _ := q.LegByID("leg-1"); !l.To.Same(to) {
		t.Error("the leg before did not follow")
	}
}

func TestRouteOrder(t *testing.T) {
	t.Parallel()
	p := testPlan(t).AddLeg(Leg{ID: "leg-3", From: AtPosition(typed(1, 2)), To: AtPosition(typed(3, 4))}).MoveLeg("leg-3", -1)
	order := func(p *Plan) string {
		var b []string
		for _, l := range p.Legs {
			b = append(b, strings.TrimPrefix(string(l.ID), "leg-"))
		}
		return strings.Join(b, "")
	}
	for _, c := range []struct {
		name, got, want string
	}{
		{"inserted", order(p), "132"},
		{"down", order(p.MoveLeg("leg-1", 1)), "312"},
		{"up", order(p.MoveLeg("leg-2", -1)), "123"},
		{"beyond the end", order(p.MoveLeg("leg-1", 99)), "321"},
		{"beyond the start", order(p.MoveLeg("leg-2", -99)), "213"},
		{"unknown", order(p.MoveLeg("leg-9", 1)), "132"},
		{"removed", order(p.Remove("leg-3")), "12"},
	} {
		if c.got != c.want {
			t.Errorf("%s: order %s, want %s", c.name, c.got, c.want)
		}
	}
}

func TestLabels(t *testing.T) {
	t.Parallel()
	p := testPlan(t).AddMark(Mark{ID: "mark-3", Name: "a", Position: typed(9, 9)})
	l := p.Labels()
	for _, c := range []struct {
		name string
		end  End
		want string
	}{
		{"mark", p.Legs[0].From, "Cairn"},
		{"own position, A is taken by a mark", p.Legs[0].To, "B"},
		{"joined position", p.Legs[1].From, "B"},
		{"far mark", p.Legs[1].To, "Hut"},
		{"sight to the same position", p.Sights[0].To, "B"},
	} {
		if got := l.Of(c.end); got != c.want {
			t.Errorf("%s: label %q, want %q", c.name, got, c.want)
		}
	}
	if got := p.NextMarkName(); got != "C" {
		t.Errorf("NextMarkName = %q, want C, for an end is called B", got)
	}
}

func TestLetters(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := Letters(n); got != want {
			t.Errorf("Letters(%d) = %q, want %q", n, got, want)
		}
	}
}

func TestNextID(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		used []ID
		want ID
	}{
		{nil, "leg-1"},
		{[]ID{"leg-1", "leg-7", "mark-9"}, "leg-8"},
		{[]ID{"leg-x", "leg-", "leg"}, "leg-1"},
		{[]ID{"leg-99999999999999999999"}, "leg-1"},
	} {
		if got := NextID("leg", c.used...); got != c.want {
			t.Errorf("NextID(%v) = %q, want %q", c.used, got, c.want)
		}
	}
}

func TestDates(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"2026-11-25", "2026-11-25"},
		{" 25  November 2026 ", "2026-11-25"},
		{"5 Feb 2024", "2024-02-05"},
		{"2024-02-29", "2024-02-29"},
		{"2026-02-29", ""},
		{"2026-13-01", ""},
		{"1899-12-31", ""},
		{"2201-01-01", ""},
		{"", ""},
		{"11/25/2026", ""},
	} {
		d, err := ParseDate(c.text)
		if c.want == "" {
			var bad *BadDate
			if !errors.As(err, &bad) {
				t.Errorf("ParseDate(%q) = %v, %v, want a *BadDate", c.text, d, err)
			}
			continue
		}
		if err != nil || d.String() != c.want {
			t.Errorf("ParseDate(%q) = %v, %v, want %s", c.text, d, err, c.want)
		}
	}
	if got := (Date{2026, 11, 5}).Words(); got != "5 November 2026" {
		t.Errorf("Words = %q", got)
	}
}

func TestValidate(t *testing.T) {
	t.Parallel()
	good := testPlan(t)
	if err := good.Validate(); err != nil {
		t.Fatalf("a good plan is refused: %v", err)
	}
	mark := func(f func(*Mark)) *Plan {
		m := good.Marks[0]
		f(&m)
		return good.SetMark(m)
	}
	party := func(f func(*Party)) *Plan {
		p := good.Party
		f(&p)
		return good.SetParty(p)
	}
	sheet := func(f func(*Sheet)) *Plan {
		s := good.Sheets[0]
		f(&s)
		return good.SetSheet(s)
	}
	for _, c := range []struct {
		name string
		p    *Plan
		want string // part of the sentence
	}{
		{"long title", good.SetTitle(strings.Repeat("x", MaxName+1)), "longer than 120"},
		{"bad text", good.SetTitle("\xff"), "not valid text"},
		{"control character", good.SetTitle("a\x00b"), "control character"},
		{"date", good.SetDate(Date{2026, 2, 30}), "not a date"},
		{"NaN easting", mark(func(m *Mark) { m.Position.Grid.E = math.NaN() }), "not on any grid"},
		{"infinite northing", mark(func(m *Mark) { m.Position.Grid.N = math.Inf(1) }), "not on any grid"},
		{"unknown grid", mark(func(m *Mark) { m.Position.Code = geodesy.EPSG(4277) }), "4277"},
		{"negative σ", mark(func(m *Mark) { m.Position.SigmaM = -1 }), "uncertainty"},
		{"origin", mark(func(m *Mark) { m.Position.Origin = 7 }), "origin 7"},
		{"no id", good.AddMark(Mark{Position: typed(1, 2)}), "no id"},
		{"id twice", good.AddMark(good.Marks[0]), "twice"},
		{"end at no mark", good.AddLeg(Leg{ID: "leg-9", From: End{Mark: "gone"}, To: good.Legs[0].To}), "not in the plan"},
		{"speed zero", party(func(p *Party) { p.SpeedKmh = 0 }), "walking speed"},
		{"speed NaN", party(func(p *Party) { p.SpeedKmh = math.NaN() }), "walking speed"},
		{"compass error", party(func(p *Party) { p.Compass.Sigma = units.Degrees(90) }), "the ± of the compass is 180, but must be between 0 and 90 degrees"},
		{"compass error in mils", party(func(p *Party) { p.Compass.Sigma, p.Compass.Circle = units.Degrees(90), units.Mils6400 }), "the ± of the compass is 3200, but must be between 0 and 1600 mils"},
		{"pacing error", party(func(p *Party) { p.PaceSigma = 0.6 }), "the ± of pacing is 120, but must be between 0 and 100 %"},
		{"circle", party(func(p *Party) { p.Compass.Circle = 9 }), "circle"},
		{"picture too large", sheet(func(s *Sheet) { s.Width = 100_001 }), "100000"},
		{"hash", sheet(func(s *Sheet) { s.SHA256 = "abc" }), "SHA-256"},
		{"control point NaN", sheet(func(s *Sheet) { *s = s.SetPoint(0, calib.ControlPoint{At: calib.PicturePt{Col: math.NaN()}}) }), "not a number"},
		{"track latitude", good.AddTrack(Track{ID: "track-1", Points: []geodesy.LatLon{geodesy.DegLatLon(999, 0)}}), "latitude"},
		{"too many grids", good.with(func(q *Plan) {
			for i := range MaxGrids {
				q.Marks = append(q.Marks, Mark{Position: Position{Code: geodesy.EPSG(1 + i)}})
			}
		}), "at most 64 are allowed"},
		{"too many marks", good.with(func(q *Plan) { q.Marks = make([]Mark, MaxMarks+1) }), "at most 20000 are allowed"},
	} {
		err := c.p.Validate()
		var bad *Invalid
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want an *Invalid with %q", c.name, err, c.want)
		}
	}
}

// Whatever edits are made, a plan that was handed out does not change, and the
// result is valid.
func TestEditsLeaveTheOldPlanAlone(t *testing.T) {
	t.Parallel()
	first := testPlan(t)
	rapid.Check(t, func(rt *rapid.T) {
		p := first
		for range rapid.IntRange(1, 20).Draw(rt, "edits") {
			before, deep := p, deepCopy(p)
			p = randomEdit(rt, p)
			if !equalPlans(before, deep) {
				rt.Fatal("an edit changed the plan it was made from")
			}
			if err := p.Validate(); err != nil {
				rt.Fatalf("an edit made an invalid plan: %v", err)
			}
		}
	})
}

func randomEdit(rt *rapid.T, p *Plan) *Plan {
	pos := typed(rapid.Float64Range(0, 1e6).Draw(rt, "e"), rapid.Float64Range(0, 1e6).Draw(rt, "n"))
	pickLeg := func() ID {
		if len(p.Legs) == 0 {
			return ""
		}
		return rapid.SampledFrom(p.Legs).Draw(rt, "leg").ID
	}
	switch rapid.IntRange(0, 8).Draw(rt, "edit") {
	case 0:
		return p.AddMark(Mark{ID: p.NextID(OfMark), Name: p.NextMarkName(), Position: pos})
	case 1:
		return p.AddLeg(Leg{ID: p.NextID(OfLeg), From: AtPosition(pos), To: AtPosition(typed(pos.Grid.E+10, 5))})
	case 2:
		return p.Remove(pickLeg())
	case 3:
		return p.MoveLeg(pickLeg(), rapid.IntRange(-3, 3).Draw(rt, "by"))
	case 4:
		return p.MovePoint(pickLeg(), int(ToEnd), AtPosition(pos))
	case 5:
		if len(p.Marks) == 0 {
			return p
		}
		return p.Remove(rapid.SampledFrom(p.Marks).Draw(rt, "mark").ID)
	case 6:
		s, _ := p.Sheet()
		c := s.Points[0]
		c.At.Col += rapid.Float64Range(-5, 5).Draw(rt, "col")
		return p.SetSheet(s.SetPoint(0, c))
	case 7:
		return p.ReverseLeg(pickLeg())
	}
	return p.SetTitle("another")
}

func deepCopy(p *Plan) *Plan {
	q := *p
	q.Marks, q.Legs, q.Sights = append([]Mark(nil), p.Marks...), append([]Leg(nil), p.Legs...), append([]Sight(nil), p.Sights...)
	q.Sheets = append([]Sheet(nil), p.Sheets...)
	for i := range q.Sheets {
		q.Sheets[i].Points = append([]calib.ControlPoint(nil), q.Sheets[i].Points...)
	}
	return &q
}

func equalPlans(a, b *Plan) bool {
	if a.Title != b.Title || len(a.Marks) != len(b.Marks) || len(a.Legs) != len(b.Legs) || len(a.Sights) != len(b.Sights) || len(a.Sheets) != len(b.Sheets) {
		return false
	}
	for i := range a.Marks {
		if a.Marks[i] != b.Marks[i] {
			return false
		}
	}
	for i := range a.Legs {
		if a.Legs[i] != b.Legs[i] {
			return false
		}
	}
	for i := range a.Sheets {
		if !a.Sheets[i].SameCalibration(b.Sheets[i]) {
			return false
		}
	}
	return true
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"2026-11-25", "25 Nov 2026", "0000-00-00", "-1", "９９"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDate(s)
		if err == nil && !d.Valid() {
			t.Fatalf("ParseDate(%q) = %v, which is no date", s, d)
		}
	})
}
