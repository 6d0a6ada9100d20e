package ui

import (
	"testing"

	"legwright/app/calib"
)

// The fits for photographs are offered from four points on, and those that were
// tried are listed with the reason. One that a person chooses is marked.
func TestBentFitsAreOffered(t *testing.T) {
	b := calibrated(t)
	if b.sheetP.bends.Visible() {
		t.Errorf("offered with %d points", points(b))
	}
	point(b, 300, 50, "23000 743500")
	point(b, 100, 52, "21000 743500")
	if !b.sheetP.bends.Visible() || len(b.sheetP.knows.shown) < 2 {
		t.Fatalf("with %d points: shown %v, fits tried %v (%s)", points(b), b.sheetP.bends.Visible(), b.sheetP.knows.shown, b.footNow.Message)
	}
	b.sheetP.bend.OnChosen(0)
	if sheet := b.s.Plan().Sheets[0]; sheet.Fit != calib.Perspective {
		t.Errorf("got fit %v, want perspective", sheet.Fit)
	}
	for _, trial := range b.sheetP.knows.shown {
		if trial.Chosen != (trial.Kind == calib.Perspective) || len(b.sheetP.knows.shown) < 3 {
			t.Errorf("overruled: the list is %+v", b.sheetP.knows.shown)
			break
		}
	}
	if got := b.sheetP.bend.Chosen(); got != 0 || b.sheetP.fit.Chosen() != -1 {
		t.Errorf("chosen %d and %d, want 0 and -1", got, b.sheetP.fit.Chosen())
	}
}
