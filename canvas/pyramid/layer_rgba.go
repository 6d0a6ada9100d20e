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
func (l *rgbaLayer) kind() kind        { return kind{model: rgba} }
func (l *rgbaLayer) bytes() int64      { return int64(l.stride) * int64(l.sz.Y) }

func (l *rgbaLayer) cut(pix []uint8, stride int, r image.Rectangle, _ bool) error {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		copy(pix[(y-r.Min.Y)*stride:][:4*r.Dx()], l.pix[y*l.stride+4*r.Min.X:])
	}
	return nil
}

// nrgbaLayer is RGBA with straight alpha; its halves are premultiplied.
type nrgbaLayer struct {
	pix    []uint8
	stride int
	sz     image.Point
}

func (l *nrgbaLayer) size() image.Point { return l.sz }
func (l *nrgbaLayer) kind() kind        { return kind{model: rgba} }
func (l *nrgbaLayer) bytes() int64      { return int64(l.stride) * int64(l.sz.Y) }

func (l *nrgbaLayer) cut(pix []uint8, stride int, r image.Rectangle, _ bool) error {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		copy(dst, l.pix[y*l.stride+4*r.Min.X:])
		for i := 0; i < len(dst); i += 4 {
			if a := uint32(dst[i+3]); a != 255 {
				premultiply(dst[i:i+3], a)
			}
		}
	}
	return nil
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
	lut    *palette
}

func (l *palLayer) size() image.Point { return l.sz }
func (l *palLayer) kind() kind        { return kind{model: indexed} }
func (l *palLayer) bytes() int64      { return int64(l.stride) * int64(l.sz.Y) }

func (l *palLayer) cut(pix []uint8, stride int, r image.Rectangle, _ bool) error {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		for i, v := range l.pix[y*l.stride+r.Min.X:][:r.Dx()] {
			copy(dst[4*i:4*i+4], l.lut[v][:])
		}
	}
	return nil
}

// lutOf is the palette of a layer, nil if it has none.
func lutOf(l layer) *palette {
	if p, ok := l.(*palLayer); ok {
		return p.lut
	}
	return nil
}

// anyLayer reads any picture through At.
type anyLayer struct{ img image.Image }

func (l *anyLayer) size() image.Point { return l.img.Bounds().Size() }
func (l *anyLayer) kind() kind        { return kind{model: rgba} }
func (l *anyLayer) bytes() int64      { return 0 }

func (l *anyLayer) cut(pix []uint8, stride int, r image.Rectangle, _ bool) error {
	o := l.img.Bounds().Min
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		for i := range r.Dx() {
			c := color.RGBAModel.Convert(l.img.At(o.X+r.Min.X+i, o.Y+y)).(color.RGBA)
			copy(dst[4*i:4*i+4], []uint8{c.R, c.G, c.B, c.A})
		}
	}
	return nil
}
