package ui

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
	"legwright/app/ui/opening"
	"legwright/app/ui/widgets"
	"legwright/mapio/scan"
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
	until(t, "the end of the opening", func() bool { return whole(b) })
	first := plan.Page{Number: 1, DPI: 200}
	if sheetPage(b) != first || b.pictures.shown.Page != first {
		t.Fatalf("sheet %+v, shown %+v, want %+v", sheetPage(b), b.pictures.shown.Page, first)
	}
	sheet, _ := b.s.Plan().Sheet()
	if sheet.World == nil || sheet.Code != "EPSG:32632" || b.s.Verdict().Checked || sheet.DPI != 200 {
		t.Errorf("got %+v, want calibrated by the file, on EPSG:32632, unchecked", sheet)
	}
	if !b.dialogOpen() {
		t.Error("the bench does not ask for the page")
	}
	typePage(t, b, "2", "100")
	second := plan.Page{Number: 2, DPI: 100}
	until(t, "the second page", func() bool { return b.pictures.shown.Page == second && !b.openingPicture() })
	if s, _ := b.s.Plan().Sheet(); s.Page != second || s.World != nil || s.Width != 200 {
		t.Errorf("got %+v, want the second page, uncalibrated", s)
	}
	b.undo()
	if sheetPage(b) != first {
		t.Fatalf("undo leads to %+v: %s", sheetPage(b), b.foot.Message())
	}
	until(t, "the first page again", func() bool { return b.pictures.shown.Page == first && b.desk.Pyramid() != nil && !b.openingPicture() })
	if size := b.desk.Pyramid().Size(); size.X != 800 || size.Y != 600 {
		t.Errorf("shown is %v, want 800 × 600", size)
	}
}

// typePage types a page and a resolution into the page dialog, and submits them.
func typePage(t *testing.T, b *Bench, number, dpi string) {
	t.Helper()
	if !b.dialogOpen() {
		b.askPage()
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

// What was typed for a page or a resolution is refused in a sentence.
func TestPageIsRefused(t *testing.T) {
	t.Parallel()
	p := &opening.Picture{Page: plan.Page{Number: 1, DPI: 200}, Header: scan.Header{Page: 1, Pages: 2, PageDPI: 200}}
	for _, c := range []struct {
		number, dpi string
		want        plan.Page // zero: refused
	}{
		{"3", "200", plan.Page{}},
		{"0", "200", plan.Page{}},
		{"one", "200", plan.Page{}},
		{"1", "5", plan.Page{}},
		{"1", "99999", plan.Page{}},
		{"1", "NaN", plan.Page{}},
		{"2", "150", plan.Page{Number: 2, DPI: 150}},
		{"2", "", plan.Page{Number: 2}},
		{" 2 ", "133,5", plan.Page{Number: 2, DPI: 133.5}},
	} {
		got, fault, err := typedPage(p, c.number, c.dpi)
		if refused := c.want == (plan.Page{}); refused != (err != nil) || refused != (fault != "") || !refused && got != c.want {
			t.Errorf("page %q at %q: got %+v, %q, %v, want %+v", c.number, c.dpi, got, fault, err, c.want)
		}
	}
}

// A TIFF of two pages opens at its first, asks for the page without a
// resolution, and its second page is a sheet of its own that the store knows.
func TestPagesOfATIFF(t *testing.T) {
	dir := t.TempDir()
	path, err := filepath.Abs("testdata/two-pages.tif")
	if err != nil {
		t.Fatal(err)
	}
	b := stored(t, dir)
	b.desk.Open(path)
	until(t, "the end of the opening", func() bool { return whole(b) })
	first, second := plan.Page{Number: 1}, plan.Page{Number: 2}
	if sheetPage(b) != first || !b.dialogOpen() {
		t.Fatalf("sheet %+v, asked %v, want the first page and the question", sheetPage(b), b.dialogOpen())
	}
	asked := b.window.Canvas().Focused()
	answerWith := func(r rune) {
		b.window.Canvas().Focused().TypedRune(r) // in place of the number that stands there
		b.window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	answerWith('7')
	if b.openingPicture() || sheetPage(b) != first || b.window.Canvas().Focused() == asked {
		t.Fatal("page 7 of 2 was not refused")
	}
	b.dialogs.Escape() // the refusal: the question is there again
	if !b.dialogOpen() {
		t.Fatal("after a refusal the question is gone")
	}
	answerWith('2')
	until(t, "the second page", func() bool { return b.pictures.shown.Page == second && !b.openingPicture() })
	if size := b.desk.Pyramid().Size(); size.X != 50 || size.Y != 70 || sheetPage(b) != second {
		t.Errorf("shown is %v as %+v, want the second page", size, sheetPage(b))
	}
}
