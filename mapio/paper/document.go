package paper

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"legwright/assets/look"
	"legwright/assets/release"
)

// face is the name of the face in the file.
const face = "dejavu"

// Info is what all pages of a document carry.
type Info struct {
	Title    string    // of the file
	Made     time.Time // stands in the file as its date; zero: 1 January 2000, 0 h UTC
	Foot     string    // which plan, when saved; "page n of m" is added
	Cautions []string  // at the head of each page, at least one
	Up       int       // pages, then called cards, on a sheet of paper: 1 (or 0), 4 or 8
}

// Doc is a document being laid out. It belongs to one goroutine.
type Doc struct {
	pdf   *fpdf.Fpdf
	size  Size
	info  Info
	slots []Rect // where the pages of a sheet lie on it
	pages []*Page
	err   error

	pictures int // that are on paper
}

// New begins a document on a paper.
func New(size Size, info Info) (*Doc, error) {
	if len(info.Cautions) == 0 {
		return nil, errors.New("a printed page must carry its cautions, and none were given")
	}
	slots, err := size.slots(max(1, info.Up))
	if err != nil {
		return nil, err
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: size.Width, Ht: size.Height}})
	if info.Made.IsZero() {
		info.Made = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	pdf.SetCreationDate(info.Made)
	pdf.SetModificationDate(info.Made)
	pdf.SetCatalogSort(true)
	pdf.SetProducer(release.Program, false)
	pdf.SetTitle(clean(info.Title), true)
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetLineCapStyle("butt")
	pdf.SetLineJoinStyle("round")
	pdf.AddUTF8FontFromBytes(face, "", look.Wide())
	pdf.AddUTF8FontFromBytes(face, "B", look.WideBold())
	return &Doc{pdf: pdf, size: size, info: info, slots: slots}, nil
}

// Pages is the number of pages, or of cards, so far.
func (d *Doc) Pages() int { return len(d.pages) }

// fail keeps the first mistake.
func (d *Doc) fail(format string, args ...any) {
	if d.err == nil {
		d.err = fmt.Errorf(format, args...)
	}
}

// Bytes writes the feet of the pages, whose number is known only now, and returns the
// document, or the first mistake made in it. Nothing can be drawn afterwards.
func (d *Doc) Bytes() ([]byte, error) {
	if len(d.pages) == 0 {
		d.fail("nothing was put on paper")
	}
	for i, p := range d.pages {
		p.lines(p.foot, Style{}, d.wrap(d.footText(i+1, len(d.pages)), Style{}, p.foot.W))
	}
	if d.err == nil {
		d.err = d.pdf.Error()
	}
	if d.err != nil {
		return nil, d.err
	}
	var out bytes.Buffer
	if err := d.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("the pages cannot be written as PDF: %w", err)
	}
	return unscaled(out.Bytes())
}

// unscaled asks viewers to print at 100 % rather than fitted to the paper (ISO 32000-1, 12.2,
// PrintScaling, from PDF 1.6 on). The writer has no word for it, so it takes the place of an empty
// list of attached files of at least the same length; the offsets of the file stay.
func unscaled(pdf []byte) ([]byte, error) {
	empty := []byte("/Names <<\n/EmbeddedFiles << /Names [\n  \n] >>\n>>")
	wish := []byte("/ViewerPreferences << /PrintScaling /None >>")
	version := []byte("%PDF-1.3")
	if bytes.Count(pdf, empty) != 1 || !bytes.HasPrefix(pdf, version) {
		return nil, errors.New("the pages cannot be marked to print at 100 %: the PDF writer has changed")
	}
	wish = append(wish, bytes.Repeat([]byte(" "), len(empty)-len(wish))...)
	copy(pdf, "%PDF-1.6")
	return bytes.Replace(pdf, empty, wish, 1), nil
}

// footText is the foot of a page.
func (d *Doc) footText(page, of int) string {
	noun := "page"
	if len(d.slots) > 1 {
		noun = "card"
	}
	return fmt.Sprintf("%s · %s\u00a0%d\u00a0of\u00a0%d", d.info.Foot, noun, page, of)
}
