package pyramid

import (
	"image"
	"image/color"
)

// rgbaLayer is premultiplied RGBA.
type rgbaLayer struct {
	pix    []uint8
	stride int
	sz     image.Point
}

func (l *rgbaLayer) size() image.Point { return l.sz }
func (l *rgbaLayer) bytes() int64      { return int64(l.stride) * int64(l.sz.Y) }

func (l *rgbaLayer) cut(pix []uint8, stride int, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		copy(pix[(y-r.Min.Y)*stride:][:4*r.Dx()], l.pix[y*l.stride+4*r.Min.X:])
	}
}

func (l *rgbaLayer) half() (layer, func(y0, y1 int)) {
	out := newRGBALayer(halfSize(l.sz))
	return out, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			a, b := pair(y, l.sz.Y)
			boxRowRGBA(out.row(y), l.pix[a*l.stride:], l.pix[b*l.stride:], l.sz.X)
		}
	}
}

func (l *rgbaLayer) row(y int) []uint8 { return l.pix[y*l.stride:][:4*l.sz.X] }

func newRGBALayer(sz image.Point) *rgbaLayer {
	return &rgbaLayer{make([]uint8, 4*sz.X*sz.Y), 4 * sz.X, sz}
}

// halfByRows makes the half-size RGBA layer of a layer of any form, two rows
// at a time.
func halfByRows(l layer) (layer, func(y0, y1 int)) {
	sz := l.size()
	out := newRGBALayer(halfSize(sz))
	return out, func(y0, y1 int) {
		two := make([]uint8, 8*sz.X)
		for y := y0; y < y1; y++ {
			a, b := pair(y, sz.Y)
			l.cut(two, 4*sz.X, image.Rect(0, a, sz.X, b+1))
			second := two[(b-a)*4*sz.X:]
			boxRowRGBA(out.row(y), two, second, sz.X)
		}
	}
}

// nrgbaLayer is RGBA with straight alpha; its halves are premultiplied.
type nrgbaLayer struct {
	pix    []uint8
	stride int
	sz     image.Point
}

func (l *nrgbaLayer) size() image.Point               { return l.sz }
func (l *nrgbaLayer) bytes() int64                    { return int64(l.stride) * int64(l.sz.Y) }
func (l *nrgbaLayer) half() (layer, func(y0, y1 int)) { return halfByRows(l) }

func (l *nrgbaLayer) cut(pix []uint8, stride int, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		copy(dst, l.pix[y*l.stride+4*r.Min.X:])
		for i := 0; i < len(dst); i += 4 {
			if a := uint32(dst[i+3]); a != 255 {
				premultiply(dst[i:i+3], a)
			}
		}
	}
}

func premultiply(rgb []uint8, a uint32) {
	for i, v := range rgb {
		rgb[i] = uint8((uint32(v)*a + 127) / 255)
	}
}

// palLayer is one palette index a pixel.
type palLayer struct {
	pix    []uint8
	stride int
	sz     image.Point
	lut    *[256][4]uint8
}

func (l *palLayer) size() image.Point               { return l.sz }
func (l *palLayer) bytes() int64                    { return int64(l.stride) * int64(l.sz.Y) }
func (l *palLayer) half() (layer, func(y0, y1 int)) { return halfByRows(l) }

func (l *palLayer) cut(pix []uint8, stride int, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		for i, v := range l.pix[y*l.stride+r.Min.X:][:r.Dx()] {
			copy(dst[4*i:4*i+4], l.lut[v][:])
		}
	}
}

// anyLayer reads any picture through At.
type anyLayer struct{ img image.Image }

func (l *anyLayer) size() image.Point               { return l.img.Bounds().Size() }
func (l *anyLayer) bytes() int64                    { return 0 }
func (l *anyLayer) half() (layer, func(y0, y1 int)) { return halfByRows(l) }

func (l *anyLayer) cut(pix []uint8, stride int, r image.Rectangle) {
	o := l.img.Bounds().Min
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		for i := range r.Dx() {
			c := color.RGBAModel.Convert(l.img.At(o.X+r.Min.X+i, o.Y+y)).(color.RGBA)
			copy(dst[4*i:4*i+4], []uint8{c.R, c.G, c.B, c.A})
		}
	}
}
