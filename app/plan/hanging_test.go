package plan

import (
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// Ends of a file of before, which were typed as bearings and distances, rest on
// what they were typed from; a chain does to its end. What was moved since, and
// what is a reference, does not.
func TestHoldHanging(t *testing.T) {
	t.Parallel()
	s := pillared(t, "one")
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	picked := PickedAt(s, c, calib.PicturePt{Col: 700, Row: 900}, 0.5)
	end := func(from Position, de, dn float64, text string) Position {
		return Position{Grid: geodesy.Grid{E: from.Grid.E + de, N: from.Grid.N + dn}, Code: from.Code, Origin: Typed, Text: text}
	}
	clean := end(picked, 0, 0, "53500 795500")
	lent := clean
	lent.Text, lent.SquareM, lent.LettersOf = "535 955", 100, "one"
	for _, tc := range []struct {
		name          string
		from, to      Position
		sheet, lender ID
	}{
		{"a bearing and a distance", picked, end(picked, 850, 0, "090 grid, 850 m"), "one", ""},
		{"by the magnet", picked, end(picked, 0, 850, "003 mag, 0.85 km"), "one", ""},
		{"a distance alone", picked, end(picked, 300, 400, "500 m"), "one", ""},
		{"a bearing alone", picked, end(picked, 300, 0, "90 grid"), "one", ""},
		{"a bearing by the magnet alone", picked, end(picked, 300, 0, "87 magnetic"), "one", ""},
		{"from letters that were supplied", lent, end(lent, 850, 0, "090 grid, 850 m"), "", "one"},
		{"from a place that rests on nothing", clean, end(clean, 850, 0, "090 grid, 850 m"), "", ""},
		{"the start was moved since", picked, end(picked, 900, 0, "090 grid, 850 m"), "", ""},
		{"the start was moved, a bearing alone", picked, end(picked, 300, 20, "90 grid"), "", ""},
		{"easting and northing", picked, end(picked, 300, 400, "53800 795900"), "", ""},
		{"latitude and longitude", picked, end(picked, 300, 400, "56.9N 7.7W"), "", ""},
	} {
		on := end(tc.to, 0, 400, "000 grid, 400 m")
		p := New(Date{}).SetSheet(s).AddLeg(Leg{ID: "l1", From: AtPosition(tc.from), To: AtPosition(tc.to)}).
			AddLeg(Leg{ID: "l2", From: AtPosition(tc.to), To: AtPosition(on)}).AddSight(Sight{ID: "s", From: AtPosition(tc.to), To: AtPosition(clean)})
		q := p.HoldHanging()
		for i, got := range []Position{q.Legs[0].To.Position, q.Legs[1].From.Position, q.Legs[1].To.Position, q.Sights[0].From.Position} {
			if got.Sheet != tc.sheet || got.LettersOf != tc.lender {
				t.Errorf("%s, place %d: rests on %q and letters of %q, want %q and %q", tc.name, i+1, got.Sheet, got.LettersOf, tc.sheet, tc.lender)
			}
		}
		back := *p
		back.Legs = []Leg{p.Legs[1], p.Legs[0]} // the chain stands the other way round in the file
		if got := back.HoldHanging().Legs[0].To.Position; got.Sheet != tc.sheet || got.LettersOf != tc.lender {
			t.Errorf("%s, legs the other way round: rests on %q and letters of %q, want %q and %q", tc.name, got.Sheet, got.LettersOf, tc.sheet, tc.lender)
		}
		if again := q.HoldHanging(); again != q {
			t.Errorf("%s: once more it changes", tc.name)
		}
		if got := q.Sights[0].To.Position; got != clean || (tc.sheet == "" && tc.lender == "") != (q == p) {
			t.Errorf("%s: the end of the sight is %+v", tc.name, got)
		}
	}
}
