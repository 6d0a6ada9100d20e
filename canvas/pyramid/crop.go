package pyramid

import "image"

// MaxCrop is the largest side of a crop in pixels.
const MaxCrop = 256

// Crop copies a small part of the picture itself, for the enlargement that
// serves fine aim. The result starts at (0, 0) for r.Min and has r's size,
// cut down to 256 × 256 from the lower right; what lies outside the picture is
// transparent. It takes less than a millisecond in memory and a few from the
// store. While level 0 is not ready, and after Close, it is all transparent.
func (p *Pyramid) Crop(r image.Rectangle) *image.RGBA {
	r = r.Canon()
	r.Max = image.Pt(min(r.Max.X, r.Min.X+MaxCrop), min(r.Max.Y, r.Min.Y+MaxCrop))
	out := image.NewRGBA(image.Rectangle{Max: r.Size()})
	in := r.Intersect(image.Rectangle{Max: p.size})
	l := p.layer(0)
	if in.Empty() || l == nil {
		return out
	}
	at := in.Min.Sub(r.Min)
	if err := l.cut(out.Pix[out.PixOffset(at.X, at.Y):], out.Stride, in, false); err != nil {
		clear(out.Pix)
		p.mu.Lock()
		p.damaged(err)
		p.mu.Unlock()
	}
	return out
}
