package scan

import (
	"image"
	"image/color"

	"github.com/disintegration/imaging"
)

// normalize brings a decoded picture into one of the forms Scan promises, turned
// as the header says.
func normalize(img image.Image, h Header) image.Image {
	return orient(plain(img), h.Orientation)
}

// plain changes rarer forms into the common ones, within the same memory
// where that is possible. 16-bit samples keep their high byte.
func plain(img image.Image) image.Image {
	switch m := img.(type) {
	case *image.Gray, *image.YCbCr, *image.RGBA, *image.NRGBA:
		return img
	case *image.Paletted:
		return plainPalette(m)
	case *image.Gray16:
		squeeze(m.Pix)
		return &image.Gray{Pix: m.Pix[:len(m.Pix)/2], Stride: m.Stride / 2, Rect: m.Rect}
	case *image.RGBA64:
		squeeze(m.Pix)
		return &image.RGBA{Pix: m.Pix[:len(m.Pix)/2], Stride: m.Stride / 2, Rect: m.Rect}
	case *image.NRGBA64:
		squeeze(m.Pix)
		return &image.NRGBA{Pix: m.Pix[:len(m.Pix)/2], Stride: m.Stride / 2, Rect: m.Rect}
	case *image.CMYK:
		return plainCMYK(m)
	case *image.NYCbCrA:
		if m.Opaque() {
			return &m.YCbCr
		}
	}
	return imaging.Clone(img) // no palettes here, over which imaging can panic
}

// squeeze moves the high bytes of big-endian 16-bit samples together.
func squeeze(pix []uint8) {
	for i := range len(pix) / 2 {
		pix[i] = pix[2*i]
	}
}

// plainCMYK mixes the inks as the standard library does, without a profile.
func plainCMYK(m *image.CMYK) *image.RGBA {
	for i := 0; i+4 <= len(m.Pix); i += 4 {
		p := m.Pix[i : i+4]
		r, g, b := color.CMYKToRGB(p[0], p[1], p[2], p[3])
		p[0], p[1], p[2], p[3] = r, g, b, 255
	}
	return &image.RGBA{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}
}

// plainPalette makes a picture grey if all its colours are, and otherwise
// fills its palette up to 256 colours with opaque black: then a damaged index
// finds a colour too.
func plainPalette(m *image.Paletted) image.Image {
	var grey [256]uint8
	all := true
	for i := range min(len(m.Palette), 256) {
		c := color.NRGBAModel.Convert(m.Palette[i]).(color.NRGBA)
		grey[i] = c.R
		all = all && c.R == c.G && c.G == c.B && c.A == 255
	}
	if all {
		for i, v := range m.Pix {
			m.Pix[i] = grey[v]
		}
		return &image.Gray{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}
	}
	full := make(color.Palette, 256)
	for i := range full {
		full[i] = color.RGBA{A: 255}
	}
	copy(full, m.Palette)
	return &image.Paletted{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect, Palette: full}
}
