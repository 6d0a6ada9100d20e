package pyramid

import (
	"encoding/binary"
	"image"
)

// grayLayer is one byte of grey a pixel.
type grayLayer struct {
	pix    []uint8
	stride int
	sz     image.Point
}

func (l *grayLayer) size() image.Point { return l.sz }
func (l *grayLayer) bytes() int64      { return int64(l.stride) * int64(l.sz.Y) }

func (l *grayLayer) cut(pix []uint8, stride int, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		src := l.pix[y*l.stride+r.Min.X:][:r.Dx()]
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		for i, v := range src {
			binary.LittleEndian.PutUint32(dst[4*i:], uint32(v)*0x010101|0xff000000)
		}
	}
}

func (l *grayLayer) half() (layer, func(y0, y1 int)) {
	sz := halfSize(l.sz)
	out := &grayLayer{make([]uint8, sz.X*sz.Y), sz.X, sz}
	return out, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			a, b := pair(y, l.sz.Y)
			boxRow(out.pix[y*sz.X:][:sz.X], l.pix[a*l.stride:], l.pix[b*l.stride:], l.sz.X)
		}
	}
}
