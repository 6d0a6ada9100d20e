package lettering

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/go-text/typesetting/font"
	"golang.org/x/image/vector"
)

// mostCovers is the most letters that a set keeps: beyond that it starts anew.
const mostCovers = 2048

// set caches the drawn letters of one style.
type set struct {
	size   float32 // of the em in pixels
	covers map[glyphKey]*cover
}

// glyphKey names a drawn letter: across and down are the quarters of a pixel
// at which it begins.
type glyphKey struct {
	id                 font.GID
	face, across, down int
}

// cover is a drawn letter: its coverage, and the offset from the pixel in which the
// letter begins.
type cover struct {
	mask   *image.Alpha // nil if nothing is drawn, as for a space
	corner image.Point
}

// cover returns the drawn letter.
func (s *set) cover(z *vector.Rasterizer, f *face, key glyphKey) *cover {
	c := s.covers[key]
	if c == nil {
		if len(s.covers) >= mostCovers {
			clear(s.covers)
		}
		c = s.fill(z, f, key)
		s.covers[key] = c
	}
	return c
}

func (s *set) fill(z *vector.Rasterizer, f *face, key glyphKey) *cover {
	e, ok := f.GlyphExtents(key.id)
	if !ok || e.Width == 0 {
		return &cover{}
	}
	perUnit, x, y := float64(s.size)/f.em, float64(key.across)/4, float64(key.down)/4
	left, top := x+float64(e.XBearing)*perUnit, y-float64(e.YBearing)*perUnit
	right, bottom := left+float64(e.Width)*perUnit, top-float64(e.Height)*perUnit
	box := image.Rect(int(math.Floor(left)), int(math.Floor(top)), int(math.Ceil(right)), int(math.Ceil(bottom)))
	z.Reset(box.Dx(), box.Dy())
	z.DrawOp = draw.Src
	trace(z, f, key.id, At(x-float64(box.Min.X), y-float64(box.Min.Y), float64(s.size), 0))
	mask := image.NewAlpha(image.Rectangle{Max: box.Size()})
	z.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	return &cover{mask, box.Min}
}

// draw draws a letter over a picture from the given pixel on.
func (l *cover) draw(dst *image.RGBA, x, y int, c color.NRGBA) {
	if l.mask == nil {
		return
	}
	at := l.mask.Rect.Add(l.corner).Add(image.Pt(x, y))
	seen := at.Intersect(dst.Rect)
	for row := seen.Min.Y; row < seen.Max.Y; row++ {
		from := (row-at.Min.Y)*l.mask.Stride + seen.Min.X - at.Min.X
		over(dst.Pix[dst.PixOffset(seen.Min.X, row):], l.mask.Pix[from:from+seen.Dx()], c)
	}
}

// over draws a colour through a row of coverage over premultiplied pixels.
func over(dst, mask []byte, c color.NRGBA) {
	for i, m := range mask {
		if m == 0 {
			continue
		}
		d := dst[4*i : 4*i+4 : 4*i+4]
		a := (uint32(m)*uint32(c.A) + 127) / 255
		if a == 255 {
			d[0], d[1], d[2], d[3] = c.R, c.G, c.B, 255
			continue
		}
		d[0], d[1], d[2] = mix(c.R, d[0], a), mix(c.G, d[1], a), mix(c.B, d[2], a)
		d[3] = mix(255, d[3], a)
	}
}

// mix blends ink, with coverage a of 255, over a colour.
func mix(ink, was uint8, a uint32) uint8 {
	return uint8((uint32(ink)*a + uint32(was)*(255-a) + 127) / 255)
}
