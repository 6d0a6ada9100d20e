package plan

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// A plan file of before does not say which sheet supplied letters: one that may
// have been is named, and one that is not proved before others.
func TestHoldLetters(t *testing.T) {
	t.Parallel()
	at := func(text string, squareM float64, lender ID) Position {
		return Position{Grid: geodesy.Grid{E: 54_250, N: 795_150}, Code: geodesy.EPSG(27700), Origin: Typed, Text: text, SquareM: squareM, LettersOf: lender}
	}
	proved, unproved := pillared(t, "one"), pillared(t, "two")
	unproved.Proof = calib.Proof{}
	for _, tc := range []struct {
		name   string
		sheets []Sheet
		pos    Position
		want   ID
	}{
		{"figures alone", []Sheet{unproved}, at("542 951", 100, ""), "two"},
		{"five figures each", []Sheet{unproved}, at("54250 95150", 1, ""), "two"},
		{"figures alone on a proved sheet", []Sheet{proved}, at("542 951", 100, ""), "one"},
		{"one of two sheets is not proved", []Sheet{proved, unproved}, at("542 951", 100, ""), "two"},
		{"no sheet", nil, at("542 951", 100, ""), unknownSheet},
		{"it says so itself", []Sheet{unproved}, at("542 951", 100, "gone"), "gone"},
		{"letters", []Sheet{unproved}, at("NL 542 951", 100, ""), ""},
		{"easting and northing", []Sheet{unproved}, at("54250 795150", 0, ""), ""},
		{"a bearing and a distance", []Sheet{unproved}, at("057 grid, 850 m", 0, ""), ""},
		{"latitude and longitude", []Sheet{unproved}, at("56.9N 7.7W", 0, ""), ""},
	} {
		p := &Plan{Sheets: tc.sheets, Marks: []Mark{{ID: "mark-1", Name: "A", Position: tc.pos}}}
		got := p.HoldLetters()
		if got.Marks[0].Position.LettersOf != tc.want || (tc.want == tc.pos.LettersOf) != (got == p) {
			t.Errorf("%s: letters of %q, want %q", tc.name, got.Marks[0].Position.LettersOf, tc.want)
		}
	}
}

// A proof by a reference without its letters proves nothing: the sheet supplied
// them itself.
func TestLentLettersProveNothing(t *testing.T) {
	t.Parallel()
	s := pillared(t, "one")
	for text, holds := range map[string]bool{"NL 5526 9813": true, "55260 798130": true, "5526 9813": false, "55260 98130": false} {
		s.Proof.By[0].Text = text
		p := &Plan{Sheets: []Sheet{s}}
		got := p.HoldProofs()
		if got.Sheets[0].Proof.Proved() != holds || holds == strings.Contains(strings.Join(got.Mended, ""), "without its letters") {
			t.Errorf("%q: proof %+v, told %q, want it to hold: %v", text, got.Sheets[0].Proof, got.Mended, holds)
		}
	}
}

func TestNextSheetIDSparesLenders(t *testing.T) {
	t.Parallel()
	p := New(Date{}).AddMark(Mark{ID: "mark-1", Name: "A", Position: Position{Origin: Typed, LettersOf: "sheet-7"}})
	if got := p.NextSheetID(); got != "sheet-8" {
		t.Errorf("got %s, want sheet-8: a mark still remembers sheet-7", got)
	}
}
