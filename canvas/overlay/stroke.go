package overlay

import (
	"image/color"
	"math"
)

// fine is the number of steps a pixel in the tables of distance.
const fine = 16

// profile is a cross-section as a table: premultiplied RGBA, packed as in
// memory, by distance from the axis in 1/fine pixels.
type profile struct {
	reach float64 // nothing is drawn beyond this distance, pixels
	tab   []uint32
}

// newProfile lays bands over one another, their edges softened over a pixel.
// px is the number of pixels a device-independent one.
func newProfile(bands []band, px float64) profile {
	var p profile
	for _, b := range bands {
		p.reach = max(p.reach, b.to*px+0.5)
	}
	p.tab = make([]uint32, int(p.reach*fine)+2)
	for i := range p.tab {
		d := float64(i) / fine
		var r, g, bl, a float64
		for _, b := range bands {
			cov := soften(d, b, px) * float64(b.col.A) / 255
			r = float64(b.col.R)*cov + r*(1-cov)
			g = float64(b.col.G)*cov + g*(1-cov)
			bl = float64(b.col.B)*cov + bl*(1-cov)
			a = 255*cov + a*(1-cov)
		}
		p.tab[i] = pack(r, g, bl, a)
	}
	return p
}

// at is the colour at a distance from the axis, pixels.
func (p *profile) at(d float64) uint32 {
	if i := int(d*fine + 0.5); i < len(p.tab) {
		return p.tab[i]
	}
	return 0
}

// soften is how much of a pixel at distance d a band covers. A band narrower
// than a pixel covers at most its width.
func soften(d float64, b band, px float64) float64 {
	from, to := b.from*px, b.to*px
	if from <= 0 { // both sides meet at the axis
		return min(max(to-d+0.5, 0), 1, 2*to)
	}
	return max(0, min(d+0.5, to)-max(d-0.5, from))
}

func pack(r, g, b, a float64) uint32 {
	u := func(v float64) uint32 { return uint32(math.Round(min(max(v, 0), 255))) }
	return u(r) | u(g)<<8 | u(b)<<16 | u(a)<<24
}

// packColor is the colour as the tables hold it.
func packColor(c color.NRGBA) uint32 {
	f := float64(c.A) / 255
	return pack(float64(c.R)*f, float64(c.G)*f, float64(c.B)*f, float64(c.A))
}

// over lays a premultiplied pixel over another.
func over(dst, src uint32) uint32 {
	a := src >> 24
	inv := 256 - (a + a>>7)
	rb := (dst & 0x00ff00ff) * inv >> 8 & 0x00ff00ff
	ga := (dst >> 8 & 0x00ff00ff) * inv & 0xff00ff00
	return src + (rb | ga)
}

// scaled is a premultiplied pixel with a part of its opacity, 0 … 1.
func scaled(c uint32, part float64) uint32 {
	k := uint32(part * 256)
	return c&0x00ff00ff*k>>8&0x00ff00ff | c>>8&0x00ff00ff*k&0xff00ff00
}
