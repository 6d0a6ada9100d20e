package pyramid

import (
	"image"
	"image/color"
)

// palette is the RGBA of each index, premultiplied.
type palette [256][4]uint8

// layer is one level's pixels. Implementations do not change once they are
// in use and are safe for concurrent use.
type layer interface {
	size() image.Point
	kind() kind
	// cut writes the pixels of r, which lies inside the layer, to pix with
	// the given stride, as premultiplied RGBA, or, if raw is set and the kind
	// is ycc, as luma, both chroma samples and 255. Layers that read from
	// disk may fail.
	cut(pix []uint8, stride int, r image.Rectangle, raw bool) error
	// bytes is the memory the layer holds.
	bytes() int64
}

// newLayer reads img in place. Types it does not know are read through At,
// which is slow but right.
func newLayer(img image.Image) layer {
	b := img.Bounds()
	switch m := img.(type) {
	case *image.Gray:
		return &grayLayer{m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], m.Stride, b.Size()}
	case *image.RGBA:
		return &rgbaLayer{m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], m.Stride, b.Size()}
	case *image.NRGBA:
		return &nrgbaLayer{m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], m.Stride, b.Size()}
	case *image.Paletted:
		return &palLayer{m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], m.Stride, b.Size(), lookup(m.Palette)}
	case *image.YCbCr:
		if l := newYCC(m); l != nil {
			return l
		}
	}
	return &anyLayer{img}
}

// lookup makes the table of a palette; indices beyond it are transparent, so
// a damaged picture cannot reach outside.
func lookup(p color.Palette) *palette {
	var t palette
	for i := range min(len(p), 256) {
		c := color.RGBAModel.Convert(p[i]).(color.RGBA)
		t[i] = [4]uint8{c.R, c.G, c.B, c.A}
	}
	return &t
}

func halfSize(p image.Point) image.Point { return image.Pt((p.X+1)/2, (p.Y+1)/2) }

// pair gives the two source rows under row y of a half-size layer of a layer
// h rows high; at an odd end both are the last row.
func pair(y, h int) (int, int) { return 2 * y, min(2*y+1, h-1) }
