package pyramid

import (
	"encoding/binary"
	"image"
)

// yccLayer is a luma plane and two chroma planes; chroma column x>>sx, row
// y>>sy belongs to luma (x, y).
type yccLayer struct {
	y, cb, cr        []uint8
	yStride, cStride int
	sx, sy           uint
	sz               image.Point
	own              int64
}

// newYCC reads the planes of m in place, or gives nil if the planes are not
// aligned with the picture's corner (a sub-image from an odd column) or are
// too short.
func newYCC(m *image.YCbCr) *yccLayer {
	sx, sy, known := chromaShift(m.SubsampleRatio)
	b := m.Bounds()
	if !known || b.Empty() || b.Min.X&(1<<sx-1) != 0 || b.Min.Y&(1<<sy-1) != 0 {
		return nil
	}
	yo, co := m.YOffset(b.Min.X, b.Min.Y), m.COffset(b.Min.X, b.Min.Y)
	yEnd, cEnd := m.YOffset(b.Max.X-1, b.Max.Y-1), m.COffset(b.Max.X-1, b.Max.Y-1)
	if yEnd >= len(m.Y) || cEnd >= len(m.Cb) || cEnd >= len(m.Cr) {
		return nil
	}
	return &yccLayer{
		y: m.Y[yo:], cb: m.Cb[co:], cr: m.Cr[co:],
		yStride: m.YStride, cStride: m.CStride,
		sx: sx, sy: sy, sz: b.Size(),
		own: int64(len(m.Y) + len(m.Cb) + len(m.Cr)),
	}
}

func chromaShift(r image.YCbCrSubsampleRatio) (sx, sy uint, known bool) {
	switch r {
	case image.YCbCrSubsampleRatio444:
		return 0, 0, true
	case image.YCbCrSubsampleRatio422:
		return 1, 0, true
	case image.YCbCrSubsampleRatio420:
		return 1, 1, true
	case image.YCbCrSubsampleRatio440:
		return 0, 1, true
	case image.YCbCrSubsampleRatio411:
		return 2, 0, true
	case image.YCbCrSubsampleRatio410:
		return 2, 1, true
	}
	return 0, 0, false
}

func (l *yccLayer) size() image.Point { return l.sz }
func (l *yccLayer) bytes() int64      { return l.own }
func (l *yccLayer) kind() kind        { return kind{ycc, uint8(l.sx), uint8(l.sy)} }

// cut converts by the JFIF formula in 16-bit fixed point, exactly as the
// standard library's color.YCbCrToRGB.
func (l *yccLayer) cut(pix []uint8, stride int, r image.Rectangle, raw bool) error {
	if raw {
		l.cutRaw(pix, stride, r)
		return nil
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		dst := pix[(y-r.Min.Y)*stride:][:4*r.Dx()]
		luma := l.y[y*l.yStride+r.Min.X:][:r.Dx()]
		c := (y >> l.sy) * l.cStride
		n := (r.Max.X-1)>>l.sx + 1
		cutRow(dst, luma, l.cb[c:c+n], l.cr[c:c+n], r.Min.X, l.sx)
	}
	return nil
}

// cutRaw is cut without the conversion: luma, both chroma samples and 255 in
// four bytes. Since the conversion is linear, mixing raw pixels and then
// converting the mixture, with convertRaw, comes to the same as the other way
// round but for rounding (up to 4 of 255), and there are far fewer mixtures than pixels under a turned region.
func (l *yccLayer) cutRaw(pix []uint8, stride int, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		luma := l.y[y*l.yStride+r.Min.X:][:r.Dx()]
		dst := pix[(y-r.Min.Y)*stride:][:4*len(luma)]
		c := (y >> l.sy) * l.cStride
		cb, cr := l.cb[c:], l.cr[c:]
		if l.sx == 0 {
			cb, cr = cb[r.Min.X:][:len(luma)], cr[r.Min.X:][:len(luma)]
			for i, v := range luma {
				binary.LittleEndian.PutUint32(dst[4*i:], uint32(v)|uint32(cb[i])<<8|uint32(cr[i])<<16|0xff000000)
			}
			continue
		}
		for i, v := range luma {
			k := (r.Min.X + i) >> l.sx
			binary.LittleEndian.PutUint32(dst[4*i:], uint32(v)|uint32(cb[k])<<8|uint32(cr[k])<<16|0xff000000)
		}
	}
}
