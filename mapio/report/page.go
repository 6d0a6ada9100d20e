package report

import (
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"legwright/app/calib"
	"legwright/assets/look"
)

// Measures of the page in millimetres.
const (
	pageW, pageH = 210.0, 297.0
	margin       = 15.0
	textW        = pageW - 2*margin
	gutter       = 8.0
	stateW       = 38.0 // of the words in the band
	columnW      = (textW - gutter) / 2
	footY        = pageH - 11
	line         = 3.9  // of body text
	leastColumns = 74.0 // height kept for the columns below the figure
	mostCautions = 7    // lines
	stateLines   = 5    // at most
)

// Sizes of type in points.
const (
	titleSize = 15.0
	headSize  = 9.5
	bodySize  = 8.0
	smallSize = 7.0
)

// page is a page being written. y is where the next thing goes.
type page struct {
	*fpdf.Fpdf
	s Sheet
	y float64
}

// compose lays the page out.
func compose(s Sheet) (*fpdf.Fpdf, error) {
	if s.Calibration == nil || s.System == nil {
		return nil, ErrNothing
	}
	p := &page{Fpdf: fpdf.New("P", "mm", "A4", ""), s: s}
	p.AddUTF8FontFromBytes("sans", "", look.Wide())
	p.AddUTF8FontFromBytes("sans", "B", look.WideBold())
	p.SetAutoPageBreak(false, 0)
	p.SetTitle("Calibration report: "+clean(s.Name), true)
	p.SetCreator("Legwright "+s.Version, true)
	p.SetProducer("Legwright "+s.Version, true)
	p.SetCreationDate(s.Made)
	p.SetModificationDate(s.Made)
	p.SetCatalogSort(true)
	p.AddPage()
	p.head()
	cautions := p.cautionLines()
	below := leastColumns + cautionsHeight(cautions)
	p.figure(footY - 4 - below - p.y)
	p.columns(footY - 4 - cautionsHeight(cautions))
	p.cautions(cautions)
	p.foot()
	return p.Fpdf, p.Error()
}

// ink is a colour, 0xRRGGBB. The four that mean something are after Okabe and
// Ito (Color Universal Design, 2008), darkened for small type.
type ink uint32

const (
	black  ink = 0x191919
	grey   ink = 0x6e6e6e
	pale   ink = 0xcdcdcd
	white  ink = 0xffffff
	blue   ink = 0x0072b2
	orange ink = 0xd55e00
	green  ink = 0x00785a
)

func (c ink) rgb() (r, g, b int) { return int(c >> 16), int(c >> 8 & 0xff), int(c & 0xff) }

func (p *page) text(size float64, style string, c ink) {
	p.SetFont("sans", style, size)
	p.SetTextColor(c.rgb())
}

func (p *page) pen(width float64, c ink) {
	p.SetLineWidth(width)
	p.SetDrawColor(c.rgb())
}

// put writes a line of text whose baseline is at y.
func (p *page) put(x, y float64, text string) { p.Text(x, y, clean(text)) }

// putRight writes a line of text that ends at x.
func (p *page) putRight(x, y float64, text string) {
	text = clean(text)
	p.Text(x-p.GetStringWidth(text), y, text)
}

