package tiff

import (
	"image"
	"image/color"
)

// shape is the form in which a page's pixels come out.
type shape int

const (
	shapeNone  shape = iota // not a picture: terrain
	shapeGrey               // one byte
	shapeIndex              // one byte, a palette
	shapeRGBA               // four bytes, opaque or premultiplied
	shapeNRGBA              // four bytes, not premultiplied
	shapeInk                // four bytes CMYK, mixed to RGBA at the end
	shapeYCbCr              // three planes
)

const opaque = -1 // in mapping: no sample, but 255

// mapping says which sample makes which byte of a pixel.
type mapping struct {
	shape  shape
	bytes  int    // of a pixel of the result
	from   [4]int // the sample for each byte, or opaque
	invert bool   // colours are stored upside down
}

// readColour checks the fields of colour against each other.
func (p *Page) readColour() error {
	need, ok := map[int]int{
		photoWhiteIsZero: 1, photoBlackIsZero: 1, photoRGB: 3, photoPalette: 1, photoSeparated: 4, photoYCbCr: 3,
	}[p.photometric]
	switch {
	case !ok:
		return unsupported("its colours are of kind %d (PhotometricInterpretation)", p.photometric)
	case p.Channels < need:
		return corrupt("it has %d samples per pixel, but its kind of colour needs %d", p.Channels, need)
	case p.photometric == photoSeparated && p.d.number(tagInkSet, 1) != 1:
		return unsupported("it uses inks other than cyan, magenta, yellow and black")
	case p.Paletted && (p.BitDepth > 8 || p.Format != Unsigned):
		return unsupported("its palette has indices of %d bits, but at most 8 can be read", p.BitDepth)
	case p.photometric == photoYCbCr:
		return p.readYCbCr()
	}
	return nil
}

// readYCbCr takes the subsampling of a colour stored as brightness and two
// differences, which JPEG alone is read of: GDAL writes no other.
func (p *Page) readYCbCr() error {
	if p.compression != compJPEG {
		return unsupported("it has YCbCr colours that are not in JPEG")
	}
	if p.BitDepth != 8 || p.Format != Unsigned || p.Channels != 3 || p.planes != 1 {
		return unsupported("its YCbCr colours have %d samples of %d bits in %d planes, but only 3 samples of 8 bits in one plane can be read", p.Channels, p.BitDepth, p.planes)
	}
	v, err := p.d.whole(tagYCbCrSubSampling, 2)
	if err != nil {
		return err
	}
	p.sub = image.Pt(2, 2)
	if len(v) == 2 {
		p.sub = image.Pt(int(min(v[0], 99)), int(min(v[1], 99)))
	}
	if _, ok := ratioOf(p.sub); !ok {
		return unsupported("its YCbCr colours are subsampled %d × %d", p.sub.X, p.sub.Y)
	}
	return nil
}

// ratioOf gives the standard library's name of a subsampling.
func ratioOf(sub image.Point) (image.YCbCrSubsampleRatio, bool) {
	switch sub {
	case image.Pt(1, 1):
		return image.YCbCrSubsampleRatio444, true
	case image.Pt(2, 1):
		return image.YCbCrSubsampleRatio422, true
	case image.Pt(2, 2):
		return image.YCbCrSubsampleRatio420, true
	case image.Pt(1, 2):
		return image.YCbCrSubsampleRatio440, true
	case image.Pt(4, 1):
		return image.YCbCrSubsampleRatio411, true
	case image.Pt(4, 2):
		return image.YCbCrSubsampleRatio410, true
	}
	return 0, false
}

// mapping gives the way from samples to pixels; shapeNone where the samples
// make no picture.
func (p *Page) mapping() mapping {
	if p.Format != Unsigned || p.BitDepth > 16 {
		return mapping{}
	}
	switch p.photometric {
	case photoPalette:
		return mapping{shape: shapeIndex, bytes: 1}
	case photoSeparated:
		return mapping{shape: shapeInk, bytes: 4, from: [4]int{0, 1, 2, 3}}
	case photoYCbCr:
		return mapping{shape: shapeYCbCr}
	case photoRGB:
		return p.withAlpha(mapping{shape: shapeRGBA, bytes: 4, from: [4]int{0, 1, 2, opaque}}, 3)
	}
	m := mapping{shape: shapeGrey, bytes: 1, invert: p.photometric == photoWhiteIsZero}
	return p.withAlpha(m, 1)
}

// withAlpha adds the first extra sample that means opacity, if there is one.
func (p *Page) withAlpha(m mapping, colours int) mapping {
	const associated, unassociated = 1, 2
	for i, kind := range p.extra {
		if colours+i >= p.Channels || kind != associated && kind != unassociated {
			continue
		}
		m.shape, m.bytes = shapeRGBA, 4
		if kind == unassociated {
			m.shape = shapeNRGBA
		}
		m.from[3] = colours + i
		break
	}
	return m
}

// palette reads the colours, filled up with black to as many as there can be
// indices.
func (p *Page) palette() (color.Palette, error) {
	n := 1 << p.BitDepth
	v, err := p.d.whole(tagColorMap, 3<<16)
	if err != nil {
		return nil, err
	}
	if len(v) < 3 || len(v)%3 != 0 {
		return nil, corrupt("its palette has %d values, but needs %d", len(v), 3*n)
	}
	third := len(v) / 3
	bright := func(v uint64) uint8 { return uint8(v >> 8) }
	if small(v) {
		bright = func(v uint64) uint8 { return uint8(v) }
	}
	out := make(color.Palette, n)
	for i := range out {
		c := color.RGBA{A: 255}
		if i < third {
			c.R, c.G, c.B = bright(v[i]), bright(v[third+i]), bright(v[2*third+i])
		}
		out[i] = c
	}
	return out, nil
}

// small says that a palette was written with 8-bit values instead of 16-bit
// ones: a slip of some old programs.
func small(v []uint64) bool {
	for _, x := range v {
		if x > 255 {
			return false
		}
	}
	return true
}
