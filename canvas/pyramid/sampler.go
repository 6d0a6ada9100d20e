package pyramid

import (
	"encoding/binary"
	"image"
	"math"

	"golang.org/x/image/math/f64"
)

// block is the side of the piece of dst that is made at a time, so that the
// source pixels under it stay in the processor's cache.
const block = 64

// fixOne is one pixel in the fixed point of the inner loops. A step is
// rounded to half of it, so over a block positions are off by 0.0005 pixel at
// most.
const fixOne = 1 << 16

// scratch holds the source pixels of one block between uses.
type scratch struct{ pix []uint8 }

// sampler is one call of Region.
type sampler struct {
	l      layer
	pic    image.Point // size of the picture
	level  int
	m      f64.Aff3
	filter Filter
}

// patch is a rectangle of layer pixels, one beyond the edge at most, as RGBA or
// raw.
type patch struct {
	pix []uint8
	r   image.Rectangle
}

func (p *Pyramid) resample(dst *image.RGBA, s sampler) error {
	buf, _ := p.scratch.Get().(*scratch)
	if buf == nil {
		buf = &scratch{}
	}
	defer p.scratch.Put(buf)
	b := dst.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += block {
		for x := b.Min.X; x < b.Max.X; x += block {
			if err := s.block(dst, image.Rect(x, y, x+block, y+block).Intersect(b), buf); err != nil {
				return err
			}
		}
	}
	return nil
}

// block makes the part r of dst.
func (s *sampler) block(dst *image.RGBA, r image.Rectangle, buf *scratch) error {
	src, err := buf.fill(s.l, s.under(r), s.raw())
	if err != nil {
		return err
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := dst.Pix[dst.PixOffset(r.Min.X, y):][:4*r.Dx()]
		from, to := s.inside(r, y)
		if from >= to || src.r.Empty() {
			clear(row)
			continue
		}
		clear(row[:4*(from-r.Min.X)])
		clear(row[4*(to-r.Min.X):])
		s.row(row[4*(from-r.Min.X):4*(to-r.Min.X)], src, from, y)
	}
	return nil
}

// raw reports whether pixels are cut out raw and become colours once they are in place. One that
// is shown several times over is converted once instead.
func (s *sampler) raw() bool {
	return s.l.kind().model == ycc && (s.filter != Nearest || columnNorm(s.m) >= 1)
}

// at is the picture point shown by the middle of dst pixel (x, y).
func (s *sampler) at(x, y int) (col, row float64) {
	fx, fy := float64(x)+0.5, float64(y)+0.5
	return s.m[0]*fx + s.m[1]*fy + s.m[2], s.m[3]*fx + s.m[4]*fy + s.m[5]
}

// under is the rectangle of layer pixels that the part r of dst can touch,
// held to one pixel beyond the layer.
func (s *sampler) under(r image.Rectangle) image.Rectangle {
	k := math.Ldexp(1, -s.level)
	c0, r0 := math.Inf(1), math.Inf(1)
	c1, r1 := math.Inf(-1), math.Inf(-1)
	for _, x := range [2]int{r.Min.X, r.Max.X - 1} {
		for _, y := range [2]int{r.Min.Y, r.Max.Y - 1} {
			c, w := s.at(x, y)
			c0, c1 = min(c0, c*k), max(c1, c*k)
			r0, r1 = min(r0, w*k), max(r1, w*k)
		}
	}
	sz := s.l.size()
	low := func(v float64, n int) int { return int(min(max(math.Floor(v-0.51), -1), float64(n+1))) }
	high := func(v float64, n int) int { return int(min(max(math.Floor(v-0.49)+2, -1), float64(n+1))) }
	return image.Rect(low(c0, sz.X), low(r0, sz.Y), high(c1, sz.X), high(r1, sz.Y))
}

// inside gives the columns [from, to) of row y of r whose middles lie in the
// picture.
func (s *sampler) inside(r image.Rectangle, y int) (from, to int) {
	col, row := s.at(0, y)
	lo, hi := float64(r.Min.X), float64(r.Max.X)
	lo, hi = within(col, s.m[0], float64(s.pic.X), lo, hi)
	lo, hi = within(row, s.m[3], float64(s.pic.Y), lo, hi)
	return int(lo), int(hi)
}

