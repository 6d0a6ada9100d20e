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
func (l *grayLayer) kind() kind        { return kind{model: grey} }
func (l *grayLayer) bytes() int64      { return int64(l.stride) * int64(l.sz.Y) }

func (l *grayLayer) cut(pix []uint8, stride int, r image.Rectangle, _ bool) error {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		src := l.pix[y*l.stride+r.Min.X:][:r.Dx()]
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		for i, v := range src {
			binary.LittleEndian.PutUint32(dst[4*i:], uint32(v)*0x010101|0xff000000)
		}
	}
	return nil
}
