package rectify

import (
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
)

// ihdrEnd is where the first chunk of a PNG ends: the signature, and IHDR of
// 13 bytes (PNG Specification, third edition, 5.2 and 11.2.1).
const ihdrEnd = 8 + 12 + 13

// writePNG writes the picture as a PNG, in 8 bits of grey or 3 × 8 of colour.
func writePNG(w io.Writer, p *picture) error {
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	err := e.Encode(stopped{w, p}, &pixels{p: p})
	if p.err != nil { // the encoder may not have written since then
		return p.err
	}
	return err
}

// stopped is a writer that fails as soon as the drawing has, which ends the
// encoder of PNG and keeps that of JPEG from writing on.
type stopped struct {
	w io.Writer
	p *picture
}

func (s stopped) Write(b []byte) (int, error) {
	if s.p.err != nil {
		return 0, s.p.err
	}
	return s.w.Write(b)
}

// pixels hands the strips of a picture to an encoder that reads them pixel by
// pixel, from top to bottom, and never goes back over the edge of a strip.
type pixels struct {
	p  *picture
	at color.RGBA // that At returned: a colour of its own each time costs memory
}

// ColorModel is grey or opaque colour.
func (q *pixels) ColorModel() color.Model {
	if q.p.s.Grey {
		return color.GrayModel
	}
	return color.RGBAModel
}

// Bounds are those of map and band.
func (q *pixels) Bounds() image.Rectangle { return q.p.bounds() }

// Opaque says that no pixel is transparent.
func (q *pixels) Opaque() bool { return true }

// At returns a pixel of the strip that is written, or of the next, until the
// next call. Where there is none any more, p.err says why and the colour is
// that of the pixel before.
func (q *pixels) At(x, y int) color.Color {
	for p := q.p; p.err == nil && (p.strip == nil || y >= p.strip.Rect.Max.Y); {
		if !p.next() {
			break
		}
	}
	if q.p.err == nil {
		q.at = q.p.strip.RGBAAt(x, y)
	}
	return &q.at
}

// jpegQuality keeps thin lines clean (common practice, no source).
const jpegQuality = 92

// writeJPEG writes the picture as a JPEG. Its encoder does not stop when the
// drawing has: it goes on over one colour, which takes no drawing, and what it
// writes is refused.
func writeJPEG(w io.Writer, p *picture) error {
	err := jpeg.Encode(stopped{w, p}, &pixels{p: p}, &jpeg.Options{Quality: jpegQuality})
	if p.err != nil {
		return p.err
	}
	return err
}
