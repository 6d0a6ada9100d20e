// Package pen fills shapes of one colour into pictures of an instrument: the face of the
// dial and the plate of the compass. It knows lengths and angles, not what they mean, and
// it sets no text.
package pen

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// Pen fills paths of one colour into a square picture. A position is given as
// a distance along a direction and one across it, to its right, both as
// fractions of half the side; the direction is an angle clockwise from the head, in
// radians. Shapes of one fill must not overlap, and must keep to its window.
type Pen struct {
	centre float64 // of the square, in pixels
	radius float64 // half the side less one pixel
	bounds image.Rectangle
	window image.Rectangle
	path   *vector.Rasterizer
	mask   []byte // one byte a pixel of the window

	angle, sin, cos float64 // of the last point: a shape's points share their angle
}

// New returns a pen for pictures of px by px pixels, of which there is at least one.
func New(px int) *Pen {
	half := float64(px) / 2
	return &Pen{
		centre: half, radius: half - 1, bounds: image.Rect(0, 0, px, px),
		path: vector.NewRasterizer(px, px), mask: make([]byte, px*px), cos: 1,
	}
}

// Radius is the pixels in a length of 1.
func (p *Pen) Radius() float64 { return p.radius }

// Path takes outlines, such as those of letters, in the pixels of At.
func (p *Pen) Path() *vector.Rasterizer { return p.path }

// Begin starts a fill that keeps to a window: the box of half sides right and
// up around a point that lies along by r on an angle.
func (p *Pen) Begin(r, angle, right, up float64) {
	sin, cos := math.Sincos(angle)
	x, y := p.centre+r*p.radius*sin, p.centre-r*p.radius*cos
	box := image.Rect(
		int(math.Floor(x-right*p.radius))-1, int(math.Floor(y-up*p.radius))-1,
		int(math.Ceil(x+right*p.radius))+1, int(math.Ceil(y+up*p.radius))+1,
	)
	p.window = box.Intersect(p.bounds)
	p.path.Reset(p.window.Dx(), p.window.Dy())
	p.path.DrawOp = draw.Src // Reset makes it Over
}

// At returns the pixel, counted from the window's corner, that lies along
// by r and across by w.
func (p *Pen) At(r, w, angle float64) (x, y float32) {
	if angle != p.angle {
		p.angle = angle
		p.sin, p.cos = math.Sincos(angle)
	}
	sin, cos := p.sin, p.cos
	r, w = r*p.radius, w*p.radius
	x0, y0 := p.centre-float64(p.window.Min.X), p.centre-float64(p.window.Min.Y)
	return float32(x0 + r*sin + w*cos), float32(y0 - r*cos + w*sin)
}

// Bar adds a radial bar from radius r0 to r1, px pixels wide.
func (p *Pen) Bar(r0, r1, angle, px float64) { p.Line(r0, r1, 0, angle, px) }

// Line adds a line along from r0 to r1, set across from the centre, px pixels
// wide.
func (p *Pen) Line(r0, r1, across, angle, px float64) {
	w := px / 2 / p.radius
	p.Polygon(angle, [][2]float64{{r0, across - w}, {r1, across - w}, {r1, across + w}, {r0, across + w}})
}

// Polygon adds a closed shape given as pairs of along and across, turned to an
// angle.
func (p *Pen) Polygon(angle float64, corners [][2]float64) {
	for i, c := range corners {
		x, y := p.At(c[0], c[1], angle)
		if i == 0 {
			p.path.MoveTo(x, y)
		} else {
			p.path.LineTo(x, y)
		}
	}
	p.path.ClosePath()
}

// Disc adds a disc of radius r centred at along, across.
func (p *Pen) Disc(along, across, r, angle float64) { p.round(along, across, r, angle, 1) }

// Ring adds a ring between the radii r0 < r1 centred at along, across.
func (p *Pen) Ring(along, across, r0, r1, angle float64) {
	p.round(along, across, r1, angle, 1)
	p.round(along, across, r0, angle, -1)
}

