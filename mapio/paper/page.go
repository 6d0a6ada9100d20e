package paper

import "codeberg.org/go-pdf/fpdf"

// Page is one page of a document, or one card of a sheet. All it draws is
// given on the paper, also on a card.
type Page struct {
	Body Rect // what lies between the bands

	doc   *Doc
	sheet int  // number of the sheet of paper, from 1
	paper Rect // the page on the sheet
	foot  Rect
}

const (
	bandGap  = 2.0 // between a band and the body, mm
	bandPad  = 1.0 // between the frame of the cautions and their words, mm
	bandRule = 0.7

	leastBody = 30.0 // what the bands must leave of a page, mm, and in parts of it
	leastPart = 0.4
)

// pdf is the writer, on the page's sheet.
func (p *Page) pdf() *fpdf.Fpdf {
	p.doc.pdf.SetPage(p.sheet)
	return p.doc.pdf
}

// AddPage begins the next page or card. Cautions that concern it alone are added to
// those of the document.
func (d *Doc) AddPage(cautions ...string) *Page { return d.add(false, cautions) }

// AddMapPage begins a page for a map, with check lines along its left and lower edge.
func (d *Doc) AddMapPage(cautions ...string) *Page { return d.add(true, cautions) }

func (d *Doc) add(checkLines bool, cautions []string) *Page {
	n := len(d.pages) % len(d.slots)
	if n == 0 {
		d.pdf.AddPage()
		d.cutMarks()
	}
	slot := d.slots[n]
	p := &Page{doc: d, sheet: d.pdf.PageCount(), paper: slot}
	p.Body = slot.Inset(Size{Width: slot.W, Height: slot.H}.margin())
	d.pages = append(d.pages, p)
	if checkLines {
		_, p.Body = p.Body.Left(checkStrip)
	}
	p.bands(append(append([]string{}, d.info.Cautions...), cautions...))
	if checkLines {
		p.checkLines()
	}
	return p
}

// bands draws the cautions and keeps the foot free. Cautions are never cut: where they
// would leave too little of the page, larger paper is asked for.
func (p *Page) bands(cautions []string) {
	d, bold := p.doc, Style{Bold: true}
	whole := p.Body
	var text []string
	for _, c := range cautions {
		text = append(text, d.wrap(c, bold, whole.W-2*(bandPad+bandRule))...)
	}
	band, body := p.Body.Top(float64(len(text))*bold.Height() + 2*(bandPad+bandRule))
	foot := d.wrap(d.footText(888, 888), Style{}, whole.W)
	p.foot, body = body.Foot(float64(len(foot)) * Style{}.Height())
	_, body = body.Top(bandGap)
	_, p.Body = body.Foot(bandGap)
	if p.Body.H < max(leastBody, p.paper.H*leastPart) {
		advice := "print on larger paper"
		if len(d.slots) > 1 {
			advice = "print fewer cards on a page, or on larger paper"
		}
		d.fail("the cautions and the foot leave only %.0f of the %.0f mm of height: %s", p.Body.H, p.paper.H, advice)
		return
	}
	p.Frame(band.Inset(bandRule/2), bandRule)
	p.lines(band.Inset(bandPad+bandRule), bold, text)
}
