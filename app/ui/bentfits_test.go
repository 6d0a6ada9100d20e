package ui

import (
	"strings"
	"testing"

	"legwright/app/calib"
)

// The fits for photographs are offered from four points on, and say why the
// best one is what it is.
func TestBentFitsAreOffered(t *testing.T) {
	b := calibrated(t)
	if b.sheetP.bends.Visible() {
		t.Errorf("offered with %d points", points(b))
	}
	point(b, 300, 50, "23000 743500")
	point(b, 100, 52, "21000 743500")
	if !b.sheetP.bends.Visible() || !strings.Contains(b.sheetP.why.Text(), "Best is ") {
		t.Fatalf("with %d points: shown %v, why %q (%s)", points(b), b.sheetP.bends.Visible(), b.sheetP.why.Text(), b.footNow.Message)
	}
	b.sheetP.bend.OnChosen(0)
	if sheet := b.s.Plan().Sheets[0]; sheet.Fit != calib.Perspective {
		t.Errorf("got fit %v, want perspective", sheet.Fit)
	}
	if got := b.sheetP.bend.Chosen(); got != 0 || b.sheetP.fit.Chosen() != -1 {
		t.Errorf("chosen %d and %d, want 0 and -1", got, b.sheetP.fit.Chosen())
	}
}
