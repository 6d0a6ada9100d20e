package lattice

import (
	"context"
	"image"
	"image/color"
)

// plane is a grey picture of one byte a pixel.
type plane struct {
	pix    []uint8
	stride int
	w, h   int
}

func (p plane) row(y int) []uint8 { return p.pix[y*p.stride:][:p.w] }

// maxPixels is the largest picture that is searched; larger ones are reduced
// until they fit. Lines of sheets that large are several pixels wide.
const maxPixels = 30_000_000

// planeOf gives the darkness-bearing plane of a picture: luma where the
// decoder left one, and (R + 2G + B)/4 otherwise. Every ink a grid is printed
// in is darker than paper in it. The second value is by how much the picture
// was reduced, a power of two.
func planeOf(ctx context.Context, m image.Image) (plane, int) {
	b := m.Bounds()
	if b.Dx()*b.Dy() <= maxPixels {
		return lumaOf(m), 1
	}
	if _, ok := m.(*image.Paletted); ok { // its colours are looked up once
		p := lumaOf(m)
		m = &image.Gray{Pix: p.pix, Stride: p.stride, Rect: b}
	}
	g, k := Reduced(ctx, b.Size(), func(r image.Rectangle) image.Image { return cutout{m, r.Add(b.Min)} })
	return lumaOf(g), k
}

func lumaOf(m image.Image) plane {
	b := m.Bounds()
	switch m := m.(type) {
	case *image.Gray:
		return plane{m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], m.Stride, b.Dx(), b.Dy()}
	case *image.YCbCr:
		return plane{m.Y[m.YOffset(b.Min.X, b.Min.Y):], m.YStride, b.Dx(), b.Dy()}
	}
	p := plane{make([]uint8, b.Dx()*b.Dy()), b.Dx(), b.Dx(), b.Dy()}
	twice(func(part, parts int) {
		for y := part; y < p.h; y += parts {
			lumaRow(p.row(y), m, b.Min.X, b.Min.Y+y)
		}
	})
	return p
}

// lumaRow fills a row from the pixels that begin at (x0, y).
func lumaRow(dst []uint8, m image.Image, x0, y int) {
	switch m := m.(type) {
	case cutout:
		lumaRow(dst, m.Image, x0, y)
	case *image.Gray:
		copy(dst, m.Pix[m.PixOffset(x0, y):])
	case *image.YCbCr:
		copy(dst, m.Y[m.YOffset(x0, y):])
	case *image.RGBA:
		mixRow(dst, m.Pix[m.PixOffset(x0, y):])
	case *image.NRGBA:
		mixRow(dst, m.Pix[m.PixOffset(x0, y):])
	case *image.Paletted:
		lut := paletteLuma(m.Palette)
		src := m.Pix[m.PixOffset(x0, y):][:len(dst)]
		for i, v := range src {
			dst[i] = lut[v]
		}
	default:
		for i := range dst {
			dst[i] = luma(m.At(x0+i, y))
		}
	}
}

func mixRow(dst, src []uint8) {
	src = src[:4*len(dst)]
	for i := range dst {
		p := src[4*i : 4*i+3 : 4*i+3]
		dst[i] = uint8((uint(p[0]) + 2*uint(p[1]) + uint(p[2]) + 2) >> 2)
	}
}

func paletteLuma(p color.Palette) (lut [256]uint8) {
	for i := range min(len(p), 256) {
		lut[i] = luma(p[i])
	}
	return lut
}

func luma(c color.Color) uint8 {
	r, g, b, _ := c.RGBA()
	return uint8((r + 2*g + b) >> 10)
}

// turned is the plane with rows and columns swapped.
func (p plane) turned() plane {
	const side = 64
	q := plane{make([]uint8, p.w*p.h), p.h, p.h, p.w}
	twice(func(part, parts int) {
		for y0 := part * side; y0 < p.h; y0 += parts * side {
			for x0 := 0; x0 < p.w; x0 += side {
				for y := y0; y < min(y0+side, p.h); y++ {
					src := p.row(y)
					for x := x0; x < min(x0+side, p.w); x++ {
						q.pix[x*q.stride+y] = src[x]
					}
				}
			}
		}
	})
	return q
}

// negative is the plane with dark and light swapped.
func (p plane) negative() plane {
	q := plane{make([]uint8, p.w*p.h), p.w, p.w, p.h}
	for y := range p.h {
		src, dst := p.row(y), q.row(y)
		for x, v := range src {
			dst[x] = 255 - v
		}
	}
	return q
}
