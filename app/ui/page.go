package ui

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/mapio/georef"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

// pageOf is the page of a document that a header speaks of, zero for a file
// that is a single picture.
func pageOf(h scan.Header) plan.Page {
	if h.Pages <= 1 && h.PageDPI == 0 {
		return plan.Page{}
	}
	return plan.Page{Number: h.Page, DPI: h.PageDPI}
}

// pageKey is the hash by which a page is stored: that of its file, its number
// and its resolution.
func pageKey(file [32]byte, p plan.Page) [32]byte {
	if p == (plan.Page{}) {
		return file
	}
	text := append(file[:], "page"...)
	text = binary.LittleEndian.AppendUint64(text, uint64(p.Number))
	return sha256.Sum256(binary.LittleEndian.AppendUint64(text, math.Float64bits(p.DPI)))
}

// pageMark is the mark of a page by that of its file, see scan.Mark.
func pageMark(file [32]byte, p plan.Page) [32]byte { return pageKey(file, p) }

// shows says whether what was opened is the picture a sheet was made on.
func shows(l loaded, sheet plan.Sheet) bool {
	return l.sha() == sheet.SHA256 && l.page() == sheet.Page
}

// pageWords names the page in a sentence, "" for a single picture.
func pageWords(h scan.Header) string {
	page := pageOf(h)
	switch {
	case page == (plan.Page{}):
		return ""
	case page.DPI == 0:
		return fmt.Sprintf(", page %d of %d", h.Page, h.Pages)
	}
	return fmt.Sprintf(", page %d of %d at %.0f pixels an inch", h.Page, h.Pages, page.DPI)
}

// isDocument says by its name that a file is drawn from pages.
func isDocument(path string) bool { return strings.EqualFold(filepath.Ext(path), ".pdf") }

// hasPages says that a file holds pages of which one has to be chosen.
func (o *opening) hasPages(fsys fs.FS, name string) bool {
	if isDocument(o.path) || o.want != (plan.Page{}) {
		return true
	}
	if ext := strings.ToLower(filepath.Ext(name)); ext != ".tif" && ext != ".tiff" && !scan.IsOverlay(o.path) {
		return false
	}
	h, err := scan.ReadHeader(fsys, name)
	return err == nil && h.Pages > 1
}

// knownPage is known for the page of a document, which has to be looked at
// before it is clear which drawing of it is meant.
func (o *opening) knownPage(ctx context.Context, fsys fs.FS, name string, mark [32]byte) bool {
	if isDocument(o.path) {
		o.at.Store(&step{scan.StageStart, 0, 1})
	}
	data, err := o.from.opener.Look(ctx, fsys, name, scan.Options{Page: o.want.Number, DPI: o.want.DPI})
	if errors.Is(err, scan.ErrTooLarge) { // decoding would fill the memory a second time
		o.show(loaded{path: o.path, err: err})
		return true
	}
	if err != nil {
		return false // decoding tells
	}
	h := data.Header
	page := pageOf(h)
	key, size, ok := o.from.store.Find(pageMark(mark, page))
	if !ok || size != image.Pt(h.Width, h.Height) {
		return false
	}
	sum, err := hashOf(ctx, fsys, name)
	if err != nil || pageKey(sum, page) != key {
		return false
	}
	p, err := o.from.store.Open(key, o.options(key))
	if err != nil {
		return false
	}
	o.show(loaded{path: o.path, header: h, key: sum, picture: key, mark: mark, pyramid: p, stored: true})
	o.end(ending{place: georef.Find(data).Georeference})
	return true
}

// askPageOf asks for the page once a document of several is on the sheet.
func (b *Bench) askPageOf(then func(loaded)) func(loaded) {
	return func(l loaded) {
		_, known := b.s.Plan().SheetOf(l.sha(), l.page())
		then(l)
		switch {
		case l.err != nil || l.header.Pages <= 1 || b.picture.pyramid != l.pyramid:
		case known:
			b.askPageFor(then, true)
		default:
			b.askPageFor(b.useSheet, false) // in place of the page that came first
		}
	}
}

// askPage lets the person choose another page of the document on the sheet, or
// draw it finer or coarser.
func (b *Bench) askPage() { b.askPageFor(b.useSheet, false) }

