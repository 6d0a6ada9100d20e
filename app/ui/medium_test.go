package ui

import (
	"testing"

	"legwright/app/calib"
)

// How the picture was made is chosen at the Sheet panel, and is one step of undo.
func TestMediumIsChosen(t *testing.T) {
	b := calibrated(t)
	if got := b.sheetP.medium.Chosen(); got != 0 {
		t.Errorf("at first: choice %d, want scan", got)
	}
	b.sheetP.medium.OnChosen(2)
	if sheet := b.s.Plan().Sheets[0]; sheet.Medium != calib.Drawn || b.sheetP.medium.Chosen() != 2 {
		t.Errorf("got %s, choice %d, want drawn", sheet.Medium, b.sheetP.medium.Chosen())
	}
	b.undo()
	if sheet := b.s.Plan().Sheets[0]; sheet.Medium != calib.Scan {
		t.Errorf("after undo: %s, want scan", sheet.Medium)
	}
}
