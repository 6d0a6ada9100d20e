package paper

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// MinRule is the finest line, in millimetres: one point, as 0.35 mm is written as 0.99 points.
const MinRule = mmPerPt

// Pen is how a line is drawn: its width in millimetres, at least MinRule; the lengths of
// its dashes and gaps in millimetres, none for a whole line; black, or white as the casing
// under a black one.
type Pen struct {
	Width float64
	Dash  []float64
	White bool
}

// pen sets the pen, and refuses what is too fine to see.
func (p *Page) pen(pen Pen) bool {
	d, pdf := p.doc, p.pdf()
	if !(pen.Width >= MinRule-1e-9) {
		d.fail("a line of %.2f mm is too fine to see in rain: %g mm is the least", pen.Width, MinRule)
	}
	ink := 0
	if pen.White {
		ink = 255
	}
	pdf.SetDrawColor(ink, ink, ink)
	pdf.SetLineWidth(pen.Width)
	pdf.SetDashPattern(pen.Dash, 0)
	return d.err == nil
}

// Stroke draws a line through points, back to the first if it is closed.
func (p *Page) Stroke(points []Point, closed bool, pen Pen) {
	if !p.pen(pen) || len(points) < 2 {
		return
	}
	p.trace(points, closed)
	p.pdf().DrawPath("D")
}

// Rule draws a straight black line.
func (p *Page) Rule(from, to Point, width float64) {
	p.Stroke([]Point{from, to}, false, Pen{Width: width})
}

// Frame draws the outline of a box, half of its width outside.
func (p *Page) Frame(r Rect, width float64) { p.Stroke(r.corners(), true, Pen{Width: width}) }

// Fill fills an area with black, or with white.
func (p *Page) Fill(points []Point, white bool) {
	if len(points) < 3 || p.doc.err != nil {
		return
	}
	p.fillInk(white)
	p.trace(points, true)
	p.pdf().DrawPath("F")
}

// Circle draws a circle; Disc fills one.
func (p *Page) Circle(c Point, radius float64, pen Pen) {
	if p.pen(pen) {
		p.pdf().Circle(c.X, c.Y, radius, "D")
	}
}

// Disc fills a circle with black, or with white.
func (p *Page) Disc(c Point, radius float64, white bool) {
	p.fillInk(white)
	p.pdf().Circle(c.X, c.Y, radius, "F")
}

func (p *Page) fillInk(white bool) {
	ink := 0
	if white {
		ink = 255
	}
	p.pdf().SetFillColor(ink, ink, ink)
}

func (p *Page) trace(points []Point, closed bool) {
	pdf := p.pdf()
	for i, at := range points {
		if i == 0 {
			pdf.MoveTo(at.X, at.Y)
		} else {
			pdf.LineTo(at.X, at.Y)
		}
	}
	if closed {
		pdf.ClosePath()
	}
}

// Within draws what draw draws, and nothing of it outside an area of at least three corners.
func (p *Page) Within(area []Point, draw func()) {
	points := make([]fpdf.PointType, len(area))
	for i, at := range area {
		points[i] = fpdf.PointType(at)
	}
	p.pdf().ClipPolygon(points, false)
	draw()
	p.pdf().ClipEnd()
}

// Picture places a JPEG or PNG picture, stretched to a box that is then turned clockwise
// about its centre by degrees. The same bytes stand in the file once.
func (p *Page) Picture(r Rect, degrees float64, file []byte) {
	pdf := p.pdf()
	opt := fpdf.ImageOptions{ImageType: "jpg"}
	if bytes.HasPrefix(file, []byte("\x89PNG")) {
		opt.ImageType = "png"
	}
	name := fmt.Sprintf("%x", sha256.Sum256(file))
	if pdf.GetImageInfo(name) == nil {
		p.doc.ordered(pdf.RegisterImageOptionsReader(name, opt, bytes.NewReader(file)))
	}
	c := r.Centre()
	pdf.TransformBegin()
	pdf.TransformRotate(-degrees, c.X, c.Y)
	pdf.ImageOptions(name, r.X, r.Y, r.W, r.H, false, opt, 0, "")
	pdf.TransformEnd()
}

// ordered gives a picture its place in the file. The writer of PDFs sorts pictures by their
// width, and those of one width stand in another order each time: so a fraction is added, which
// it leaves out of the file. Its state of a picture, as it encodes it, has the width at fourth.
func (d *Doc) ordered(info *fpdf.ImageInfoType) {
	const each, width = 1e-6, 3
	if d.pdf.Err() {
		return
	}
	d.pictures++
	state := []any{
		new([]byte), new([]byte), new(int), new(float64), new(float64), new(string), new([]byte), new(int),
		new(string), new(string), new([]int), new(float64), new(float64),
	}
	was, err := info.GobEncode()
	in := gob.NewDecoder(bytes.NewReader(was))
	for i := 0; err == nil && i < len(state); i++ {
		err = in.Decode(state[i])
	}
	*state[width].(*float64) += each * float64(d.pictures)
	var is bytes.Buffer
	out := gob.NewEncoder(&is)
	for i := 0; err == nil && i < len(state); i++ {
		err = out.Encode(state[i])
	}
	if err == nil {
		err = info.GobDecode(is.Bytes())
	}
	if err != nil {
		d.fail("a picture cannot be put on paper: %w", err)
	}
}
