package session

import (
	"errors"
	"math"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

func TestTypedLegs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		bearing  string
		north    North
		distance string
		circle   units.Circle
		of       func(leg.Reading) units.Angle
		wantDeg  float64
		wantM    float64
	}{
		{"grid", "057", GridNorth, "850 m", units.WholeDegrees, func(r leg.Reading) units.Angle { return r.Grid.Angle() }, 57, 850},
		{"magnetic", "212.5", MagneticNorth, "1.2 km", units.WholeDegrees, func(r leg.Reading) units.Angle { return r.Magnetic.Angle() }, 212.5, 1200},
		{"true", "0", TrueNorth, "40 km", units.WholeDegrees, func(r leg.Reading) units.Angle { return r.True.Angle() }, 0, 40_000},
		{"mils", "1600", GridNorth, "300", units.Mils6400, func(r leg.Reading) units.Angle { return r.Grid.Angle() }, 90, 300},
	} {
		s, _, _ := bench(t)
		party := s.Plan().Party
		party.Compass.Circle = c.circle
		must(t, s.SetParty(party))
		id, err := s.LegFromTyped(endAt(t, s, 1000, 1000), c.bearing, c.north, c.distance)
		must(t, err)
		r := s.Rows()[0].Reading
		if off := (c.of(r) - units.Degrees(c.wantDeg)).Signed().Deg(); math.Abs(off) > 1e-9 {
			t.Errorf("%s: bearing is %g° off", c.name, off)
		}
		if math.Abs(r.GroundM/c.wantM-1) > 1e-9 {
			t.Errorf("%s: ground distance %v m, want %v", c.name, r.GroundM, c.wantM)
		}
		if l, _ := s.Plan().LegByID(id); l.To.Position.Origin != plan.Typed || l.To.Position.SigmaM <= 0 {
			t.Errorf("%s: far end %+v", c.name, l.To.Position)
		}
	}
}

func TestTypedLegsThatCannotBe(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	from := endAt(t, s, 1000, 1000)
	for _, c := range []struct {
		name, bearing, distance, date string
		north                         North
		want                          string
	}{
		{"no bearing", "", "100", "", GridNorth, "bearing"},
		{"361", "361", "100", "", GridNorth, "0 to 360"},
		{"NaN", "NaN", "100", "", GridNorth, "not understood"},
		{"no distance", "10", "", "", GridNorth, "length"},
		{"nothing", "10", "0", "", GridNorth, "too short"},
		{"beyond the model", "10", "100", "2035-01-01", MagneticNorth, "model"},
	} {
		if c.date != "" {
			must(t, s.SetDate(c.date))
		}
		_, err := s.LegFromTyped(from, c.bearing, c.north, c.distance)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want a sentence with %q", c.name, err, c.want)
		}
	}
	if len(s.Plan().Legs) != 0 {
		t.Error("a refused leg was kept")
	}
}

func TestEditingARowMovesTheDrawing(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	hut := mark(t, s, "Hut", 1500, 300)
	one, err := s.KeepLeg(endAt(t, s, 500, 500), endAt(t, s, 900, 700))
	must(t, err)
	_, err = s.KeepLeg(endAt(t, s, 900, 700), endAt(t, s, 1300, 1300))
	must(t, err)
	before := s.Rows()[0].Reading
	must(t, s.SetLegField(one, FieldMagnetic, "100"))
	rows := s.Rows()
	if off := rows[0].Reading.Magnetic.Angle().Deg() - 100; math.Abs(off) > 1e-9 {
		t.Errorf("magnetic bearing is %g° off", off)
	}
	if math.Abs(rows[0].Reading.GroundM-before.GroundM) > 1e-6 {
		t.Errorf("the distance changed from %v to %v", before.GroundM, rows[0].Reading.GroundM)
	}
	if !rows[1].FromEnd.Same(rows[0].ToEnd) {
		t.Error("the next leg did not follow")
	}
	must(t, s.SetLegField(one, FieldDistance, "1.5 km"))
	if r := s.Rows()[0].Reading; math.Abs(r.GroundM-1500) > 1e-6 || math.Abs(r.Magnetic.Angle().Deg()-100) > 1e-3 {
		t.Errorf("after typing the distance: %v m on %v°", r.GroundM, r.Magnetic.Angle().Deg())
	}
	must(t, s.SetLegField(one, FieldTo, "hut"))
	if l, _ := s.Plan().LegByID(one); l.To.Mark != hut {
		t.Errorf("the leg ends at %+v, want the hut", l.To)
	}
	must(t, s.SetLegField(one, FieldFrom, "NL 5300 9750"))
	if l, _ := s.Plan().LegByID(one); l.From.Position.Grid != (geodesy.Grid{E: 53_005, N: 797_505}) || math.Abs(l.From.Position.SigmaM-10/math.Sqrt(12)) > 1e-9 {
		t.Errorf("typed start at %+v, want the centre of its square of 10 m", l.From.Position)
	}
	for field, text := range map[Field]string{FieldName: " down  to the hut ", FieldTickOff: "wall", FieldCatching: "the ground rises", FieldNote: "a\r\nb"} {
		must(t, s.SetLegField(one, field, text))
	}
	if l, _ := s.Plan().LegByID(one); l.Name != "down to the hut" || l.TickOff != "wall" || l.Catching != "the ground rises" || l.Note != "a\nb" {
		t.Errorf("texts: %+v", l)
	}
	for _, bad := range []struct {
		id    plan.ID
		field Field
		text  string
	}{{one, FieldTo, "NL 12 3"}, {one, FieldGrid, "400"}, {one, "colour", "red"}, {"leg-9", FieldName, "x"}, {one, FieldName, strings.Repeat("x", 500)}} {
		now := s.Plan()
		if err := s.SetLegField(bad.id, bad.field, bad.text); err == nil || s.Plan() != now {
			t.Errorf("%s %q: %v, want a refusal that changes nothing", bad.field, bad.text, err)
		}
	}
}

