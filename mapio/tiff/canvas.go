package tiff

import (
	"image"
	"image/color"
)

// canvas is the picture that is being made of a window.
type canvas struct {
	p       *Page
	r       image.Rectangle
	m       mapping
	pix     []uint8 // all shapes but YCbCr
	stride  int
	palette color.Palette
	ycc     *image.YCbCr
	whole   image.Image // a JPEG that is the window, as its decoder left it
	room    func(bytes int) []uint8
	unpack  unpacker
}

// newCanvas makes the picture of a window in memory that room gives.
func (p *Page) newCanvas(r image.Rectangle, m mapping, room func(int) []uint8) (*canvas, error) {
	c := &canvas{p: p, r: r, m: m, room: room, unpack: newUnpacker(p, m.shape == shapeIndex)}
	if m.shape == shapeIndex {
		var err error
		if c.palette, err = p.palette(); err != nil {
			return nil, err
		}
	}
	if m.shape == shapeYCbCr {
		return c, c.plan()
	}
	c.stride = r.Dx() * m.bytes
	c.pix = room(c.stride * r.Dy())
	return c, nil
}

// plan makes the planes of a YCbCr picture, unless a JPEG that is the whole
// window brings them.
func (c *canvas) plan() error {
	sub := c.p.jpegSub(c.r)
	ratio, ok := ratioOf(sub)
	if !ok {
		return unsupported("its YCbCr colours are subsampled %d × %d", sub.X, sub.Y)
	}
	if !c.p.single(c.r) {
		c.makePlanes(ratio)
	}
	return nil
}

// single says that a window is the whole page, in one chunk of the same size.
func (p *Page) single(r image.Rectangle) bool {
	return r == p.Bounds() && p.chunk(0, 0, 0).Rectangle == r && p.planes == 1
}

// makePlanes makes the three planes.
func (c *canvas) makePlanes(ratio image.YCbCrSubsampleRatio) {
	like := image.NewYCbCr(image.Rectangle{Min: c.r.Min, Max: image.Pt(c.r.Max.X, c.r.Min.Y)}, ratio) // for its strides
	c.ycc = &image.YCbCr{Rect: c.r, SubsampleRatio: ratio, YStride: like.YStride, CStride: like.CStride}
	n := c.ycc.COffset(c.r.Min.X, c.r.Max.Y-1) + c.ycc.CStride
	c.ycc.Y, c.ycc.Cb, c.ycc.Cr = c.room(c.ycc.YStride*c.r.Dy()), c.room(n), c.room(n)
}

// blank makes the rows of a window black, or without any ink.
func (c *canvas) blank(r image.Rectangle) {
	if c.ycc == nil {
		clear(c.pix[(r.Min.Y-c.r.Min.Y)*c.stride : (r.Max.Y-c.r.Min.Y)*c.stride])
		return
	}
	clear(c.ycc.Y[c.ycc.YOffset(c.r.Min.X, r.Min.Y) : c.ycc.YOffset(c.r.Min.X, r.Max.Y-1)+c.ycc.YStride])
	from, to := c.ycc.COffset(c.r.Min.X, r.Min.Y), c.ycc.COffset(c.r.Min.X, r.Max.Y-1)+c.ycc.CStride
	fill(c.ycc.Cb[from:to], 128)
	fill(c.ycc.Cr[from:to], 128)
}

func fill(b []uint8, v uint8) {
	for i := range b {
		b[i] = v
	}
}

// picture gives the result.
func (c *canvas) picture() image.Image {
	switch c.m.shape {
	case shapeGrey:
		return &image.Gray{Pix: c.pix, Stride: c.stride, Rect: c.r}
	case shapeIndex:
		return &image.Paletted{Pix: c.pix, Stride: c.stride, Rect: c.r, Palette: c.palette}
	case shapeNRGBA:
		return &image.NRGBA{Pix: c.pix, Stride: c.stride, Rect: c.r}
	case shapeInk:
		mixInks(c.pix)
		return &image.RGBA{Pix: c.pix, Stride: c.stride, Rect: c.r}
	case shapeYCbCr:
		if c.whole != nil {
			return c.whole
		}
		if c.ycc == nil {
			c.makePlanes(image.YCbCrSubsampleRatio444)
			c.blank(c.r)
		}
		return c.ycc
	}
	return &image.RGBA{Pix: c.pix, Stride: c.stride, Rect: c.r}
}

// mixInks turns cyan, magenta, yellow and black into red, green, blue and
// opacity, without a profile.
func mixInks(pix []uint8) {
	for i := 0; i+4 <= len(pix); i += 4 {
		p := pix[i : i+4 : i+4]
		p[0], p[1], p[2] = color.CMYKToRGB(p[0], p[1], p[2], p[3])
		p[3] = 255
	}
}

func (c *canvas) absent() bool { return c.m.shape != shapeYCbCr }

// row writes the part of a stored row that lies in the window; YCbCr colours
// come as JPEG alone.
func (c *canvas) row(s *scratch, at chunk, y int, row []byte) {
	x0, x1 := max(at.Min.X, c.r.Min.X), min(at.Max.X, c.r.Max.X)
	n := c.p.perChunk()
	samples := c.unpack.bytes(s, row, (x0-at.Min.X)*n, (x1-at.Min.X)*n)
	from := (y-c.r.Min.Y)*c.stride + (x0-c.r.Min.X)*c.m.bytes
	out := c.pix[from : from+(x1-x0)*c.m.bytes]
	if c.p.planes > 1 {
		c.plane(out, samples, at.plane)
		return
	}
	c.pixels(out, samples, n)
}

// pixels writes pixels whose samples stand together, n each.
func (c *canvas) pixels(out, samples []uint8, n int) {
	switch {
	case c.m.bytes == 1 && n == 1 && c.m.invert:
		for i, v := range samples {
			out[i] = ^v
		}
	case c.m.bytes == n && c.m.from == [4]int{0, 1, 2, 3}, c.m.bytes == 1 && n == 1:
		copy(out, samples)
	case c.m.bytes == 4 && n == 3:
		for i, j := 0, 0; i+4 <= len(out) && j+3 <= len(samples); i, j = i+4, j+3 {
			to, from := out[i:i+4:i+4], samples[j:j+3:j+3]
			to[0], to[1], to[2], to[3] = from[0], from[1], from[2], 255
		}
	default:
		for k := range c.m.bytes {
			c.channel(out[k:], samples, k, n)
		}
	}
}

// channel writes one byte of each pixel, from samples that stand n apart
// between pixels.
func (c *canvas) channel(out, samples []uint8, k, n int) {
	from := c.m.from[k]
	if from == opaque {
		for i := 0; i < len(out); i += c.m.bytes {
			out[i] = 255
		}
		return
	}
	var flip uint8
	if c.m.invert && k < 3 {
		flip = 255
	}
	for i, j := 0, from; i < len(out) && j < len(samples); i, j = i+c.m.bytes, j+n {
		out[i] = samples[j] ^ flip
	}
}

// plane writes the bytes that one plane makes; the first also writes those
// that no plane does.
func (c *canvas) plane(out, samples []uint8, plane int) {
	for k := range c.m.bytes {
		if c.m.from[k] != plane && (c.m.from[k] != opaque || plane != 0) {
			continue
		}
		if c.m.from[k] == opaque {
			c.channel(out[k:], nil, k, 1)
			continue
		}
		one := *c
		one.m.from[k] = 0
		one.channel(out[k:], samples, k, 1)
	}
}
