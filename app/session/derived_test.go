package session

import (
	"math"
	"testing"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
)

// A chain of typed bearings depends on the position where it began: each leg has the
// cautions of that position, and a calibration by another square moves the whole chain.
func TestTypedLegsFollowTheirSheet(t *testing.T) {
	t.Parallel()
	s, m, _ := bench(t)
	_, err := s.LegFromTyped(endAt(t, s, 1000, 1000), "057", GridNorth, "850 m")
	must(t, err)
	_, err = s.LegFromTyped(s.Plan().Legs[0].To, "120", GridNorth, "400 m")
	must(t, err)
	_, err = s.KeepSight(s.Plan().Legs[1].To, typedAt(t, s, "214000 771000"))
	must(t, err)
	check := func(when string, code caution.Code) {
		t.Helper()
		for i, r := range append(s.Rows(), s.Reader().Sights()...) {
			if r.Err != nil || !r.Reading.Has(code) {
				t.Errorf("%s: reading %d has %v, error %v, want %s", when, i+1, r.Reading.Cautions, r.Err, code)
			}
		}
	}
	check("unchecked", caution.Unchecked)
	x, err := leg.Export(s.Plan(), nil)
	must(t, err)
	if len(x.Cautions) == 0 {
		t.Error("the file as a whole says nothing of the sheet")
	}

	must(t, s.SaveAs("/chain"))
	other := New(m, nil, today)
	must(t, other.Open("/chain"))
	if got := other.Plan().Legs[1].From.Position; got != s.Plan().Legs[1].From.Position {
		t.Errorf("saved and opened: %+v, want %+v", got, s.Plan().Legs[1].From.Position)
	}

	before, sheet := s.Plan().Legs[1].To.Position.Grid, mustSheet(t, s)
	for i := range sheet.Points {
		p := sheet.Points[i]
		p.Ref.E += 1000
		sheet = sheet.SetPoint(i, p)
	}
	must(t, s.do("move", "", s.Plan().SetSheet(sheet)))
	if got := s.Plan().Legs[1].To.Position.Grid; math.Hypot(got.E-before.E-1000, got.N-before.N) > 1e-6 {
		t.Errorf("a square farther east the chain ends at %v, want 1000 m east of %v", got, before)
	}
	s.Undo()
	if got := s.Plan().Legs[1].To.Position.Grid; got != before {
		t.Errorf("undone, the chain ends at %v, want %v", got, before)
	}

	must(t, s.RemoveSheet(sheet.ID))
	check("without its sheet", caution.SheetGone)
}

func mustSheet(t *testing.T, s *Session) plan.Sheet {
	t.Helper()
	sheet, ok := s.Sheet()
	if !ok {
		t.Fatal("no sheet")
	}
	return sheet
}

func typedAt(t *testing.T, s *Session, text string) plan.End {
	t.Helper()
	e, err := s.ParseEnd(text)
	must(t, err)
	return e
}

// An end that keeps the bearing or the distance of an earlier reading rests on
// what that was read off: it is marked as that is, and no more exact, however
// often it is typed.
func TestKeptFiguresRestOnTheirSheet(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		field Field
		text  string
	}{{FieldDistance, "400 m"}, {FieldGrid, "57"}, {FieldMagnetic, "57"}, {FieldTrue, "57"}} {
		s, _, _ := bench(t)
		id, err := s.KeepLeg(typedAt(t, s, "54000 795000"), endAt(t, s, 1000, 1000))
		must(t, err)
		before := s.Rows()[0].Reading
		for range 2 {
			must(t, s.SetLegField(id, tc.field, tc.text))
			r := s.Rows()[0].Reading
			if !r.Has(caution.Unchecked) {
				t.Errorf("%s typed: cautions %+v, want the sheet unchecked", tc.field, r.Cautions)
			}
			want := before.ToSigmaM * r.GroundM / before.GroundM
			if tc.field != FieldDistance { // half a degree of the typed bearing, and the distance as it was read
				want = math.Hypot(before.ToSigmaM, r.GroundM*math.Pi/180/sqrt12)
			}
			if math.Abs(r.ToSigmaM/want-1) > 0.01 && !(tc.field != FieldDistance && r.ToSigmaM > want) {
				t.Errorf("%s typed: σ of the end %.3f m, want %.3f m", tc.field, r.ToSigmaM, want)
			}
		}
	}
}
