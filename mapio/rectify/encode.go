package rectify

import (
	"bytes"
	"encoding/binary"
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
	if p.err != nil { // the encoder may not have written since
		return p.err
	}
	return err
}

// stopped is a writer that fails as soon as the drawing has, which ends the
// encoder of PNG.
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
// pixel, row by row.
type pixels struct {
	p  *picture
	at color.RGBA // that At returned: a colour of its own each time costs memory
}

// ColorModel is that of greys, or of opaque colours.
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
// next call. Where there is none any more, p.err says why.
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

// Markers of a JPEG behind 0xff (ITU-T T.81, table B.1).
const (
	sof0 = 0xc0 // frame header
	rst0 = 0xd0 // the first of eight between intervals
	eoi  = 0xd9
	sos  = 0xda // scan header, before the data
	dri  = 0xdd // length of intervals
)

// mcuPx is the side of what the encoder takes together, as it halves the
// chroma along both axes.
const mcuPx = 16

// writeJPEG writes the picture as a JPEG. Each strip is encoded for itself and
// becomes one restart interval (ITU-T T.81, E.1.4): between strips the writing
// can stop, which the encoder, once begun, cannot.
func writeJPEG(w io.Writer, p *picture) error {
	var b bytes.Buffer
	for n := 0; p.next(); n++ {
		b.Reset()
		if err := jpeg.Encode(&b, p.strip, &jpeg.Options{Quality: jpegQuality}); err != nil {
			return err
		}
		before, data := []byte{0xff, rst0 + byte((n+7)%8)}, b.Bytes()[afterSegment(b.Bytes(), sos):b.Len()-2]
		if n == 0 {
			before = wholeHead(b.Bytes(), p.bounds().Size())
		}
		if _, err := w.Write(append(before, data...)); err != nil {
			return err
		}
	}
	if p.err != nil {
		return p.err
	}
	_, err := w.Write([]byte{0xff, eoi})
	return err
}

// wholeHead is what stands before the data of the whole picture: the head of
// its first strip, with the height and the interval of the whole.
func wholeHead(strip []byte, size image.Point) []byte {
	frame, scan, data := segment(strip, sof0), segment(strip, sos), afterSegment(strip, sos)
	head := bytes.Clone(strip[:scan])
	binary.BigEndian.PutUint16(head[frame+5:], uint16(size.Y)) // marker, length, precision, height
	perRow := (size.X + mcuPx - 1) / mcuPx
	head = binary.BigEndian.AppendUint16(append(head, 0xff, dri, 0, 4), uint16(perRow*stripRows/mcuPx))
	return append(head, strip[scan:data]...)
}

// segment is where the segment with a marker begins in a JPEG that has one, and
// afterSegment where it ends.
func segment(b []byte, marker byte) int {
	at := soiLen
	for b[at+1] != marker {
		at += 2 + int(binary.BigEndian.Uint16(b[at+2:]))
	}
	return at
}

func afterSegment(b []byte, marker byte) int {
	at := segment(b, marker)
	return at + 2 + int(binary.BigEndian.Uint16(b[at+2:]))
}