// fit shortens a text to a width, with an ellipsis.
func (p *page) fit(text string, w float64) string {
	r := []rune(clean(text))
	if p.GetStringWidth(string(r)) <= w {
		return string(r)
	}
	for len(r) > 0 && p.GetStringWidth(string(r)+"…") > w {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// broken breaks a text into lines of a width.
func (p *page) broken(text string, w float64) []string {
	lines := p.SplitText(clean(text), w)
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return lines
}

// head writes title, name, grid, date and the state of the proof.
func (p *page) head() {
	p.text(titleSize, "B", black)
	p.put(margin, margin+5, "Calibration report")
	p.text(bodySize, "", grey)
	p.putRight(pageW-margin, margin+2.2, p.s.Made.Format("2 January 2006, 15:04"))
	p.putRight(pageW-margin, margin+6, "Legwright "+p.s.Version)
	p.text(headSize, "", black)
	p.put(margin, margin+11.5, p.fit(seen(p.s.Name), textW))
	p.text(bodySize, "", grey)
	p.put(margin, margin+16, p.fit(p.s.System.String()+"; "+p.s.From, textW))
	p.y = margin + 19
	p.state()
}

// state is the band that says whether the sheet is proved.
func (p *page) state() {
	c, words := orange, "Sheet unproved"
	rest := "Nothing independent of its control points has shown that this calibration is right. A whole square misread alike everywhere would fit as well."
	if p.s.Calibration.Kind() == calib.Given {
		rest = "Nothing independent of the file has shown that this calibration is right. A file that is whole squares out would look the same."
	}
	if p.s.Proof.Proved() {
		c, words, rest = green, "Proved", sentence(p.s.Proof.Detail)
		rest += " " + p.s.Proof.Unseen(p.s.Calibration.MetresPerPixel())
	}
	if p.s.Contradicted.Found() {
		c, words, rest = orange, "Contradicted", sentence("sheet unproved: "+p.s.Contradicted.Words())
	}
	p.text(bodySize, "", black)
	lines := p.broken(rest, textW-stateW-3)
	lines = lines[:min(len(lines), stateLines)]
	h := 3.4 + line*float64(len(lines))
	p.SetFillColor(c.rgb())
	p.Rect(margin, p.y, 1.6, h, "F")
	p.pen(0.2, pale)
	p.Rect(margin, p.y, textW, h, "D")
	p.text(headSize, "B", c)
	p.put(margin+4, p.y+4.6, words)
	p.text(bodySize, "", black)
	for i, l := range lines {
		p.put(margin+stateW, p.y+4.5+line*float64(i), l)
	}
	p.y += h + 4
}

// cautionLines are the cautions broken into lines; the first of each has a dot.
func (p *page) cautionLines() []string {
	p.text(bodySize, "", black)
	var out []string
	for _, c := range p.s.Cautions {
		for i, l := range p.broken(sentence(c), textW-4) {
			if i == 0 {
				l = "•\t" + l
			}
			out = append(out, l)
		}
	}
	if len(out) > mostCautions {
		out = append(out[:mostCautions-1], "•\tThere are more: the command tells them all.")
	}
	return out
}

func cautionsHeight(lines []string) float64 {
	if len(lines) == 0 {
		return 0
	}
	return 7 + line*float64(len(lines))
}

func (p *page) cautions(lines []string) {
	if len(lines) == 0 {
		return
	}
	p.y = footY - 4 - cautionsHeight(lines)
	p.heading(margin, textW, "Cautions")
	p.text(bodySize, "", black)
	for _, l := range lines {
		if rest, dot := strings.CutPrefix(l, "•\t"); dot {
			p.put(margin, p.y, "•")
			l = rest
		}
		p.put(margin+4, p.y, l)
		p.y += line
	}
}

// heading writes a heading with a rule below it, and moves y to the first
// baseline under it.
func (p *page) heading(x, w float64, text string) {
	p.text(headSize, "B", black)
	p.put(x, p.y+1.5, text)
	p.pen(0.25, pale)
	p.Line(x, p.y+2.8, x+w, p.y+2.8)
	p.y += 6.6
}

func (p *page) foot() {
	p.pen(0.25, pale)
	p.Line(margin, footY, pageW-margin, footY)
	p.text(smallSize, "", grey)
	p.put(margin, footY+3.6, "A planning aid: check every bearing by eye against the map; ground and weather overrule the plan. Carry a paper map and a compass.")
}

// lineFigure writes a label and a figure of the left column.
func (p *page) lineFigure(x, w float64, label, format string, values ...any) {
	p.text(bodySize, "", grey)
	p.put(x, p.y, label)
	p.text(bodySize, "", black)
	p.put(x+30, p.y, p.fit(fmt.Sprintf(format, values...), w-30))
	p.y += line
}