// askPageFor is askPage with what is to be done with the page, and whether the
// one that is shown stays a sheet of the plan beside it.
func (b *Bench) askPageFor(use func(loaded), beside bool) {
	p := &b.picture
	if p.pyramid == nil || p.page == (plan.Page{}) {
		b.say("The sheet is a single picture. Pages are chosen for PDF documents, and for TIFF and KML files that hold several pictures.")
		return
	}
	path, h := p.path, p.header
	number, dpi := b.dialogs.Entry("a number from 1"), b.dialogs.Entry("such as 200")
	number.SetText(strconv.Itoa(h.Page))
	title, text, yes := "Page", fmt.Sprintf("%s has %s.", pictureName(path), pagesWords(h.Pages)), "Show it"
	if scan.IsOverlay(path) {
		title, text = "Picture", fmt.Sprintf("%s lays %d pictures over the ground%s.", pictureName(path), h.Pages, overlayWords(path))
	}
	fields := widget.NewForm(widget.NewFormItem(title, number))
	if p.page.DPI > 0 {
		title, yes = "Page and resolution", "Draw it"
		text += " Lines drawn finer can be aimed at more closely; twice the resolution takes four times the memory."
		dpi.SetText(strconv.FormatFloat(p.page.DPI, 'f', -1, 64))
		fields.Append("Pixels an inch", dpi)
	}
	switch sheet, ok := b.s.Sheet(); {
	case beside:
		text += " The one that is shown is a sheet of this plan; another one becomes another sheet."
	case ok && (len(sheet.Points) > 0 || sheet.World != nil):
		text += " The calibration belongs to the page as it is shown now and does not come along; undo brings it back."
	}
	draw := b.dialogs.QuestionOver(title, container.NewVBox(widgets.NewWrapped(text), fields), nil,
		answer{Text: "Keep this one"},
		answer{Text: yes, Default: true, Do: func() {
			if fault, err := b.drawPage(path, h, number.Text, dpi.Text, use); err != nil {
				b.askPageFor(use, beside) // to be seen again once the refusal was read
				b.refuse(fault, err)
			}
		}})
	submit := func(string) { draw.GiveDefault() }
	number.OnSubmitted, dpi.OnSubmitted = submit, submit
	b.window.Canvas().Focus(number)
	number.TypedShortcut(&fyne.ShortcutSelectAll{}) // another number takes its place
}

// overlayWords lists the first overlays of a file by their names, where they
// have any.
func overlayWords(path string) string {
	const most, longest = 8, 40 // names, letters of each
	names, err := scan.OverlayNames(openfile.Picked(path))
	if err != nil || strings.Join(names, "") == "" {
		return ""
	}
	var list []string
	for i, n := range names[:min(len(names), most)] {
		if r := []rune(n); len(r) > longest {
			n = string(r[:longest]) + "…"
		}
		list = append(list, strings.TrimSpace(fmt.Sprintf("%d %s", i+1, n)))
	}
	if len(names) > most {
		list = append(list, "…")
	}
	return ": " + strings.Join(list, ", ")
}

func pagesWords(n int) string {
	if n <= 1 {
		return "one page"
	}
	return fmt.Sprintf("%d pages", n)
}

// drawPage opens the page that was typed, or says what is wrong with it.
func (b *Bench) drawPage(path string, h scan.Header, number, dpi string, use func(loaded)) (fault string, err error) {
	page := pageOf(h)
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || n < 1 || n > h.Pages {
		return "There is no such page", fmt.Errorf("%q is not a page: type a number from 1 to %d", number, h.Pages)
	}
	page.Number = n
	if page.DPI > 0 {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.Replace(dpi, ",", ".", 1)), 64)
		if err != nil || !(v >= scan.MinPageDPI && v <= scan.MaxPageDPI) {
			return "This resolution cannot be drawn",
				fmt.Errorf("%q is not a resolution: type %d to %d pixels an inch", dpi, scan.MinPageDPI, scan.MaxPageDPI)
		}
		page.DPI = v
	}
	if page == pageOf(h) {
		b.say("That page is shown already.")
		return "", nil
	}
	b.loadPicture(path, page, use)
	return "", nil
}