// within narrows the whole numbers x in [lo, hi) to those with
// 0 ≤ v + d·x < limit.
func within(v, d, limit, lo, hi float64) (float64, float64) {
	if math.Abs(d) < 1e-12 {
		if v < 0 || v >= limit {
			return lo, lo
		}
		return lo, hi
	}
	a, b := -v/d, (limit-v)/d
	if d > 0 { // a ≤ x < b
		a, b = math.Ceil(a), math.Ceil(b)
	} else { // b < x ≤ a
		a, b = math.Floor(b)+1, math.Floor(a)+1
	}
	lo, hi = max(lo, a), min(hi, b)
	return lo, max(lo, hi)
}

// row fills pixels of dst row y from column x on.
func (s *sampler) row(out []uint8, src patch, x, y int) {
	k := math.Ldexp(1, -s.level)
	c, r := s.at(x, y)
	u := int(math.Round((c*k - 0.5 - float64(src.r.Min.X)) * fixOne))
	v := int(math.Round((r*k - 0.5 - float64(src.r.Min.Y)) * fixOne))
	du := int(math.Round(s.m[0] * k * fixOne))
	dv := int(math.Round(s.m[3] * k * fixOne))
	if s.filter == Nearest {
		nearestRow(out, src, u+fixOne/2, v+fixOne/2, du, dv)
	} else {
		bilinearRow(out, src, u, v, du, dv)
	}
	if s.raw() {
		convertRaw(out)
	}
}

func nearestRow(out []uint8, src patch, u, v, du, dv int) {
	stride := 4 * src.r.Dx()
	for i := 0; i+4 <= len(out); i += 4 {
		o := v>>16*stride + u>>16*4
		copy(out[i:i+4], src.pix[o:o+4])
		u, v = u+du, v+dv
	}
}

// bilinearRow mixes four neighbours with weights of 1/256, two channels to a
// word.
func bilinearRow(out []uint8, src patch, u, v, du, dv int) {
	stride := 4 * src.r.Dx()
	for i := 0; i+4 <= len(out); i += 4 {
		o := v>>16*stride + u>>16*4
		top := binary.LittleEndian.Uint64(src.pix[o : o+8])
		low := binary.LittleEndian.Uint64(src.pix[o+stride : o+stride+8])
		fx, fy := uint32(u>>8)&0xff, uint32(v>>8)&0xff
		rb := mix(mix(uint32(top), uint32(top>>32), fx), mix(uint32(low), uint32(low>>32), fx), fy)
		top, low = top>>8, low>>8
		ga := mix(mix(uint32(top), uint32(top>>32), fx), mix(uint32(low), uint32(low>>32), fx), fy)
		binary.LittleEndian.PutUint32(out[i:i+4], rb|ga<<8)
		u, v = u+du, v+dv
	}
}

// mix is a + (b − a)·f/256 for the bytes 0 and 2 of a and b.
func mix(a, b, f uint32) uint32 {
	const lanes = 0x00ff00ff
	return ((a&lanes)*(256-f) + (b&lanes)*f + 0x00800080) >> 8 & lanes
}

// fill cuts r out of the layer, raw if that is asked; pixels beyond its edge repeat the edge.
func (b *scratch) fill(l layer, r image.Rectangle, raw bool) (patch, error) {
	in := r.Intersect(image.Rectangle{Max: l.size()})
	if in.Empty() {
		return patch{}, nil
	}
	n := 4 * r.Dx() * r.Dy()
	if cap(b.pix) < n {
		b.pix = make([]uint8, n)
	}
	p := patch{b.pix[:n], r}
	stride := 4 * r.Dx()
	to := p.pix[(in.Min.Y-r.Min.Y)*stride+4*(in.Min.X-r.Min.X):]
	err := l.cut(to, stride, in, raw)
	p.repeatEdges(in)
	return p, err
}

func (p *patch) repeatEdges(in image.Rectangle) {
	stride := 4 * p.r.Dx()
	row := func(y int) []uint8 { return p.pix[(y-p.r.Min.Y)*stride:][:stride] }
	for y := in.Min.Y; y < in.Max.Y; y++ {
		w := row(y)
		if in.Min.X > p.r.Min.X {
			copy(w[:4], w[4:8])
		}
		if in.Max.X < p.r.Max.X {
			copy(w[stride-4:], w[stride-8:stride-4])
		}
	}
	if in.Min.Y > p.r.Min.Y {
		copy(row(p.r.Min.Y), row(in.Min.Y))
	}
	if in.Max.Y < p.r.Max.Y {
		copy(row(in.Max.Y), row(in.Max.Y-1))
	}
}
