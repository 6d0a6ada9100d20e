package tiff

import (
	"image"
	"image/draw"
)

// jpeg writes a decoded chunk. Four samples come inverted, as the decoders
// take them for the inks of Adobe's programs.
func (c *canvas) jpeg(at chunk, m image.Image) {
	switch m := m.(type) {
	case *image.YCbCr:
		c.jpegColours(at, m)
	case *image.Gray:
		c.jpegRows(at, m.Rect.Size(), m.Stride, 1, m.Pix)
	case *image.RGBA:
		c.jpegRows(at, m.Rect.Size(), m.Stride, 4, m.Pix)
	case *image.CMYK:
		for i, v := range m.Pix {
			m.Pix[i] = ^v
		}
		c.jpegRows(at, m.Rect.Size(), m.Stride, 4, m.Pix)
	}
}

// jpegColours copies brightness and differences.
func (c *canvas) jpegColours(at chunk, m *image.YCbCr) {
	if c.m.shape != shapeYCbCr { // RGB that the decoder left as YCbCr
		out := image.NewRGBA(m.Rect)
		draw.Draw(out, out.Rect, m, m.Rect.Min, draw.Src)
		c.jpeg(at, out)
		return
	}
	part := at.Intersect(c.r).Intersect(image.Rectangle{Min: at.Min, Max: at.Min.Add(m.Rect.Size())})
	if c.ycc == nil {
		if m.Rect == c.r {
			c.whole = m
			return
		}
		c.makePlanes(m.SubsampleRatio)
		c.blank(c.r)
	}
	for y := part.Min.Y; y < part.Max.Y; y++ {
		from := m.YOffset(part.Min.X-at.Min.X, y-at.Min.Y)
		copy(c.ycc.Y[c.ycc.YOffset(part.Min.X, y):], m.Y[from:from+part.Dx()])
		c.differences(at, m, part, y)
	}
}

// differences copies the two of a row; where a chunk is subsampled otherwise
// than the picture, or begins within a unit, one by one.
func (c *canvas) differences(at chunk, m *image.YCbCr, part image.Rectangle, y int) {
	if part.Empty() {
		return
	}
	fromY := y - at.Min.Y
	i, j := c.ycc.COffset(part.Min.X, y), m.COffset(part.Min.X-at.Min.X, fromY)
	n := m.COffset(part.Max.X-1-at.Min.X, fromY) - j
	const widest = 4
	if c.ycc.SubsampleRatio == m.SubsampleRatio && at.Min.X%widest == 0 && at.Min.Y%2 == 0 {
		copy(c.ycc.Cb[i:i+n+1], m.Cb[j:])
		copy(c.ycc.Cr[i:i+n+1], m.Cr[j:])
		return
	}
	for x := part.Min.X; x < part.Max.X; x++ {
		i, j := c.ycc.COffset(x, y), m.COffset(x-at.Min.X, fromY)
		c.ycc.Cb[i], c.ycc.Cr[i] = m.Cb[j], m.Cr[j]
	}
}

// jpegRows writes rows of pixels of so many bytes, of which a chunk's own
// samples are the first.
func (c *canvas) jpegRows(at chunk, size image.Point, stride, bytes int, pix []uint8) {
	n := c.p.perChunk()
	x0, x1 := max(at.Min.X, c.r.Min.X), min(at.Max.X, c.r.Max.X, at.Min.X+size.X)
	if x0 >= x1 {
		return
	}
	for y := max(at.Min.Y, c.r.Min.Y); y < min(at.Max.Y, c.r.Max.Y, at.Min.Y+size.Y); y++ {
		row := pix[(y-at.Min.Y)*stride+(x0-at.Min.X)*bytes:][:(x1-x0)*bytes]
		from := (y-c.r.Min.Y)*c.stride + (x0-c.r.Min.X)*c.m.bytes
		out := c.pix[from : from+(x1-x0)*c.m.bytes]
		switch {
		case c.p.planes > 1:
			c.plane(out, row, at.plane)
		case n == 3 && bytes == 4 && c.m.bytes == 4: // opaque already
			copy(out, row)
		default:
			c.pixels(out, row, bytes)
		}
	}
}
