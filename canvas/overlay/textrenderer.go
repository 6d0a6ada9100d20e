package overlay

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"

	"legwright/app/lettering"
)

// words is a text to be drawn: where it is placed is for others to say.
type words struct {
	text  string
	size  float64 // pixels an em
	angle float64 // radians, clockwise on the screen
	bold  bool
	ink   color.NRGBA
}

// maxRunes is the longest text drawn; the rest is cut off.
const maxRunes = 120

// textImage is a text as a small picture with its halo. Its middle is the middle
// of the line of text.
type textImage struct {
	of            words
	size          image.Point
	img           *image.RGBA // nil until it is drawn
	midX, midY    float64     // of the text in the picture
	width, height float64     // of the line of text, along and across
	used          int         // the round that last used it
}

// textRenderer draws texts as text images and keeps them. It is not safe for
// concurrent use.
type textRenderer struct {
	setter     *lettering.Setter
	night      bool // texts stand on a darkened sheet
	textImages map[words]*textImage
	most       int // unused text images above which they are discarded
	round      int
	wanted     int // text images used in this round
	buffers    buffers
}

func newTextRenderer(most int) *textRenderer {
	return &textRenderer{setter: lettering.New(), textImages: map[words]*textImage{}, most: most}
}

// turnOver begins another round of drawing, and discards text images that were not
// wanted in the last one if there are many.
func (l *textRenderer) turnOver() {
	if len(l.textImages)-l.wanted > l.most {
		for w, p := range l.textImages {
			if p.used != l.round {
				delete(l.textImages, w)
				l.buffers.takeBack(p)
			}
		}
	}
	l.round++
	l.wanted = 0
}

// setNight chooses between dark texts on light halos and light texts on dark ones.
func (l *textRenderer) setNight(yes bool) {
	if l.night != yes {
		l.night = yes
		clear(l.textImages)
		l.wanted = 0
	}
}

// textImage returns the picture of w, its angle rounded to a hundredth of a radian. Its
// picture may not be drawn yet.
func (l *textRenderer) textImage(w words) *textImage {
	w.angle = math.Round(w.angle*100) / 100
	p := l.textImages[w]
	if p == nil {
		p = l.measure(w)
		l.textImages[w] = p
	}
	if p.used != l.round {
		p.used = l.round
		l.wanted++
	}
	return p
}

// shaped returns a shaped text, cut if it is too long to be drawn.
func (l *textRenderer) shaped(w words) *lettering.Line {
	if len(w.text) > maxRunes {
		if r := []rune(w.text); len(r) > maxRunes {
			w.text = string(r[:maxRunes-1]) + "…"
		}
	}
	return l.setter.Line(w.text, w.bold)
}

// width is the width of a text in pixels.
func (l *textRenderer) width(w words) float64 { return l.shaped(w).Width() * w.size }

// capShare is the height of figures and capitals in ems, near enough for
// centring.
const capShare = 0.7

// halo is how far the halo of w reaches, in pixels.
func (w words) halo() float64 { return max(1.5, w.size*0.16) }

// measure makes a text image large enough for a text and its halo.
func (l *textRenderer) measure(w words) *textImage {
	hw, hh := reach(l.shaped(w))
	hw, hh = hw*w.size+w.halo(), hh*w.size+w.halo()
	sin, cos := math.Sincos(w.angle)
	bw, bh := math.Abs(hw*cos)+math.Abs(hh*sin), math.Abs(hw*sin)+math.Abs(hh*cos)
	size := image.Pt(int(math.Ceil(2*bw))+2, int(math.Ceil(2*bh))+2)
	return &textImage{
		of: w, size: size, midX: float64(size.X) / 2, midY: float64(size.Y) / 2,
		width: l.width(w), height: w.size * capShare,
	}
}

// reach is how far a line extends from its middle, along and across, in ems: as for
// common letters, or more for stacked marks.
func reach(line *lettering.Line) (along, across float64) {
	left, top, right, bottom := line.Bounds()
	half := line.Width() / 2
	return max(half+0.2, half-left, right-half), max(0.75, -top-capShare/2, bottom+capShare/2)
}

// draw fills the turned outlines of a text and lays them over their halo,
// unless that is done already.
func (l *textRenderer) draw(p *textImage) {
	if p.img != nil {
		return
	}
	z, w := &l.buffers.z, p.of
	z.Reset(p.size.X, p.size.Y)
	sin, cos := math.Sincos(w.angle)
	dx, dy := -p.width/2, p.height/2
	l.shaped(w).Trace(z, lettering.At(p.midX+dx*cos-dy*sin, p.midY+dx*sin+dy*cos, w.size, w.angle))
	ink := mask(&l.buffers.ink, p.size)
	z.Draw(ink, ink.Rect, image.Opaque, image.Point{})
	p.img = l.buffers.picture(p.size)
	around := grow(mask(&l.buffers.halo, p.size), ink, l.buffers.disc(w.halo()))
	compose(p.img, ink, around, l.buffers.shades(w.ink, l.night))
}

// brushPixel is one pixel of a soft disc.
type brushPixel struct {
	dx, dy int
	part   uint32 // of 256
}

// disc is a soft disc of radius r pixels.
func disc(r float64) []brushPixel {
	var out []brushPixel
	n := int(math.Ceil(r))
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			if part := min(r+0.5-math.Hypot(float64(dx), float64(dy)), 1); part > 0 {
				out = append(out, brushPixel{dx, dy, uint32(part * 256)})
			}
		}
	}
	return out
}

// grow widens a mask softly into a clear one: each inked pixel paints a disc.
// Letters ink few pixels, so that this is quicker than to look around every
// pixel.
func grow(out, m *image.Alpha, brush []brushPixel) *image.Alpha {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	for i, v := range m.Pix {
		if v == 0 {
			continue
		}
		x, y := i%w, i/w
		for _, d := range brush {
			if px, py := x+d.dx, y+d.dy; px >= 0 && py >= 0 && px < w && py < h {
				p := &out.Pix[py*out.Stride+px]
				*p = max(*p, uint8(uint32(v)*d.part>>8))
			}
		}
	}
	return out
}

// compose lays ink over a halo, into a clear picture.
func compose(out *image.RGBA, ink, halo *image.Alpha, shades *shades) {
	for i, h := range halo.Pix {
		if h != 0 {
			v := over(shades.halo[h], shades.ink[ink.Pix[i]])
			binary.LittleEndian.PutUint32(out.Pix[4*i:], v)
		}
	}
}

// shades are the colours of a text and its halo at each of 256 opacities,
// premultiplied.
type shades struct {
	of        color.NRGBA
	night     bool
	ink, halo [256]uint32
}

func newShades(c color.NRGBA, night bool) *shades {
	s := &shades{of: c, night: night}
	ink, halo := packColor(c), packColor(faded(white, 0xe0))
	if night {
		ink, halo = packColor(byNight(c)), packColor(faded(black, 0xe0))
	}
	for i := range s.ink {
		part := float64(i) / 255
		s.ink[i], s.halo[i] = scaled(ink, part), scaled(halo, part)
	}
	return s
}
