package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/opening"
	"legwright/app/ui/widgets"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

// askPage lets the person choose another page of the document on the sheet, or draw it
// at another resolution.
func (b *Bench) askPage() {
	if !b.desk.AskPage() {
		b.say("The sheet is a single picture. Pages are chosen for PDF documents, and for TIFF and KML files that hold several pictures.")
	}
}

// askWhichPage asks which page of a document is to be shown.
func (b *Bench) askWhichPage(q opening.Question) *ask.Question {
	path, h, page := q.Path, q.Picture.Header, q.Picture.Page
	number, dpi := b.dialogs.Entry("a number from 1"), b.dialogs.Entry("as suits the page")
	number.SetText(strconv.Itoa(page.Number))
	title, text, yes := "Page", fmt.Sprintf("%s has %s.", opening.Name(path), pagesWords(h.Pages)), "Show it"
	if scan.IsOverlay(path) {
		title, text = "Picture", fmt.Sprintf("%s lays %d pictures over the ground%s.", opening.Name(path), h.Pages, overlayWords(path))
	}
	fields := widget.NewForm(widget.NewFormItem(title, number))
	if page.DPI > 0 {
		title, yes = "Page and resolution", "Draw it"
		text += " Lines drawn finer can be aimed at more closely; twice the resolution takes four times the memory."
		dpi.SetText(strconv.FormatFloat(page.DPI, 'f', -1, 64))
		fields.Append("Pixels per inch", dpi)
		followPage(number, dpi, page)
	}
	switch sheet, ok := b.s.Sheet(); {
	case q.Beside:
		text += " The one that is shown is a sheet of this plan; another one becomes another sheet."
	case ok && (len(sheet.Points) > 0 || sheet.World != nil):
		text += " Another page begins without the calibration of this one; undo brings it back."
	}
	keep := func() { b.desk.Answer(q, opening.Answer{}) }
	draw := b.dialogs.QuestionOver(title, container.NewVBox(widgets.NewWrapped(text), fields), keep,
		answer{Text: "Keep this one", Do: keep},
		answer{Text: yes, Default: true, Do: func() {
			next, fault, err := typedPage(q.Picture, number.Text, dpi.Text)
			if err != nil {
				b.pictures.Ask(q) // to be seen again once the refusal was read
				b.refuse(fault, err)
				return
			}
			b.desk.Answer(q, opening.Answer{Choice: opening.Agree, Page: next})
		}})
	submit := func(string) { draw.GiveDefault() }
	number.OnSubmitted, dpi.OnSubmitted = submit, submit
	b.window.Canvas().Focus(number)
	number.TypedShortcut(&fyne.ShortcutSelectAll{}) // another number takes its place
	return draw
}

// followPage empties the resolution when another page is typed: each page has one of its
// own that suits it. What the person typed for the resolution stays.
func followPage(number, dpi *widgets.EscapeEntry, shown plan.Page) {
	own := dpi.Text
	number.OnChanged = func(text string) {
		if strings.TrimSpace(text) == strconv.Itoa(shown.Number) && dpi.Text == "" {
			dpi.SetText(own)
		} else if dpi.Text == own {
			dpi.SetText("")
		}
	}
}

// overlayWords lists the first overlays of a file by their names, where they have any.
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

// typedPage is the page that was typed, or a title and an error that say what is wrong
// with it. An empty resolution is the one that suits the page.
func typedPage(shown *opening.Picture, number, dpi string) (page plan.Page, fault string, err error) {
	page = shown.Page
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || n < 1 || n > shown.Header.Pages {
		return page, "There is no such page", fmt.Errorf("%q is not a page: type a number from 1 to %d", number, shown.Header.Pages)
	}
	page.Number = n
	dpi = strings.TrimSpace(strings.Replace(dpi, ",", ".", 1))
	switch {
	case page.DPI == 0:
	case dpi == "":
		page.DPI = 0
	default:
		page.DPI, err = strconv.ParseFloat(dpi, 64)
		if err != nil || !(page.DPI >= scan.MinPageDPI && page.DPI <= scan.MaxPageDPI) {
			return page, "This resolution cannot be drawn",
				fmt.Errorf("%q is not a resolution: type %d to %d pixels per inch, or nothing for the one that suits the page", dpi, scan.MinPageDPI, scan.MaxPageDPI)
		}
	}
	return page, "", nil
}
