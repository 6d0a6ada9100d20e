package files

import (
	"fmt"
	"image"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
	"legwright/app/ui/widgets"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

// pageDialog asks for a page of a document, which it shows small.
type pageDialog struct {
	q           opening.Question
	number, dpi *widgets.EscapeEntry
	back, next  *widgets.Tool
	picture     *canvas.Image
	words       *widgets.Quiet // what is shown, or why nothing is
	why         *widgets.Sentence
	pages       *opening.Pages
	own         string // the resolution of the page on the sheet
}

// previewSide is the longer side of the small page, in units of the window.
const previewSide = 300

// askPage asks which page of a document to show.
func (p *Pictures) askPage(q opening.Question) *ask.Question {
	h, page := q.Picture.Header, q.Picture.Page
	d := &pageDialog{q: q, number: p.Dialogs.Entry("1"), dpi: p.Dialogs.Entry("to suit the page"), pages: p.pages, words: widgets.NewQuiet("")}
	d.picture = &canvas.Image{FillMode: canvas.ImageFillContain}
	d.picture.SetMinSize(fyne.NewSquareSize(previewSide))
	d.why = widgets.NewSentence("", widgets.Fault)
	d.why.Hide()
	thing := pageWord(q.Path)
	title, text := "Choose a "+thing, fmt.Sprintf("%s has %s.", q.Picture.Name(), CountOf(h.Pages, thing))
	if scan.IsOverlay(q.Path) {
		text = fmt.Sprintf("%s places %s on the ground%s.", q.Picture.Name(), CountOf(h.Pages, thing), overlayWords(q.Path))
	}
	fields := widget.NewForm(widget.NewFormItem("Number", d.number))
	if page.DPI > 0 {
		title += " and its resolution"
		text += " A higher resolution lets you place points more exactly; doubling it needs four times the memory."
		fields.Append("Pixels per inch", d.dpi)
		d.own = strconv.FormatFloat(page.DPI, 'f', -1, 64)
	}
	text += p.pageEffect(q)
	d.number.SetText(strconv.Itoa(page.Number))
	d.dpi.SetText(d.own)
	body := container.NewBorder(nil, nil, d.preview(), nil, container.NewVBox(widgets.NewWrapped(text), fields, d.why))
	decline := func() { d.pages.Cancel(); p.Desk.Answer(q, opening.Answer{}) }
	question := p.Dialogs.Form(ask.Form{
		Title: title, Verb: "Show " + thing, Body: body, Size: fyne.NewSize(760, 480), Focus: d.number, Cancelled: decline,
		Submit: func() error {
			next, err := d.typed()
			if err == nil {
				d.pages.Cancel()
				p.Desk.Answer(q, opening.Answer{Choice: opening.Agree, Page: next})
			}
			return err
		},
	})
	d.number.OnChanged = func(string) { d.follow() }
	d.number.TypedShortcut(&fyne.ShortcutSelectAll{}) // another number takes its place
	d.draw(page.Number)
	return question
}

// pageEffect says what becomes of the page on the sheet.
func (p *Pictures) pageEffect(q opening.Question) string {
	sheet, ok := p.Session.Sheet()
	thing := pageWord(q.Path)
	switch {
	case q.Beside:
		return fmt.Sprintf(" The %[1]s shown is already in the plan; another %[1]s is added as a new sheet.", thing)
	case ok && (len(sheet.Points) > 0 || sheet.World != nil) && q.Picture.Page.DPI > 0:
		return fmt.Sprintf(" A different %[1]s starts without this %[1]s's calibration; a new resolution keeps the calibration.", thing)
	case ok && (len(sheet.Points) > 0 || sheet.World != nil):
		return fmt.Sprintf(" A different %[1]s starts without this %[1]s's calibration.", thing)
	}
	return ""
}

// pageWord is what a file has several of.
func pageWord(path string) string {
	if scan.IsOverlay(path) {
		return "picture"
	}
	return "page"
}

// preview is the small page with the buttons that lead to the pages beside it.
func (d *pageDialog) preview() fyne.CanvasObject {
	step := func(by int) func() {
		return func() {
			n, err := strconv.Atoi(strings.TrimSpace(d.number.Text))
			if err != nil {
				n = d.q.Picture.Page.Number
			}
			d.number.SetText(strconv.Itoa(min(max(n+by, 1), d.q.Picture.Header.Pages)))
		}
	}
	thing := pageWord(d.q.Path)
	d.back = widgets.NewTextTool("", "Previous", "Show the previous "+thing, step(-1))
	d.next = widgets.NewTextTool("", "Next", "Show the next "+thing, step(1))
	return container.NewBorder(nil, container.NewBorder(nil, nil, d.back, d.next, container.NewCenter(d.words)), nil, nil, d.picture)
}

// follow shows the page whose number is typed, and empties the resolution for another
// page: each has one that suits it. A resolution that the person typed stays.
func (d *pageDialog) follow() {
	n, err := d.pageNumber()
	if err != nil {
		d.why.Set(foot.Sentence(err), widgets.Fault)
		d.why.Show()
		return
	}
	d.why.Hide() // without words it is an empty red bar
	switch {
	case n == d.q.Picture.Page.Number && d.dpi.Text == "":
		d.dpi.SetText(d.own)
	case n != d.q.Picture.Page.Number && d.dpi.Text == d.own:
		d.dpi.SetText("")
	}
	d.draw(n)
}

// draw draws a page small, beside the window.
func (d *pageDialog) draw(n int) {
	pages := d.q.Picture.Header.Pages
	d.back.Enable()
	d.next.Enable()
	if n == 1 {
		d.back.Disable()
	}
	if n == pages {
		d.next.Disable()
	}
	of := fmt.Sprintf("%d of %d", n, pages)
	d.words.SetText(of + "…")
	side := int(previewSide * widgets.ScaleOf(d.number))
	d.pages.Draw(d.q.Path, n, side, func(m image.Image, err error) {
		d.words.SetText(of)
		if err != nil {
			d.words.SetText(of + ": no preview")
		}
		d.picture.Image = m
		d.picture.Refresh()
	})
}

// pageNumber is the number that is typed.
func (d *pageDialog) pageNumber() (int, error) {
	pages := d.q.Picture.Header.Pages
	n, err := strconv.Atoi(strings.TrimSpace(d.number.Text))
	if err != nil || n < 1 || n > pages {
		return 0, fmt.Errorf("there is no %s %q: type a number from 1 to %d", pageWord(d.q.Path), d.number.Text, pages)
	}
	return n, nil
}

// typed is the page that is typed. A resolution of 0 is the one that suits the page.
func (d *pageDialog) typed() (plan.Page, error) {
	page := d.q.Picture.Page
	n, err := d.pageNumber()
	if err != nil {
		return page, err
	}
	page.Number = n
	dpi := strings.TrimSpace(strings.Replace(d.dpi.Text, ",", ".", 1))
	switch {
	case page.DPI == 0:
	case dpi == "":
		page.DPI = 0
	default:
		page.DPI, err = strconv.ParseFloat(dpi, 64)
		if err != nil || !(page.DPI >= scan.MinPageDPI && page.DPI <= scan.MaxPageDPI) {
			return page, fmt.Errorf("%q is not a resolution: type %d to %d pixels per inch, or leave the field empty to suit the page", d.dpi.Text, scan.MinPageDPI, scan.MaxPageDPI)
		}
	}
	return page, nil
}

// overlayWords list the first pictures of a file by their names, if they have any.
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
