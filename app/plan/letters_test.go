package plan

import "testing"

func TestNextSheetIDSparesLenders(t *testing.T) {
	t.Parallel()
	p := New(Date{}).AddMark(Mark{ID: "mark-1", Name: "A", Position: Position{Origin: Typed, LettersFrom: "sheet-7"}})
	if got := p.NextSheetID(); got != "sheet-8" {
		t.Errorf("got %s, want sheet-8: a mark still remembers sheet-7", got)
	}
}
