package ui

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
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
	b.openSheet(twoPages(t))
	until(t, "the end of the opening", func() bool { return b.picture.pyramid != nil && b.picture.now == nil })
	first := plan.Page{Number: 1, DPI: 200}
	if sheetPage(b) != first || b.picture.page != first {
		t.Fatalf("sheet %+v, shown %+v, want %+v", sheetPage(b), b.picture.page, first)
	}
	sheet, _ := b.s.Plan().Sheet()
	if sheet.World == nil || sheet.Code != "EPSG:32632" || b.s.Verdict().Checked || sheet.DPI != 200 {
		t.Errorf("got %+v, want calibrated by the file, on EPSG:32632, unchecked", sheet)
	}
	if !b.dialogOpen() {
		t.Error("the bench does not ask for the page")
	}
	for b.dialogs.Escape() {
	}
	b.focusSheet()
	b.drawPage(b.picture.path, b.picture.header, "2", "100", b.useSheet)
	second := plan.Page{Number: 2, DPI: 100}
	until(t, "the second page", func() bool { return b.picture.page == second && b.picture.now == nil })
	if s, _ := b.s.Plan().Sheet(); s.Page != second || s.World != nil || s.Width != 200 {
		t.Errorf("got %+v, want the second page, uncalibrated", s)
	}
	b.undo()
	if sheetPage(b) != first {
		t.Fatalf("undo leads to %+v: %s", sheetPage(b), b.foot.Message())
	}
	until(t, "the first page again", func() bool { return b.picture.page == first && b.picture.pyramid != nil && b.picture.now == nil })
	if size := b.picture.pyramid.Size(); size.X != 800 || size.Y != 600 {
		t.Errorf("shown is %v, want 800 × 600", size)
	}
}

// What was typed for a page or a resolution is refused in a sentence.
func TestPageIsRefused(t *testing.T) {
	b := stand(t)
	h := scan.Header{Page: 1, Pages: 2, PageDPI: 200}
	for _, c := range [][2]string{{"3", "200"}, {"0", "200"}, {"one", "200"}, {"1", "5"}, {"1", "99999"}, {"1", "NaN"}} {
		if fault, err := b.drawPage(twoPages(t), h, c[0], c[1], b.useSheet); err == nil || fault == "" {
			t.Errorf("page %s at %s: not refused", c[0], c[1])
		}
		if b.picture.now != nil {
			t.Fatalf("page %s at %s is being opened", c[0], c[1])
		}
	}
}

// A page drawn once comes from the store when it is opened again, and another
// resolution of it does not.
func TestPageComesFromTheStore(t *testing.T) {
	dir := t.TempDir()
	b := stored(t, dir)
	open := func(p plan.Page) (got loaded) {
		b.loadPicture(twoPages(t), p, func(l loaded) { got = l; b.useSheet(l) })
		until(t, "the end of the opening", func() bool { return b.picture.pyramid != nil && b.picture.now == nil })
		return got
	}
	if l := open(plan.Page{Number: 2, DPI: 400}); l.stored || l.err != nil {
		t.Fatalf("the first time: stored %v, %v", l.stored, l.err)
	}
	until(t, "the page in the store", func() bool {
		mark, err := scan.Mark(os.DirFS("testdata"), "two-pages.pdf")
		if err != nil {
			t.Fatal(err)
		}
		_, _, ok := b.picture.source.store.Find(pageMark(mark, plan.Page{Number: 2, DPI: 400}))
		b.later(func() {})
		return ok && b.picture.pyramid.Stats().Stored
	})
	if l := open(plan.Page{Number: 2, DPI: 200}); l.stored {
		t.Error("another resolution came from the store")
	}
	if l := open(plan.Page{Number: 2, DPI: 400}); !l.stored || l.sha() != b.picture.sha {
		t.Errorf("the second time: stored %v", l.stored)
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
	b.openSheet(path)
	until(t, "the end of the opening", func() bool { return b.picture.pyramid != nil && b.picture.now == nil })
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
	if b.picture.now != nil || sheetPage(b) != first || b.window.Canvas().Focused() == asked {
		t.Fatal("page 7 of 2 was not refused")
	}
	b.dialogs.Escape() // the refusal: the question is there again
	if !b.dialogOpen() {
		t.Fatal("after a refusal the question is gone")
	}
	answerWith('2')
	until(t, "the second page", func() bool { return b.picture.page == second && b.picture.now == nil })
	if size := b.picture.pyramid.Size(); size.X != 50 || size.Y != 70 || sheetPage(b) != second {
		t.Errorf("shown is %v as %+v, want the second page", size, sheetPage(b))
	}
	mark, err := scan.Mark(os.DirFS("testdata"), "two-pages.tif")
	if err != nil {
		t.Fatal(err)
	}
	until(t, "the page in the store", func() bool {
		_, _, ok := b.picture.source.store.Find(pageMark(mark, second))
		b.later(func() {})
		return ok && b.picture.pyramid.Stats().Stored
	})
	var again loaded
	b.loadPicture(path, second, func(l loaded) { again = l; b.useSheet(l) })
	until(t, "the page again", func() bool { return b.picture.pyramid != nil && b.picture.now == nil })
	if !again.stored || again.page() != second {
		t.Errorf("stored %v as %+v, want the second page from the store", again.stored, again.page())
	}
}
