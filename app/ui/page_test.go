package ui

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
	"legwright/app/ui/widgets"
)

// twoPages is a document made for the test: a drawing of invented ground that
// says where it lies, and a picture of 100 × 40 pixels that does not.
func twoPages(t *testing.T) string {
	t.Helper()
	path, err := filepath.Abs("testdata/two-pages.pdf")
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func sheetPage(b *Bench) plan.Page {
	s, _ := b.s.Plan().Sheet()
	return s.Page
}

// A document opens at its first page, calibrated by what it says of itself and
// unchecked; the bench asks for the page, another one is another sheet, and
// undo brings the first one back as it was drawn.
func TestPagesOfADocument(t *testing.T) {
	b := stored(t, t.TempDir())
	b.desk.Open(twoPages(t))
	until(t, b, "the end of the opening", func() bool { return whole(b) })
	first := plan.Page{Number: 1, DPI: 200}
	if sheetPage(b) != first || b.pictures.shown.Page != first {
		t.Fatalf("sheet %+v, shown %+v, want %+v", sheetPage(b), b.pictures.shown.Page, first)
	}
	sheet, _ := b.s.Plan().Sheet()
	if sheet.World == nil || sheet.Code != "EPSG:32632" || b.s.Verdict().Checked || sheet.DPI != 200 {
		t.Errorf("got %+v, want calibrated by the file, on EPSG:32632, unchecked", sheet)
	}
	if !b.dialogs.Waiting() {
		t.Error("the bench does not ask for the page")
	}
	typePage(t, b, "2", "100")
	second := plan.Page{Number: 2, DPI: 100}
	until(t, b, "the second page", func() bool { return b.pictures.shown.Page == second && !b.openingPicture() })
	if s, _ := b.s.Plan().Sheet(); s.Page != second || s.World != nil || s.Width != 200 {
		t.Errorf("got %+v, want the second page, uncalibrated", s)
	}
	b.undo()
	if sheetPage(b) != first {
		t.Fatalf("undo leads to %+v: %s", sheetPage(b), b.foot.Message())
	}
	until(t, b, "the first page again", func() bool { return b.pictures.shown.Page == first && b.desk.Pyramid() != nil && !b.openingPicture() })
	if size := b.desk.Pyramid().Size(); size.X != 800 || size.Y != 600 {
		t.Errorf("shown is %v, want 800 × 600", size)
	}
}

// typePage types a page and a resolution into the page dialog, and submits them.
func typePage(t *testing.T, b *Bench, number, dpi string) {
	t.Helper()
	if !b.dialogs.Waiting() {
		b.files.Pictures.ChoosePage()
	}
	var fields []*widgets.EscapeEntry
	for _, o := range test.LaidOutObjects(b.window.Canvas().Overlays().Top()) {
		if e, ok := o.(*widgets.EscapeEntry); ok {
			fields = append(fields, e)
		}
	}
	if len(fields) == 0 {
		t.Fatal("the page dialog is not open")
	}
	fields[0].SetText(number)
	if len(fields) > 1 {
		fields[1].SetText(dpi)
	}
	fields[0].OnSubmitted(number)
}
