package ink

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// Canvas is the picture being drawn.
type Canvas struct {
	Pic   *image.RGBA
	under *image.RGBA // what a halo lets show again; nil until Keep
}

// NewCanvas returns a canvas of w×h pixels in one colour.
func NewCanvas(w, h int, paper color.RGBA) *Canvas {
	c := &Canvas{Pic: image.NewRGBA(image.Rect(0, 0, w, h))}
	draw.Draw(c.Pic, c.Pic.Bounds(), image.NewUniform(paper), image.Point{}, draw.Src)
	return c
}

// Keep remembers the picture as it is now as the ground that Halo brings back.
func (c *Canvas) Keep() {
	if c.under == nil {
		c.under = image.NewRGBA(c.Pic.Bounds())
	}
	copy(c.under.Pix, c.Pic.Pix)
}

// cover returns the mask of the pen and where it lies; outlines must lie within the picture or are cut at its edge.
func (c *Canvas) cover(p *Pen) (*image.Alpha, image.Rectangle) {
	if len(p.ops) == 0 {
		return nil, image.Rectangle{}
	}
	box := image.Rect(
		int(math.Floor(p.minX))-1, int(math.Floor(p.minY))-1,
		int(math.Ceil(p.maxX))+1, int(math.Ceil(p.maxY))+1,
	)
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	p.fill(r, float64(box.Min.X), float64(box.Min.Y))
	r.DrawOp = draw.Src
	mask := image.NewAlpha(image.Rect(0, 0, box.Dx(), box.Dy()))
	r.Draw(mask, mask.Bounds(), image.Opaque, image.Point{})
	return mask, box
}

// Ink draws what the pen holds in one colour; alpha (0 to 1) thins it.
func (c *Canvas) Ink(p *Pen, ink color.RGBA, alpha float64) {
	mask, box := c.cover(p)
	if mask == nil {
		return
	}
	c.blend(mask, box, alpha, func(i int) (r, g, b uint8) { return ink.R, ink.G, ink.B })
}

// Halo brings the kept ground back where the pen lies.
func (c *Canvas) Halo(p *Pen) {
	mask, box := c.cover(p)
	if mask == nil || c.under == nil {
		return
	}
	under := c.under.Pix
	c.blend(mask, box, 1, func(i int) (r, g, b uint8) { return under[i], under[i+1], under[i+2] })
}

func (c *Canvas) blend(mask *image.Alpha, box image.Rectangle, alpha float64, source func(i int) (r, g, b uint8)) {
	cut := box.Intersect(c.Pic.Bounds())
	scale := int(alpha*256 + 0.5)
	for y := cut.Min.Y; y < cut.Max.Y; y++ {
		for x := cut.Min.X; x < cut.Max.X; x++ {
			a := int(mask.Pix[(y-box.Min.Y)*mask.Stride+x-box.Min.X]) * scale >> 8
			if a == 0 {
				continue
			}
			i := y*c.Pic.Stride + 4*x
			r, g, b := source(i)
			pix := c.Pic.Pix[i : i+3 : i+3]
			pix[0] = mixByte(pix[0], r, a)
			pix[1] = mixByte(pix[1], g, a)
			pix[2] = mixByte(pix[2], b, a)
		}
	}
}

func mixByte(from, to uint8, a int) uint8 {
	return uint8((int(from)*(255-a) + int(to)*a + 127) / 255)
}
