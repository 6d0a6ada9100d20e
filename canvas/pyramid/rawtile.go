package pyramid

import "image"

// rawTile is one tile of a level in the level's own kind: its planes one after
// the other, without gaps. It is what is kept in memory for a level, and what
// goes to disk.
type rawTile struct {
	kind kind
	size image.Point
	pix  []uint8
	// One of these looks at pix, according to kind.
	gray grayLayer
	ycc  yccLayer
	rgba rgbaLayer
	pal  palLayer
}

func newRawTile(n int) *rawTile { return &rawTile{pix: make([]uint8, 0, n)} }

// shape makes s a raw tile of sz pixels with any content. The buffer grows where
// it must.
func (s *rawTile) shape(k kind, sz image.Point, lut *palette) *rawTile {
	n := k.bytes(sz)
	if cap(s.pix) < n {
		s.pix = make([]uint8, n)
	}
	s.pix, s.kind, s.size = s.pix[:n], k, sz
	switch k.model {
	case grey:
		s.gray = grayLayer{s.pix, sz.X, sz}
	case rgba:
		s.rgba = rgbaLayer{s.pix, 4 * sz.X, sz}
	case indexed:
		s.pal = palLayer{s.pix, sz.X, sz, lut}
	case ycc:
		s.ycc = s.planes()
	}
	return s
}

// planes finds the three planes in pix.
func (s *rawTile) planes() yccLayer {
	c := s.kind.chroma(s.size)
	y, n := s.size.X*s.size.Y, c.X*c.Y
	return yccLayer{
		y: s.pix[:y:y], cb: s.pix[y : y+n : y+n], cr: s.pix[y+n:],
		yStride: s.size.X, cStride: c.X,
		sx: uint(s.kind.sx), sy: uint(s.kind.sy), sz: s.size,
	}
}

// layer gives the raw tile's pixels.
func (s *rawTile) layer() layer {
	switch s.kind.model {
	case grey:
		return &s.gray
	case ycc:
		return &s.ycc
	case indexed:
		return &s.pal
	}
	return &s.rgba
}

// load copies the part r of a layer of the same kind, whose size the raw tile
// has.
func (s *rawTile) load(src layer, r image.Rectangle) error {
	w, h := r.Dx(), r.Dy()
	switch l := src.(type) {
	case *grayLayer:
		copyRows(s.pix, w, l.pix[r.Min.Y*l.stride+r.Min.X:], l.stride, w, h)
	case *palLayer:
		copyRows(s.pix, w, l.pix[r.Min.Y*l.stride+r.Min.X:], l.stride, w, h)
	case *rgbaLayer:
		copyRows(s.pix, 4*w, l.pix[r.Min.Y*l.stride+4*r.Min.X:], l.stride, 4*w, h)
	case *yccLayer:
		copyRows(s.ycc.y, w, l.y[r.Min.Y*l.yStride+r.Min.X:], l.yStride, w, h)
		c, at := s.kind.chroma(s.size), r.Min.Y>>l.sy*l.cStride+r.Min.X>>l.sx
		copyRows(s.ycc.cb, c.X, l.cb[at:], l.cStride, c.X, c.Y)
		copyRows(s.ycc.cr, c.X, l.cr[at:], l.cStride, c.X, c.Y)
	default:
		return src.cut(s.pix, 4*w, r, false)
	}
	return nil
}

// copyRows copies h rows of n bytes.
func copyRows(dst []uint8, dstStride int, src []uint8, srcStride, n, h int) {
	for y := range h {
		copy(dst[y*dstStride:][:n], src[y*srcStride:][:n])
	}
}

// shrink writes the raw tile at half its size, rounded up, to dst with the upper
// left corner at (x, y) there. dst has the half of the raw tile's kind. wide is
// room for the colours of a palette.
func (s *rawTile) shrink(dst *rawTile, at image.Point, wide *rawTile) {
	switch s.kind.model {
	case grey:
		d := plane{dst.pix[at.Y*dst.size.X+at.X:], dst.size.X, image.Point{}}
		d.shrink(plane{s.pix, s.size.X, s.size})
	case ycc:
		s.shrinkYCC(dst, at)
	case indexed:
		wide.shape(kind{model: rgba}, s.size, nil)
		_ = s.pal.cut(wide.pix, 4*s.size.X, image.Rectangle{Max: s.size}, false) // a raw tile's cut cannot fail
		wide.shrinkRGBA(dst, at)
	case rgba:
		s.shrinkRGBA(dst, at)
	}
}

func (s *rawTile) shrinkRGBA(dst *rawTile, at image.Point) {
	w := (s.size.X + 1) / 2
	for y := range (s.size.Y + 1) / 2 {
		a, b := pair(y, s.size.Y)
		to := dst.pix[4*((at.Y+y)*dst.size.X+at.X):][:4*w]
		shrinkRowRGBA(to, s.pix[4*a*s.size.X:], s.pix[4*b*s.size.X:], s.size.X)
	}
}

func (s *rawTile) shrinkYCC(dst *rawTile, at image.Point) {
	from, to := &s.ycc, &dst.ycc
	d := plane{to.y[at.Y*to.yStride+at.X:], to.yStride, image.Point{}}
	d.shrink(plane{from.y, from.yStride, s.size})
	c := s.kind.chroma(s.size)
	o := at.Y>>to.sy*to.cStride + at.X>>to.sx
	for _, p := range [2][2][]uint8{{to.cb, from.cb}, {to.cr, from.cr}} {
		d := plane{p[0][o:], to.cStride, image.Point{}}
		d.halve(plane{p[1], from.cStride, c}, from.sx == 0, from.sy == 0)
	}
}

// plane is one channel of one byte; size counts only where it is read.
type plane struct {
	pix    []uint8
	stride int
	size   image.Point
}

// shrink fills p with src at half the size by the filter for luma.
func (p plane) shrink(src plane) {
	w := (src.size.X + 1) / 2
	for y := range (src.size.Y + 1) / 2 {
		a, b := pair(y, src.size.Y)
		shrinkRow(p.pix[y*p.stride:][:w], src.pix[a*src.stride:], src.pix[b*src.stride:], src.size.X)
	}
}

// halve fills p with the means of src, at half the size across or down as
// told: chroma that is subsampled in a direction stays as it is there.
func (p plane) halve(src plane, across, down bool) {
	w, h := src.size.X, src.size.Y
	if down {
		h = (h + 1) / 2
	}
	for y := range h {
		a, b := y, y
		if down {
			a, b = pair(y, src.size.Y)
		}
		top, low, to := src.pix[a*src.stride:][:w], src.pix[b*src.stride:][:w], p.pix[y*p.stride:]
		switch {
		case across:
			boxRow(to[:(w+1)/2], top, low, w)
		case down:
			meanRows(to[:w], top, low, w)
		default:
			copy(to[:w], top)
		}
	}
}
