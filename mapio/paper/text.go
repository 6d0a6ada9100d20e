package paper

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MinPt is the smallest type, in points.
const MinPt = 9.0

const (
	mmPerPt = 25.4 / 72
	// ascent and descent are those of DejaVu Sans in parts of an em, from its table hhea:
	// 1901 and 483 of 2048 units.
	ascent, descent = 1901.0 / 2048, 483.0 / 2048
	cutSign         = "…"
)

// Style is how a text is set. The zero value is plain type of MinPt.
type Style struct {
	Pt   float64 // size in points, at least MinPt; 0 is MinPt
	Bold bool
}

func (s Style) pt() float64 {
	if s.Pt == 0 {
		return MinPt
	}
	return s.Pt
}

// Height is the height of one line in millimetres.
func (s Style) Height() float64 { return s.pt() * (ascent + descent) * mmPerPt }

// Align says where a line stands in its box.
type Align int

const (
	Left Align = iota
	Centre
	Right
)

// setFont chooses the type, and refuses what is too small to read.
func (d *Doc) setFont(s Style) {
	if s.pt() < MinPt-1e-9 {
		d.fail("%.1f pt type is too small to read in rain: the minimum is %g pt", s.pt(), MinPt)
	}
	weight := ""
	if s.Bold {
		weight = "B"
	}
	d.pdf.SetFont(face, weight, s.pt())
}

// Width is how wide a text is in one line, in millimetres.
func (d *Doc) Width(text string, s Style) float64 {
	d.setFont(s)
	return d.pdf.GetStringWidth(clean(text))
}

