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
//	invert     255 − v
//	fade       v + Fade·(paper − v), paper being 255, or 0 with Invert
//
// and is rounded. The colour of a translucent pixel is changed the same way,
// its transparency stays.
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

// look is a Look as a table.
type look struct {
	of    Look
	table [256]uint8
}

func newLook(of Look) *look {
	t := &look{of: of}
	for v := range t.table {
		t.table[v] = of.channel(float64(v))
	}
	return t
}

func (l Look) channel(v float64) uint8 {
	slope := 1 + l.Contrast
	if l.Contrast > 0 {
		slope = 1 + 3*l.Contrast
	}
	v = min(max(127.5+slope*(v-127.5), 0), 255)
	paper := 255.0
	if l.Invert {
		v, paper = 255-v, 0
	}
	return uint8(math.Round(v + l.Fade*(paper-v)))
}

// apply changes premultiplied RGBA in place.
func (l *look) apply(pix []uint8) {
	if l == nil {
		return
	}
	t := &l.table
	for i := 0; i+4 <= len(pix); i += 4 {
		v := binary.LittleEndian.Uint32(pix[i:])
		if v>>24 != 255 {
			l.translucent(pix[i : i+4])
			continue
		}
		v = uint32(t[uint8(v)]) | uint32(t[uint8(v>>8)])<<8 | uint32(t[uint8(v>>16)])<<16 | 0xff000000
		binary.LittleEndian.PutUint32(pix[i:], v)
	}
}

func (l *look) translucent(p []uint8) {
	a := uint32(p[3])
	if a == 0 {
		return
	}
	for i, v := range p[:3] {
		straight := min((uint32(v)*255+a/2)/a, 255)
		p[i] = uint8((uint32(l.table[straight])*a + 127) / 255)
	}
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
