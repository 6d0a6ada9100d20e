package sheettest

import (
	"testing"

	"legwright/app/plan"
	"legwright/app/ui/benchtest"
)

// A document opens at its first page, calibrated by what it says of itself and
// unchecked; the bench asks for the page, another one is another sheet, and
// undo brings the first one back as it was drawn.
func TestPagesOfADocument(t *testing.T) {
	b := benchtest.Stored(t, t.TempDir())
	b.Files.Drop(benchtest.TwoPages(t))
	b.Until("the end of the opening", func() bool { return b.Whole() })
	first := plan.Page{Number: 1, DPI: 200}
	if b.InHand().Page != first || b.Shown().Page != first {
		t.Fatalf("sheet %+v, shown %+v, want %+v", b.InHand().Page, b.Shown().Page, first)
	}
	sheet, _ := b.Plan().Sheet()
	if sheet.World == nil || sheet.Code != "EPSG:32632" || b.Session().Verdict().Checked || sheet.DPI != 200 {
		t.Errorf("got %+v, want calibrated by the file, on EPSG:32632, unchecked", sheet)
	}
	if !b.Asks() {
		t.Error("the bench does not ask for the page")
	}
	b.Files.TypePage("2", "100")
	second := plan.Page{Number: 2, DPI: 100}
	b.Until("the second page", func() bool { return b.Shown().Page == second && !b.Opening() })
	if s, _ := b.Plan().Sheet(); s.Page != second || s.World != nil || s.Width != 200 {
		t.Errorf("got %+v, want the second page, uncalibrated", s)
	}
	b.Undo()
	if b.InHand().Page != first {
		t.Fatalf("undo leads to %+v: %s", b.InHand().Page, b.Foot.Message())
	}
	b.Until("the first page again", func() bool { return b.Shown().Page == first && b.Shown().Pyramid != nil && !b.Opening() })
	if size := b.Shown().Pyramid.Size(); size.X != 800 || size.Y != 600 {
		t.Errorf("shown is %v, want 800 × 600", size)
	}
}
