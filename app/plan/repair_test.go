package plan

import (
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// Picked positions of a file lie where their sheet has their picture point; typed
// ones and those of a sheet without a calibration stay.
func TestPickedPlacesOfAFileAreHeld(t *testing.T) {
	t.Parallel()
	s := pillared(t, "one")
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	at := PickedAt(s, c, calib.PicturePt{Col: 700, Row: 900}, 0.5)
	off := func(e float64) Position { p := at; p.Grid.E += e; return p }
	typed := off(1000)
	typed.Origin, typed.Sheet = Typed, ""
	lost := off(1000)
	lost.Sheet = "gone"
	for _, tc := range []struct {
		name string
		pos  Position
		want float64 // metres east of where the sheet has it
		told bool
	}{
		{"where it is", at, 0, false},
		{"a hair beside it", off(0.3), 0.3, false},
		{"a square beside it", off(1000), 0, true},
		{"typed", typed, 1000, false},
		{"its sheet is gone", lost, 1000, false},
	} {
		m := Mark{ID: "m", Name: "Cairn", Position: tc.pos}
		p := New(Date{2026, 11, 28}).SetSheet(s).AddMark(m).AddLeg(Leg{ID: "l", From: AtMark(m), To: AtPosition(tc.pos)})
		q := p.RepairPositions()
		if (q != p) != tc.told || (len(q.Mended) == 1) != tc.told {
			t.Errorf("%s: told %q, want told %v", tc.name, q.Mended, tc.told)
		}
		for _, got := range []Position{q.Marks[0].Position, q.Legs[0].From.Position, q.Legs[0].To.Position} {
			if math.Abs(got.Grid.E-at.Grid.E-tc.want) > 1e-6 {
				t.Errorf("%s: %v m east, want %v", tc.name, got.Grid.E-at.Grid.E, tc.want)
			}
		}
	}
}

// A position typed as a bearing and a distance cannot move along with the sheet it
// depends on: it is cut off and names a sheet that does not exist, and that no
// file can supply, because the name is free. Elsewhere it keeps its sheet.
func TestTypedPositionsAreCutOffFromAMovedSheet(t *testing.T) {
	t.Parallel()
	s := pillared(t, "one")
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	at := PickedAt(s, c, calib.PicturePt{Col: 700, Row: 900}, 0.5)
	derived := Position{Grid: at.Grid, Code: at.Code, Origin: Typed, Text: "057 grid, 850 m", Sheet: "one"}
	derived.Grid.E += 850
	for _, tc := range []struct {
		offM float64
		want ID
		told bool
	}{{0, "one", false}, {1000, "sheet-1", true}} {
		from := at
		from.Grid.E += tc.offM
		p := New(Date{2026, 11, 28}).SetSheet(s).AddLeg(Leg{ID: "l", From: AtPosition(from), To: AtPosition(derived)})
		q := p.RepairPositions()
		got := q.Legs[0].To.Position
		if next := q.NextSheetID(); next == got.Sheet {
			t.Errorf("the next sheet would be called %s", next)
		}
		if got.Sheet != tc.want || got.Grid != derived.Grid || strings.Contains(strings.Join(q.Mended, ""), "bearing and a distance") != tc.told {
			t.Errorf("%v m off: depends on %q at %v, told %q; want %q", tc.offM, got.Sheet, got.Grid, q.Mended, tc.want)
		}
	}
}

func intersection(col, row, e, n float64) calib.ControlPoint {
	return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: e, N: n}}
}

// pillared is a sheet at 5 m a pixel, north up, with its top left corner at
// E 50 000, N 800 000.
func pillared(t *testing.T, id ID) Sheet {
	t.Helper()
	return Sheet{ID: id, Picture: string(id) + ".png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700), Points: []calib.ControlPoint{
		intersection(200, 200, 51_000, 799_000), intersection(1800, 1800, 59_000, 791_000), intersection(200, 1800, 51_000, 791_000),
	}}
}
