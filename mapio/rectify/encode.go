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
	return p.encoded(func(m image.Image) error { return e.Encode(w, m) })
}

// over is what an encoder is stopped with once the drawing has failed: neither of the two
// stops by itself before it has gone over every pixel.
type over struct{}

// encoded runs an encoder over the picture until the drawing ends or fails. The error is
// that of the drawing, else that of the encoder.
func (p *picture) encoded(encode func(image.Image) error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(over); !ok {
				panic(r)
			}
			if err = p.err; err == nil {
				err = io.ErrUnexpectedEOF
			}
		}
	}()
	return encode(&pixels{p: p})
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
// next call. Where there is none any more, p.err says why and the encoder is stopped.
func (q *pixels) At(x, y int) color.Color {
	for p := q.p; p.strip == nil || y >= p.strip.Rect.Max.Y; {
		if !p.next() {
			panic(over{})
		}
	}
	q.at = q.p.strip.RGBAAt(x, y)
	return &q.at
}

// jpegQuality keeps thin lines clean (common practice, no source).
const jpegQuality = 92

// writeJPEG writes the picture as a JPEG.
func writeJPEG(w io.Writer, p *picture) error {
	return p.encoded(func(m image.Image) error {
		return jpeg.Encode(w, m, &jpeg.Options{Quality: jpegQuality})
	})
}
