package rectify

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
)

// pngLevel is the level of compression. With every row foretold by Paeth's
// filter it makes files 5 % larger than the best that image/png does, in a
// quarter of its time, and 13 % smaller than the fastest of it.
const pngLevel = 4

// idatSize is how much compressed data goes into a chunk.
const idatSize = 1 << 16

// writePNG writes the picture as a PNG (PNG Specification, third edition), in 8
// bits of grey or in 3 × 8 bits of colour. words are the chunks that go before
// the pixels.
func writePNG(w io.Writer, p *picture, words []byte) error {
	head := append([]byte("\x89PNG\r\n\x1a\n"), appendChunk(nil, "IHDR", p.header())...)
	if _, err := w.Write(append(head, words...)); err != nil {
		return err
	}
	data := &chunked{w: w}
	z, err := zlib.NewWriterLevel(data, pngLevel)
	if err != nil {
		return err
	}
	f := newFiltered(p.channels(), p.f.Cols)
	for p.next() {
		for y := p.strip.Rect.Min.Y; y < p.strip.Rect.Max.Y; y++ {
			if _, err := z.Write(f.row(p.strip.Pix[p.strip.PixOffset(0, y):])); err != nil {
				return err
			}
		}
	}
	if p.err != nil || p.ctx.Err() != nil {
		return p.err // or the context says why
	}
	if err := z.Close(); err != nil {
		return err
	}
	if err := data.flush(); err != nil {
		return err
	}
	_, err = w.Write(appendChunk(nil, "IEND", nil))
	return err
}

func (p *picture) channels() int {
	if p.s.Grey {
		return 1
	}
	return 3
}

// header is the body of IHDR.
func (p *picture) header() []byte {
	kind := byte(2) // colour
	if p.s.Grey {
		kind = 0
	}
	out := binary.BigEndian.AppendUint32(nil, uint32(p.f.Cols))
	out = binary.BigEndian.AppendUint32(out, uint32(p.rows))
	return append(out, 8, kind, 0, 0, 0)
}

// filtered foretells rows by Paeth's filter (ibid., 9.4).
type filtered struct {
	n          int    // bytes a pixel
	now, above []byte // with n bytes of nothing before them
	out        []byte
}

func newFiltered(n, cols int) *filtered {
	f := &filtered{n: n, now: make([]byte, n*(cols+1)), above: make([]byte, n*(cols+1)), out: make([]byte, 1+n*cols)}
	f.out[0] = 4
	return f
}

// row is a row of RGBA as it goes into the file.
func (f *filtered) row(pix []byte) []byte {
	f.now, f.above = f.above, f.now
	n := f.n
	for i := range len(f.now)/n - 1 {
		copy(f.now[n*(i+1):n*(i+2)], pix[4*i:])
	}
	left, now, corner, above := f.now, f.now[n:], f.above, f.above[n:]
	for i := range f.out[1:] {
		f.out[1+i] = now[i] - paeth(int(left[i]), int(above[i]), int(corner[i]))
	}
	return f.out
}

// paeth is that of three neighbours which lies nearest to left + above − corner.
func paeth(left, above, corner int) byte {
	dl, da := above-corner, left-corner
	dc := dl + da
	dl, da, dc = max(dl, -dl), max(da, -da), max(dc, -dc)
	switch {
	case dl <= da && dl <= dc:
		return byte(left)
	case da <= dc:
		return byte(above)
	}
	return byte(corner)
}

// chunked gathers compressed data into IDAT chunks.
type chunked struct {
	w   io.Writer
	buf bytes.Buffer
}

func (c *chunked) Write(b []byte) (int, error) {
	c.buf.Write(b)
	if c.buf.Len() < idatSize {
		return len(b), nil
	}
	return len(b), c.flush()
}

func (c *chunked) flush() error {
	if c.buf.Len() == 0 {
		return nil
	}
	_, err := c.w.Write(appendChunk(nil, "IDAT", c.buf.Bytes()))
	c.buf.Reset()
	return err
}
