package pyramid

import (
	"encoding/binary"
	"math"
)

// Look changes how the picture is shown, not the picture: it is applied to
// tiles and regions, never to crops. The zero value shows it as it is.
//
// Each channel v of an opaque pixel, 0 to 255, becomes in turn
//
//	contrast   127.5 + s·(v − 127.5), held to 0–255, with s = 1 + 3·Contrast
//	           from 0 up (four times at 1) and 1 + Contrast below (plain grey
//	           at −1)
//	invert     v + 255 − (largest + smallest channel): the lightness of the HSL
//	           model is inverted, its hue and saturation stay, so that water
//	           stays blue and woods stay green (CSS Color Module Level 4,
//	           section 7, gives the model)
//	fade       v + Fade·(paper − v), paper being 255, or 0 with Invert
//
// and is rounded at the end, and before an inversion. The colour of a translucent
// pixel is changed the same way, its transparency stays.
type Look struct {
	Contrast float64 // −1 … 1
	Fade     float64 // 0 … 1: from as it is to nothing left
	Invert   bool
}

// held brings the figures into their ranges; NaN counts as 0.
func (l Look) held() Look {
	if math.IsNaN(l.Contrast) {
		l.Contrast = 0
	}
	if math.IsNaN(l.Fade) {
		l.Fade = 0
	}
	l.Contrast, l.Fade = min(max(l.Contrast, -1), 1), min(max(l.Fade, 0), 1)
	return l
}

// look is a Look as tables: one up to the inversion, one after it.
type look struct {
	of     Look
	before [256]uint8 // contrast, and without inversion all
	after  [256]uint8 // fade, used with inversion alone
}

func newLook(of Look) *look {
	l := &look{of: of}
	for i := range l.before {
		v := of.contrasted(float64(i))
		if !of.Invert {
			v = of.faded(v)
		}
		l.before[i], l.after[i] = uint8(math.Round(v)), uint8(math.Round(of.faded(float64(i))))
	}
	return l
}

func (l Look) contrasted(v float64) float64 {
	slope := 1 + l.Contrast
	if l.Contrast > 0 {
		slope = 1 + 3*l.Contrast
	}
	return min(max(127.5+slope*(v-127.5), 0), 255)
}

func (l Look) faded(v float64) float64 {
	paper := 255.0
	if l.Invert {
		paper = 0
	}
	return v + l.Fade*(paper-v)
}

// colour changes one colour that is not premultiplied.
func (l *look) colour(r, g, b uint8) (uint8, uint8, uint8) {
	r, g, b = l.before[r], l.before[g], l.before[b]
	if !l.of.Invert {
		return r, g, b
	}
	turn := 255 - int(max(r, g, b)) - int(min(r, g, b))
	return l.after[int(r)+turn], l.after[int(g)+turn], l.after[int(b)+turn]
}

// apply changes premultiplied RGBA in place.
func (l *look) apply(pix []uint8) {
	if l == nil {
		return
	}
	for i := 0; i+4 <= len(pix); i += 4 {
		v := binary.LittleEndian.Uint32(pix[i:])
		if v>>24 != 255 {
			l.translucent(pix[i : i+4])
			continue
		}
		r, g, b := l.colour(uint8(v), uint8(v>>8), uint8(v>>16))
		binary.LittleEndian.PutUint32(pix[i:], uint32(r)|uint32(g)<<8|uint32(b)<<16|0xff000000)
	}
}

func (l *look) translucent(p []uint8) {
	a := uint32(p[3])
	if a == 0 {
		return
	}
	straight := func(v uint8) uint8 { return uint8(min((uint32(v)*255+a/2)/a, 255)) }
	times := func(v uint8) uint8 { return uint8((uint32(v)*a + 127) / 255) }
	r, g, b := l.colour(straight(p[0]), straight(p[1]), straight(p[2]))
	p[0], p[1], p[2] = times(r), times(g), times(b)
}

// SetLook changes how tiles and regions show the picture from now on.
// Figures outside their range are held to it, NaN counts as 0. Tiles in
// memory are dropped and OnChange is called for every level, unless the look
// is as it was.
func (p *Pyramid) SetLook(to Look) {
	to = to.held()
	next := newLook(to)
	if to == (Look{}) {
		next = nil
	}
	p.mu.Lock()
	if p.shut || p.Look() == to {
		p.mu.Unlock()
		return
	}
	p.look.Store(next)
	p.layerMu.Lock()
	for n := range p.levels {
		p.levels[n].turn++
		p.cache.drop(n)
	}
	p.layerMu.Unlock()
	p.mu.Unlock()
	if p.opt.OnChange != nil {
		for n := range p.levels {
			p.opt.OnChange(n)
		}
	}
}

// Look is the look set last.
func (p *Pyramid) Look() Look {
	if l := p.look.Load(); l != nil {
		return l.of
	}
	return Look{}
}