func TestDragOfAMark(t *testing.T) {
	t.Parallel()
	s, _, d := bench(t)
	id := mark(t, s, "Cairn", 600, 600)
	_, err := s.KeepLeg(endAt(t, s, 600, 600), endAt(t, s, 900, 600))
	must(t, err)
	written := len(d.steps)
	drag := func(col float64) {
		pos, err := s.PositionAt(at(col, 600), 0.5)
		must(t, err)
		must(t, s.MovePoint(id, 0, plan.AtPosition(pos)))
	}
	s.BeginDrag()
	for i := range 30 {
		drag(601 + float64(i))
	}
	if len(d.steps) != written {
		t.Errorf("the journal grew by %d lines during a drag", len(d.steps)-written)
	}
	s.EndDrag()
	if len(d.steps) != written+1 || d.steps[written] != "move mark" {
		t.Errorf("journal after the drag: %v", d.steps[written:])
	}
	if got := s.Rows()[0].Reading.GridM; math.Abs(got-270*5) > 1e-6 {
		t.Errorf("the leg is %v m long, want 1350: it did not follow its mark", got)
	}
	s.Undo()
	if got := s.Rows()[0].Reading.GridM; math.Abs(got-1500) > 1e-6 {
		t.Errorf("after one undo the leg is %v m long, want 1500", got)
	}
	now := s.Plan()
	s.BeginDrag()
	drag(700)
	drag(800)
	s.CancelDrag()
	if s.Plan() != now || s.RedoName() != "" {
		t.Error("a cancelled drag left something behind")
	}
}

func TestSnapping(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	cairn := mark(t, s, "Cairn", 600, 600)
	_, err := s.KeepLeg(endAt(t, s, 600, 600), endAt(t, s, 620, 600))
	must(t, err)
	for _, c := range []struct {
		name   string
		col    float64
		radius float64
		mark   plan.ID
		ok     bool
	}{
		{"mark wins over the leg's end on it", 601, 8, cairn, true},
		{"nearest", 612, 20, "", true},
		{"too far", 640, 8, "", false},
		{"at the radius", 628, 8, "", true},
	} {
		e, ok := s.Snap(at(c.col, 600), c.radius)
		if ok != c.ok || e.Mark != c.mark {
			t.Errorf("%s: %+v, %v", c.name, e, ok)
		}
	}
	if _, ok := New(nil, nil, today).Snap(at(1, 1), 100); ok {
		t.Error("snapped on an empty bench")
	}
}

func TestLiveLeavesThePlanAlone(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	mark(t, s, "Cairn", 600, 600)
	now := s.Plan()
	r, err := s.Live(at(602, 601), at(1000, 900), Aim{PickSigmaPx: 0.5, SnapRadiusPx: 8})
	must(t, err)
	if math.Abs(r.GridM-2500) > 1e-6 {
		t.Errorf("live reading %v m, want 2500 from the cairn", r.GridM)
	}
	if _, err := s.Live(at(602, 601), at(598, 601), Aim{SnapRadiusPx: 8}); !errors.Is(err, leg.ErrNoBearing) {
		t.Errorf("both ends on the cairn: %v, want ErrNoBearing", err)
	}
	if _, err := New(nil, nil, today).Live(at(1, 1), at(2, 2), Aim{}); !errors.Is(err, plan.ErrUncalibrated) {
		t.Errorf("without a sheet: %v, want ErrUncalibrated", err)
	}
	if s.Plan() != now {
		t.Error("a live reading changed the plan")
	}
}

func TestNames(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	a := mark(t, s, "", 100, 100)
	b := mark(t, s, " Hut ", 200, 200)
	if m, _ := s.Plan().MarkByID(a); m.Name != "A" {
		t.Errorf("unnamed mark is called %q, want A", m.Name)
	}
	var refused *Refused
	if err := s.Rename(a, "hut"); !errors.As(err, &refused) {
		t.Errorf("a name that is taken: %v", err)
	}
	if err := s.Rename(a, "  "); !errors.As(err, &refused) {
		t.Errorf("no name: %v", err)
	}
	must(t, s.Rename(b, "HUT"))
	var none *NotFound
	if err := s.Rename("mark-9", "x"); !errors.As(err, &none) {
		t.Errorf("no such mark: %v", err)
	}
}
