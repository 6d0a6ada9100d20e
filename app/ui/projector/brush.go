package projector

import (
	"image"
	"image/color"
	"sync"

	"legwright/app/lettering"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/compassview"
	"legwright/app/ui/dial"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/look"
)

// order is a picture of the board that is wanted: what it tells, at what size.
type order struct {
	told       *told
	px         image.Point // of the picture
	wide, high float32     // in units of the window
	ink        look.Palette
}

// brush draws the board. It keeps its letters and its face from one picture to the next.
type brush struct {
	mu      sync.Mutex // the window and a goroutine draw
	letters *lettering.Setter
	face    *housing.Face
	compass *baseplate.Drawing
}

// picture is the board as it was drawn for an order, and how it was set out.
type picture struct {
	of   order
	img  *image.RGBA
	page page
}

// draw draws the picture of an order.
func (b *brush) draw(o order) *picture {
	b.mu.Lock()
	defer b.mu.Unlock()
	img := image.NewRGBA(image.Rectangle{Max: o.px})
	fill(img, img.Rect, o.ink[look.Board])
	scale := float32(o.px.X) / max(o.wide, 1)
	b.letters = b.letters.At(scale)
	p := setOut(*o.told, b.letters, o.wide, o.high)
	px := func(v float32) int { return int(v*scale + 0.5) }
	if p.side > 0 {
		b.drawPicture(img, o, image.Pt(px(p.faceX), px(p.faceY)), px(p.side))
	}
	for _, r := range p.bars {
		fill(img, image.Rect(px(r.x), px(r.y), px(r.x+r.w), max(px(r.y+r.h), px(r.y)+1)), o.ink[r.ink])
	}
	for _, w := range p.words {
		b.letters.Write(img, w.Text, w.style, w.X, w.Line, o.ink[w.ink])
	}
	return &picture{o, img, p}
}

// drawPicture draws the dial's face, or the compass that is stepped through.
func (b *brush) drawPicture(img *image.RGBA, o order, at image.Point, side int) {
	if o.told.compass == nil {
		b.drawFace(img, o, at, side)
		return
	}
	ink := compassview.InkOf(o.ink)
	if b.compass == nil || b.compass.Side() != side || b.compass.Ink() != ink {
		compass, err := baseplate.New(side, ink)
		if err != nil { // too small to read: nothing is drawn
			return
		}
		b.compass = compass
	}
	over(img, b.compass.Draw(*o.told.compass), at)
}

// drawFace draws the dial's face.
func (b *brush) drawFace(img *image.RGBA, o order, at image.Point, side int) {
	ink := dial.InkOf(o.ink)
	if b.face == nil || b.face.Side() != side || b.face.Ink() != ink {
		face, err := housing.New(side, ink)
		if err != nil { // too small to read: nothing is drawn
			return
		}
		b.face = face
	}
	over(img, b.face.Draw(o.told.face), at)
}

// fill paints a rectangle in a colour that has no alpha.
func fill(img *image.RGBA, r image.Rectangle, c color.NRGBA) {
	r = r.Intersect(img.Rect)
	if r.Empty() {
		return
	}
	first := img.Pix[img.PixOffset(r.Min.X, r.Min.Y):][:4*r.Dx()]
	for i := 0; i < len(first); i += 4 {
		first[i], first[i+1], first[i+2], first[i+3] = c.R, c.G, c.B, 0xff
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(img.Pix[img.PixOffset(r.Min.X, y):], first)
	}
}

// over lays a picture with premultiplied alpha over another.
func over(img, top *image.RGBA, at image.Point) {
	r := top.Rect.Add(at).Intersect(img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		to := img.Pix[img.PixOffset(r.Min.X, y):][:4*r.Dx()]
		from := top.Pix[top.PixOffset(r.Min.X-at.X, y-at.Y):]
		for i := 0; i < len(to); i += 4 {
			switch a := uint32(from[i+3]); a {
			case 0:
			case 0xff:
				copy(to[i:i+4], from[i:i+4])
			default:
				for k := range 4 {
					to[i+k] = uint8(uint32(from[i+k]) + (uint32(to[i+k])*(0xff-a)+127)/0xff)
				}
			}
		}
	}
}