// wrap breaks a text into lines no wider than w millimetres: at line feeds, spaces, and between
// a hyphen, dash or stroke and a letter. A word wider than w is broken with a hyphen, but neither
// a short one nor a number: half a bearing must not be read as one.
func (d *Doc) wrap(text string, s Style, w float64) []string {
	d.setFont(s)
	var out []string
	for par := range strings.SplitSeq(clean(text), "\n") {
		line := ""
		for _, word := range words(par) {
			if longer := line + word; d.fits(longer, w) {
				line = longer
				continue
			}
			if line = strings.TrimRight(line, " "); line != "" {
				out = append(out, line)
			}
			if i := strings.IndexByte(strings.TrimRight(word, " "), ' '); i >= 0 && !d.fits(word, w) { // a figure and its unit
				out, word = append(out, word[:i]), word[i+1:]
			}
			whole := unbroken(word)
			for !d.fits(word, w) {
				n := d.head(word, "‐", w)
				if whole || !d.fits(word[:n]+"‐", w) {
					d.fail("a box of %.1f mm is too narrow for type of %g pt", w, s.pt())
					return nil
				}
				out, word = append(out, word[:n]+"‐"), word[n:]
			}
			line = word
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return out
}

// fits reports whether a line is no wider than w in the present type; spaces at its end
// do not count.
func (d *Doc) fits(line string, w float64) bool {
	return d.pdf.GetStringWidth(strings.TrimRight(line, " ")) <= w+1e-9
}

// words splits a text behind each chance to break it.
func words(text string) []string {
	var out []string
	from := 0
	for i, r := range text {
		end := i + utf8.RuneLen(r)
		if next, _ := utf8.DecodeRuneInString(text[end:]); end == len(text) || r == ' ' && next != ' ' && !unitNext(text[:i], text[end:]) ||
			strings.ContainsRune("-‐–—/", r) && unicode.IsLetter(next) {
			out, from = append(out, text[from:end]), end
		}
	}
	return out
}

// unitNext reports whether a figure before a space and its unit after it stay in one line.
func unitNext(before, after string) bool {
	last, _ := utf8.DecodeLastRuneInString(before)
	unit := after[:len(after)-len(strings.TrimLeftFunc(after, unicode.IsLetter))]
	return unicode.IsDigit(last) && slices.Contains([]string{"m", "mm", "km", "ft", "h", "min", "px"}, unit)
}

// unbroken reports whether a word must stand in one line: it has at most 8 letters, or digits
// and at most 16, as a grid reference has.
func unbroken(word string) bool {
	n := utf8.RuneCountInString(strings.TrimRight(word, " "))
	return n <= 8 || n <= 16 && strings.ContainsFunc(word, unicode.IsDigit)
}

// head is how many bytes of a text fit into w with a sign after them, at least one
// letter with its marks.
func (d *Doc) head(text, sign string, w float64) int {
	n, first := 0, true
	for i, r := range text {
		if i == 0 || unicode.Is(unicode.M, r) {
			continue
		}
		if !first && d.pdf.GetStringWidth(text[:i]+sign) > w+1e-9 {
			break
		}
		n, first = i, false
	}
	if n == 0 {
		return len(text)
	}
	return n
}

// cut shortens a line to w with a sign.
func (d *Doc) cut(line string, w float64) string {
	return strings.TrimRight(line[:d.head(line, cutSign, w)], " ") + cutSign
}

// Line sets one line, in the middle of the height of its box. Where it is too wide or too high it
// shrinks, at the least to MinPt; what is still too wide is cut and ends in "…", and
// whole is false.
func (p *Page) Line(r Rect, s Style, a Align, text string) (whole bool) {
	d := p.doc
	text = strings.ReplaceAll(clean(text), "\n", " ")
	s.Pt = s.pt()
	if tall, w := s.Height(), d.Width(text, s); w > r.W || tall > r.H {
		s.Pt = min(s.Pt, max(MinPt, s.Pt*min(r.W/w, r.H/tall)*(1-1e-6)))
	}
	d.setFont(s)
	if whole = d.fits(text, r.W); !whole {
		text = d.cut(text, r.W)
	}
	h := s.Height()
	if h > r.H+1e-6 || !d.fits(text, r.W) {
		d.fail("a box of %.1f × %.1f mm is too small for type of %.1f pt", r.W, r.H, s.Pt)
		return false
	}
	p.aligned(Rect{r.X, r.Y + (r.H-h)/2, r.W, h}, s, a, text)
	return whole
}

// aligned sets a clean line at the top of a box that it fits into.
func (p *Page) aligned(r Rect, s Style, a Align, line string) {
	p.doc.setFont(s)
	x := r.X + (r.W-p.doc.pdf.GetStringWidth(line))*float64(a)/2
	p.baseline(Point{x, r.Y + ascent*s.pt()*mmPerPt}, s, line)
}

// Paragraph sets a text in lines from the top of a box and returns what is left of the
// box below. What does not fit is cut: the last line ends in "…", and whole is false.
func (p *Page) Paragraph(r Rect, s Style, text string) (rest Rect, whole bool) {
	d := p.doc
	all := d.wrap(text, s, r.W)
	n := int((r.H + 1e-6) / s.Height())
	if n == 0 && len(all) > 0 {
		d.fail("a box %.1f mm high is not high enough for type of %g pt", r.H, s.pt())
		return r, false
	}
	whole = len(all) <= n
	if !whole {
		all = all[:n]
		if all[n-1] += cutSign; !d.fits(all[n-1], r.W) {
			all[n-1] = d.cut(strings.TrimSuffix(all[n-1], cutSign), r.W)
		}
	}
	p.lines(r, s, all)
	_, rest = r.Top(float64(len(all)) * s.Height())
	return rest, whole
}

// Flow sets a text in lines from the top of a box on. What does not fit goes on over new pages,
// there in the whole height of the body below a line that says what is going on, with "…" where it
// breaks off: between paragraphs, and within one only if it is higher than the room. It returns the
// last page and the room below.
func (p *Page) Flow(r Rect, s Style, again, text string) (*Page, Rect) {
	d, indent := p.doc, r.X-p.Body.X
	var all []string
	var ends []int // of the paragraphs, in lines
	for par := range strings.SplitSeq(text, "\n") {
		all = append(all, d.wrap(par, s, r.W)...)
		ends = append(ends, len(all))
	}
	for from := 0; ; {
		room := int((r.H + 1e-6) / s.Height())
		if len(all)-from <= room || d.err != nil {
			p.lines(r, s, all[from:])
			_, rest := r.Top(float64(len(all)-from) * s.Height())
			return p, rest
		}
		if room > 0 {
			n := from + room - 1
			if i, whole := slices.BinarySearch(ends, n); !whole && i > 0 && ends[i-1] > from {
				n = ends[i-1]
			}
			p.lines(r, s, append(slices.Clone(all[from:n]), cutSign))
			from = n
		}
		p = d.AddPage()
		r = Rect{p.Body.X + indent, p.Body.Y, r.W, p.Body.H}
		if r, _ = p.Paragraph(r, Style{Bold: true}, again); r.H < 3*s.Height() {
			d.fail("%.0f mm of height is too little for text of %g pt: print on larger paper", r.H, s.pt())
		}
	}
}

// Tall is the height in millimetres that a paragraph takes in a width.
func (d *Doc) Tall(text string, s Style, w float64) float64 {
	return float64(len(d.wrap(text, s, w))) * s.Height()
}

// lines sets lines from the top of a box, whether or not they fit.
func (p *Page) lines(r Rect, s Style, lines []string) {
	for i, line := range lines {
		p.aligned(Rect{r.X, r.Y + float64(i)*s.Height(), r.W, 0}, s, Left, line)
	}
}

// baseline sets a clean line from a point on its baseline on.
func (p *Page) baseline(at Point, s Style, line string) {
	if p.doc.err != nil || line == "" {
		return
	}
	pdf := p.pdf()
	p.doc.setFont(s)
	p.fillInk(false) // the writer forgets it where a clip or another page ends
	pdf.Text(at.X, at.Y, line)
}

// Label sets a line centred at a point, turned clockwise by degrees: words on a map. On a
// plate the paper is white behind it. It has no box: keep it on the page yourself.
func (p *Page) Label(at Point, degrees float64, s Style, plate bool, text string) {
	d := p.doc
	text = clean(text)
	w, h := d.Width(text, s), s.Height()
	pdf := p.pdf()
	pdf.TransformBegin()
	pdf.TransformRotate(-degrees, at.X, at.Y)
	box := Rect{at.X - w/2, at.Y - h/2, w, h}
	if plate {
		p.Fill(box.corners(), true)
	}
	p.baseline(Point{box.X, box.Y + ascent*s.pt()*mmPerPt}, s, text)
	pdf.TransformEnd()
}
