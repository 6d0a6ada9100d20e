package planfile

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// The file names the sheet that supplied the letters of a reference.
func TestLettersOfASheetInTheFile(t *testing.T) {
	t.Parallel()
	stile := plan.Position{Grid: geodesy.Grid{E: 54_650, N: 795_450}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "546 954", SquareM: 100, LettersFrom: "sheet-1", SigmaM: 28.9}
	p := isle()
	p = p.AddMark(plan.Mark{ID: "mark-3", Name: "Stile", Position: stile}).
		AddLeg(plan.Leg{ID: "leg-3", From: plan.AtPosition(stile), To: plan.AtMark(p.Marks[1])})
	written := text(t, p)
	const key = `"letters_from_sheet": "sheet-1"`
	if n := strings.Count(written, key); n != 2 || strings.Contains(text(t, isle()), "letters_from_sheet") {
		t.Fatalf("the key stands there %d times, want 2, and never where letters were typed", n)
	}
	q, err := Decode(strings.NewReader(written))
	if err != nil {
		t.Fatal(err)
	}
	if got := []plan.Position{q.Marks[2].Position, q.Legs[2].From.Position}; got[0] != stile || got[1] != stile || q.Marks[1].Position.LettersFrom != "" {
		t.Errorf("read back %+v, want %+v", got, stile)
	}
}

// A plan that does not name the sheet gets the caution all the same, and only
// where the letters were not typed.
func TestLettersThatNoSheetAccountsFor(t *testing.T) {
	t.Parallel()
	bare := plan.Position{Grid: geodesy.Grid{E: 54_650, N: 795_450}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "546 954", SquareM: 100, SigmaM: 28.9}
	whole := bare
	whole.Text = "NL 546 954"
	p := isle().AddMark(plan.Mark{ID: "mark-3", Name: "Stile", Position: bare}).AddMark(plan.Mark{ID: "mark-4", Name: "Ford", Position: whole})
	q, err := Decode(strings.NewReader(text(t, p)))
	if err != nil {
		t.Fatal(err)
	}
	if got := q.Marks[2].Position.Cautions; got != string(caution.LettersAstray) {
		t.Errorf("without letters: cautions %q, want %q", got, caution.LettersAstray)
	}
	if got := q.Marks[3].Position; got != whole {
		t.Errorf("with letters: read back %+v, want %+v", got, whole)
	}
}
