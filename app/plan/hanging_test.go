package plan

import (
	"testing"

	"legwright/app/calib"
)

// A far end typed as a bearing or distance from a picked one is as wrong as that
// one's sheet, though the file names no sheet for it; so is what was typed on from
// there. References and ends typed from typed places owe a sheet nothing.
func TestTypedFarEndsHangOnTheSheet(t *testing.T) {
	t.Parallel()
	s := pillared(t, "one")
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	picked := PickedAt(s, c, calib.PicturePt{Col: 700, Row: 900}, 0.5)
	typed := func(text string, onM float64) Position {
		p := Position{Grid: picked.Grid, Code: picked.Code, Origin: Typed, Text: text}
		p.Grid.E += onM
		return p
	}
	reference := typed("NL 5526 9813", 9000)
	for _, tc := range []struct {
		text string
		from Position
		want ID
	}{
		{"057 grid, 850 m", picked, "one"},
		{"057.5 mag, 850 m", picked, "one"},
		{"3200 true, 0.8 km", picked, "one"},
		{"57 magnetic", picked, "one"},
		{"850 m", picked, "one"},
		{"850", picked, "one"},
		{"057 grid, 850 m", reference, ""},
		{"NL 5526 9813", picked, ""},
		{"55260 798130", picked, ""},
		{"", picked, ""},
		{"the grid", picked, ""},
	} {
		first, second := typed(tc.text, 850), typed("120 grid, 300 m", 1150)
		p := New(Date{2026, 11, 28}).SetSheet(s).
			AddLeg(Leg{ID: "a", From: AtPosition(tc.from), To: AtPosition(first)}).
			AddLeg(Leg{ID: "b", From: AtPosition(first), To: AtPosition(second)}).HangTyped()
		if got := p.Legs[0].To.Position.Sheet; got != tc.want {
			t.Errorf("%q from %v: stands on %q, want %q", tc.text, tc.from.Origin, got, tc.want)
		}
		if from, to := p.Legs[1].From.Position.Sheet, p.Legs[1].To.Position.Sheet; from != tc.want || to != tc.want {
			t.Errorf("%q, then on: stands on %q and %q, want %q", tc.text, from, to, tc.want)
		}
	}
}
