package ui

import (
	"strings"
	"testing"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/canvas/tool"
)

// A sheet that was calibrated by grid references is led to the latitude and
// longitude of its margin, which check it.
func TestMarginCheckIsOffered(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 50, "23000 743500")
	point(b, 100, 50, "21000 743500")
	if hint := b.sheetP.hint.Text(); !strings.Contains(hint, "latitude and longitude") {
		t.Fatalf("hint %q, want it to lead to the margin", hint)
	}
	c, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	sys := b.s.Reader().System()
	ll, _, err := sys.ToWGS84(c.ToGrid(calib.PicturePt{Col: 150, Row: 120}))
	if err != nil {
		t.Fatal(err)
	}
	clickAt(b, picAt(150, 120))
	b.sheetP.ref.SetText(geodesy.FormatLatLon(ll))
	b.sheetP.addEvidence()
	if sheet := b.sheetNow(); len(sheet.Evidence) != 1 || sheet.Evidence[0].Source != calib.FromMargin {
		t.Errorf("evidence %+v, said %q", sheet.Evidence, b.foot.Message())
	}
	if !strings.Contains(b.sheetP.hint.Text(), "checked") || !strings.Contains(said(b), "latitude and longitude") {
		t.Errorf("hint %q, check %q", b.sheetP.hint.Text(), said(b))
	}
}

// After a printed grid was taken the corner of the map is a control point. A
// click there chooses it, and its latitude and longitude check the sheet.
func TestMarginCheckAtAControlPoint(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 50, "23000 743500")
	point(b, 50, 50, "20500 743500")
	sheet := b.sheetNow()
	before := len(sheet.Points)
	at := sheet.Points[before-1]
	b.sheetP.clicked(tool.Spot{At: sheetview.ViewPt(at.At), Target: tool.Target{Part: tool.Control, Index: before - 1}})
	if hint := b.sheetP.hint.Text(); !strings.Contains(hint, "printed here can check") || !b.sheetP.evidence.use.Visible() {
		t.Fatalf("hint %q, check offered %t", hint, b.sheetP.evidence.use.Visible())
	}
	b.window.Resize(fyne.NewSize(853, 496))
	b.refreshAll()
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	view := b.panel.layout.inner
	if end, seen := place(b.sheetP.evidence.use).Y+b.sheetP.evidence.use.Size().Height, place(view).Y+view.Size().Height; end > seen {
		t.Errorf("in a low window the acts end at %v, what is seen at %v", end, seen)
	}
	b.sheetP.addEvidence() // by its own reference
	if len(b.sheetNow().Evidence) > 0 || !strings.Contains(b.sheetP.check.Text(), "where the reference comes from") {
		t.Errorf("by its own reference: %+v, %q", b.sheetNow().Evidence, b.sheetP.check.Text())
	}
	ll, _, err := b.s.Reader().System().ToWGS84(at.Ref)
	if err != nil {
		t.Fatal(err)
	}
	b.sheetP.ref.SetText(geodesy.FormatLatLon(ll))
	b.sheetP.addEvidence()
	if sheet := b.sheetNow(); len(sheet.Evidence) != 1 || len(sheet.Points) != before || !b.s.Verdict().Checked {
		t.Errorf("evidence %+v with %d points, said %q", sheet.Evidence, len(sheet.Points), b.foot.Message())
	}
}
