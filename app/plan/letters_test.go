package plan

import (
	"strings"
	"testing"
)

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