// round adds a circle as four cubic arcs; sense −1 runs the other way round, so
// that a smaller circle cuts a hole. The arm 0.5523 is the usual one for a
// quarter circle and leaves an error of 0.03 % of the radius.
func (p *Pen) round(along, across, r, angle, sense float64) {
	const arm = 0.5522847498
	cx, cy := p.At(along, across, angle)
	rad := float32(r * p.radius)
	k, s := float32(arm)*rad, float32(sense)
	p.path.MoveTo(cx+rad, cy)
	p.path.CubeTo(cx+rad, cy+s*k, cx+k, cy+s*rad, cx, cy+s*rad)
	p.path.CubeTo(cx-k, cy+s*rad, cx-rad, cy+s*k, cx-rad, cy)
	p.path.CubeTo(cx-rad, cy-s*k, cx-k, cy-s*rad, cx, cy-s*rad)
	p.path.CubeTo(cx+k, cy-s*rad, cx+rad, cy-s*k, cx+rad, cy)
	p.path.ClosePath()
}

// Fill paints what was added since Begin over dst. A translucent colour lets dst show
// through.
func (p *Pen) Fill(dst *image.RGBA, c color.NRGBA) {
	mask := p.cover()
	if c.A != 0xff {
		thin(mask, c.A)
		c.A = 0xff
	}
	p.lay(dst, mask, c)
}

// Put paints what was added since Begin in the place of dst: a translucent colour makes
// dst translucent.
func (p *Pen) Put(dst *image.RGBA, c color.NRGBA) { p.lay(dst, p.cover(), c) }

// cover is how much of each pixel of the window the shapes cover.
func (p *Pen) cover() []byte {
	w, h := p.window.Dx(), p.window.Dy()
	mask := &image.Alpha{Pix: p.mask[:w*h], Stride: w, Rect: image.Rect(0, 0, w, h)}
	p.path.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	return mask.Pix
}

// thin makes a mask cover less, rounded to the nearest.
func thin(mask []byte, alpha uint8) {
	for i, m := range mask {
		if m != 0 {
			mask[i] = uint8((uint32(m)*uint32(alpha) + 127) / 255)
		}
	}
}

// lay blends a colour into the window through a mask.
func (p *Pen) lay(dst *image.RGBA, mask []byte, c color.NRGBA) {
	w := p.window.Dx()
	for y := range p.window.Dy() {
		at := dst.PixOffset(p.window.Min.X, p.window.Min.Y+y)
		blend(dst.Pix[at:at+4*w], mask[y*w:(y+1)*w], c)
	}
}

// blend puts a colour in the place of dst through an 8-bit mask, its alpha too. Eight
// empty pixels are skipped at once.
func blend(dst, mask []byte, c color.NRGBA) {
	r, g, b, a := c.RGBA()
	ink := [2]uint32{r>>8 | b>>8<<16, g>>8 | a>>8<<16}
	for len(mask) >= 8 {
		if binary.LittleEndian.Uint64(mask) != 0 {
			blendRun(dst, mask[:8], ink)
		}
		mask, dst = mask[8:], dst[32:]
	}
	blendRun(dst, mask, ink)
}

// blendRun blends pixel by pixel, two channels in one word: red and blue, and
// green and alpha.
func blendRun(dst, mask []byte, ink [2]uint32) {
	for i, m := range mask {
		if m == 0 {
			continue
		}
		d := dst[4*i : 4*i+4 : 4*i+4]
		if m == 255 {
			binary.LittleEndian.PutUint32(d, ink[0]|ink[1]<<8)
			continue
		}
		was, a := binary.LittleEndian.Uint32(d), uint32(m)
		rb, ga := mix(was&pair, ink[0], a), mix(was>>8&pair, ink[1], a)
		binary.LittleEndian.PutUint32(d, rb|ga<<8)
	}
}

// pair are the bits of two channels in one word.
const pair = 0x00ff00ff

// mix is ink by a of 255, over what was there, of two channels at once, each
// rounded to the nearest: (t + t/256 + ½)/256 is t/255 for what 16 bits hold.
func mix(was, ink, a uint32) uint32 {
	t := was*(255-a) + ink*a + 0x00800080
	return (t + t>>8&pair) >> 8 & pair
}
