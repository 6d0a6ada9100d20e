package scan

import (
	"image"

	"github.com/disintegration/imaging"
)

// orient turns a stored picture into the one shown. Values 2 to 4 work in
// place, 5 to 8 plane by plane into new ones; the form stays. In YCbCr pictures with
// an odd side the chroma may move by up to one picture pixel against the
// luma, since its samples cannot be split.
func orient(img image.Image, o int) image.Image {
	if o < 2 || o > 8 {
		return img
	}
	switch m := img.(type) {
	case *image.Gray:
		p := plane{m.Pix, m.Stride, m.Rect.Dx(), m.Rect.Dy(), 1}.turn(o)
		return &image.Gray{Pix: p.pix, Stride: p.stride, Rect: image.Rect(0, 0, p.w, p.h)}
	case *image.Paletted:
		p := plane{m.Pix, m.Stride, m.Rect.Dx(), m.Rect.Dy(), 1}.turn(o)
		return &image.Paletted{Pix: p.pix, Stride: p.stride, Rect: image.Rect(0, 0, p.w, p.h), Palette: m.Palette}
	case *image.YCbCr:
		if t := orientYCC(m, o); t != nil {
			return t
		}
	case *image.RGBA:
		p := plane{m.Pix, m.Stride, m.Rect.Dx(), m.Rect.Dy(), 4}.turn(o)
		return &image.RGBA{Pix: p.pix, Stride: p.stride, Rect: image.Rect(0, 0, p.w, p.h)}
	case *image.NRGBA:
		p := plane{m.Pix, m.Stride, m.Rect.Dx(), m.Rect.Dy(), 4}.turn(o)
		return &image.NRGBA{Pix: p.pix, Stride: p.stride, Rect: image.Rect(0, 0, p.w, p.h)}
	}
	return orientAny(img, o)
}

func orientAny(img image.Image, o int) image.Image {
	switch o {
	case 2:
		return imaging.FlipH(img)
	case 3:
		return imaging.Rotate180(img)
	case 4:
		return imaging.FlipV(img)
	case 5:
		return imaging.Transpose(img)
	case 6:
		return imaging.Rotate270(img) // counter-clockwise
	case 7:
		return imaging.Transverse(img)
	default:
		return imaging.Rotate90(img)
	}
}

// orientYCC gives nil for the ratios that have no counterpart on their side.
func orientYCC(m *image.YCbCr, o int) image.Image {
	ratio := m.SubsampleRatio
	if o >= 5 {
		switch ratio {
		case image.YCbCrSubsampleRatio422:
			ratio = image.YCbCrSubsampleRatio440
		case image.YCbCrSubsampleRatio440:
			ratio = image.YCbCrSubsampleRatio422
		case image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410:
			return nil
		}
	}
	w, h := m.Rect.Dx(), m.Rect.Dy()
	cw := m.COffset(w-1, 0) + 1
	ch := m.COffset(0, h-1)/m.CStride + 1
	out := &image.YCbCr{SubsampleRatio: ratio}
	y := plane{m.Y, m.YStride, w, h, 1}.turn(o)
	m.Y = nil // release each plane before the next is turned
	cb := plane{m.Cb, m.CStride, cw, ch, 1}.turn(o)
	m.Cb = nil
	cr := plane{m.Cr, m.CStride, cw, ch, 1}.turn(o)
	m.Cr = nil
	out.Y, out.YStride, out.Rect = y.pix, y.stride, image.Rect(0, 0, y.w, y.h)
	out.Cb, out.Cr, out.CStride = cb.pix, cr.pix, cb.stride
	return out
}

// plane is h rows of w pixels of px bytes each.
type plane struct {
	pix              []uint8
	stride, w, h, px int
}

// turn applies an orientation: 2 to 4 in place, 5 to 8 into a new plane.
func (p plane) turn(o int) plane {
	if o >= 5 {
		p = p.transpose()
		o = map[int]int{5: 1, 6: 2, 7: 3, 8: 4}[o]
	}
	if o == 2 || o == 3 {
		p.mirror()
	}
	if o == 3 || o == 4 {
		p.upend()
	}
	return p
}

func (p plane) row(y int) []uint8 { return p.pix[y*p.stride:][:p.w*p.px] }

// mirror reverses each row.
func (p plane) mirror() {
	for y := range p.h {
		r := p.row(y)
		for i, j := 0, len(r)-p.px; i < j; i, j = i+p.px, j-p.px {
			for k := range p.px {
				r[i+k], r[j+k] = r[j+k], r[i+k]
			}
		}
	}
}

// upend reverses the order of the rows.
func (p plane) upend() {
	for y := range p.h / 2 {
		a, b := p.row(y), p.row(p.h-1-y)
		for i := range a {
			a[i], b[i] = b[i], a[i]
		}
	}
}

// transpose swaps columns and rows, in squares that fit the processor's cache.
func (p plane) transpose() plane {
	const side = 64
	out := plane{make([]uint8, p.w*p.h*p.px), p.h * p.px, p.h, p.w, p.px}
	for y0 := 0; y0 < p.h; y0 += side {
		y1 := min(y0+side, p.h)
		for x0 := 0; x0 < p.w; x0 += side {
			square := image.Rect(x0, y0, min(x0+side, p.w), y1)
			if p.px == 1 {
				p.singles(out, square)
			} else {
				p.fours(out, square)
			}
		}
	}
	return out
}

// singles exchanges columns and rows of a square of single bytes.
func (p plane) singles(out plane, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			out.pix[x*out.stride+y] = p.pix[y*p.stride+x]
		}
	}
}

// fours exchanges columns and rows of a square of four bytes per pixel.
func (p plane) fours(out plane, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			copy(out.pix[x*out.stride+4*y:][:4], p.pix[y*p.stride+4*x:][:4])
		}
	}
}

// StoredFromShown is the transform [a b c d e f] that takes a point of the
// picture as shown, (col, row), to the stored picture: a·col + b·row + c,
// d·col + e·row + f. The eight cases are those of TIFF 6.0, tag 274.
func (h Header) StoredFromShown() [6]float64 {
	sw, sh := h.Stored()
	w, ht := float64(sw), float64(sh)
	switch h.Orientation {
	case 2: // mirrored left to right
		return [6]float64{-1, 0, w, 0, 1, 0}
	case 3: // upside down
		return [6]float64{-1, 0, w, 0, -1, ht}
	case 4: // mirrored top to bottom
		return [6]float64{1, 0, 0, 0, -1, ht}
	case 5: // first row is the left side
		return [6]float64{0, 1, 0, 1, 0, 0}
	case 6: // first row is the right side
		return [6]float64{0, 1, 0, -1, 0, ht}
	case 7: // first row is the right side, seen from below
		return [6]float64{0, -1, w, -1, 0, ht}
	case 8: // first row is the left side, seen from below
		return [6]float64{0, -1, w, 1, 0, 0}
	}
	return [6]float64{1, 0, 0, 0, 1, 0}
}
