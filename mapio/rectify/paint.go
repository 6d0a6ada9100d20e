package rectify

import (
	"math"

	"legwright/app/calib"
)

// How a pixel is read that covers more than almostOne of the picture's: as the
// mean of readings across it, of maxAcross at most.
const (
	almostOne = 1.2
	maxAcross = 24
)

// paint colours one pixel.
func (b *block) paint(x, y int, s spot) {
	right, down := b.step(x, y)
	long := max(right.Col*right.Col+right.Row*right.Row, down.Col*down.Col+down.Row*down.Row)
	var v [3]float64
	if long > almostOne*almostOne {
		v = b.mean(s.at, right, down, across(long))
	} else {
		v = b.cubic(s.at)
	}
	if v = b.pale(v); s.is == untrusted {
		v = struck(x, y, v, b.p.s.Grey)
	}
	pix := b.m.Pix[b.m.PixOffset(x, y):][:3]
	for i := range pix {
		pix[i] = uint8(min(max(v[i], 0), 255) + 0.5)
	}
}

// pale takes a colour part of the way to white.
func (b *block) pale(v [3]float64) [3]float64 {
	k := b.p.s.Pale
	return [3]float64{v[0] + k*(255-v[0]), v[1] + k*(255-v[1]), v[2] + k*(255-v[2])}
}

// across is how many readings a pixel takes along a side whose length has the square long.
func across(long float64) int {
	n := 2
	for n < maxAcross && float64(n*n) < long {
		n++
	}
	return n
}

// step is how far the next pixel to the right and the one below lie in the
// picture. The neighbour before stands in at the end of block or picture.
func (b *block) step(x, y int) (right, down calib.PicturePt) {
	here := b.spot(x, y).at
	if x+1 < b.r.Max.X && y+1 < b.r.Max.Y {
		east, south := b.spot(x+1, y), b.spot(x, y+1)
		if east.is != blank && south.is != blank {
			return apart(here, east.at), apart(here, south.at)
		}
	}
	diff := func(dx, dy int) calib.PicturePt {
		if x+dx >= b.r.Max.X || y+dy >= b.r.Max.Y || b.spot(x+dx, y+dy).is == blank {
			dx, dy = -dx, -dy
		}
		if x+dx < b.r.Min.X || y+dy < b.r.Min.Y || b.spot(x+dx, y+dy).is == blank {
			return calib.PicturePt{}
		}
		to := b.spot(x+dx, y+dy).at
		if dx+dy < 0 {
			return apart(to, here)
		}
		return apart(here, to)
	}
	return diff(1, 0), diff(0, 1)
}

// apart is how far one point lies from another.
func apart(from, to calib.PicturePt) calib.PicturePt {
	return calib.PicturePt{Col: to.Col - from.Col, Row: to.Row - from.Row}
}

// mean averages n × n readings over the pixel.
func (b *block) mean(at, right, down calib.PicturePt, n int) (sum [3]float64) {
	if sum, ok := b.meanAmid(at, right, down, n); ok {
		return sum
	}
	for j := range n {
		v := (float64(j)+0.5)/float64(n) - 0.5
		for i := range n {
			u := (float64(i)+0.5)/float64(n) - 0.5
			got := b.linear(calib.PicturePt{Col: at.Col + u*right.Col + v*down.Col, Row: at.Row + u*right.Row + v*down.Row})
			for k := range sum {
				sum[k] += got[k]
			}
		}
	}
	for k := range sum {
		sum[k] /= float64(n * n)
	}
	return sum
}

// meanAmid is mean where all that is read lies amid what was cut, and nothing of it is
// transparent: in whole numbers, a reading to a 256th of a pixel, three colours at a time.
func (b *block) meanAmid(at, right, down calib.PicturePt, n int) (sum [3]float64, ok bool) {
	x, y := at.Col-0.5-float64(b.from.Min.X), at.Row-0.5-float64(b.from.Min.Y)
	wide, tall := (math.Abs(right.Col)+math.Abs(down.Col))/2, (math.Abs(right.Row)+math.Abs(down.Row))/2
	if !(b.solid && x >= wide && y >= tall && x+wide+2 < float64(b.from.Dx()) && y+tall+2 < float64(b.from.Dy())) {
		return sum, false
	}
	if len(b.lanes) == 0 {
		b.spread()
	}
	each := fine / float64(n)
	first := 0.5 - float64(n)/2 // of the readings along a side, in steps between two
	east, eastDown := int(right.Col*each), int(right.Row*each)
	south, southDown := int(down.Col*each), int(down.Row*each)
	px0, py0 := int(x*fine+first*each*(right.Col+down.Col)), int(y*fine+first*each*(right.Row+down.Row))
	var red, green, blue uint64
	lanes, stride := b.lanes, b.from.Dx()
	for range n {
		px, py := px0, py0
		var row uint64
		for range n {
			i := py>>fineBits*stride + px>>fineBits
			fx, fy := uint64(px>>(fineBits-8)&0xff), uint64(py>>(fineBits-8)&0xff)
			above, below := lanes[i:][:2], lanes[i+stride:][:2]
			wse := fx * fy >> 8
			wne, wsw, wnw := fx-wse, fy-wse, 256-fx-fy+wse // all four are 256
			row += above[0]*wnw + above[1]*wne + below[0]*wsw + below[1]*wse
			px, py = px+east, py+eastDown
		}
		red, green, blue = red+row&lane, green+row>>laneBits&lane, blue+row>>(2*laneBits)
		px0, py0 = px0+south, py0+southDown
	}
	one := 1 / float64(256*n*n)
	return [3]float64{float64(red) * one, float64(green) * one, float64(blue) * one}, true
}

// How meanAmid counts.
const (
	fineBits = 16 // of a position, below a pixel
	fine     = 1 << fineBits
	laneBits = 21 // of a colour in a whole number: enough for the sum of maxAcross readings, each of 255 times 256
	lane     = 1<<laneBits - 1
)

// spread lays the colours of each pixel of what was cut beside each other in a whole number.
func (b *block) spread() {
	for y := range b.from.Dy() {
		for row := b.cut.Pix[y*b.cut.Stride:][:4*b.from.Dx()]; len(row) >= 4; row = row[4:] {
			b.lanes = append(b.lanes, uint64(row[0])|uint64(row[1])<<laneBits|uint64(row[2])<<(2*laneBits))
		}
	}
}

// linear reads between the four pixels around a point.
func (b *block) linear(at calib.PicturePt) (out [3]float64) {
	u, v := at.Col-0.5, at.Row-0.5
	x, y := math.Floor(u), math.Floor(v)
	u, v = u-x, v-y
	if left, top := int(x)-b.from.Min.X, int(y)-b.from.Min.Y; b.solid && left >= 0 && top >= 0 && left+2 <= b.from.Dx() && top+2 <= b.from.Dy() {
		above, below := b.cut.Pix[top*b.cut.Stride+4*left:][:8], b.cut.Pix[(top+1)*b.cut.Stride+4*left:][:8]
		nw, ne, sw, se := (1-u)*(1-v), u*(1-v), (1-u)*v, u*v
		for i := range out {
			out[i] = nw*float64(above[i]) + ne*float64(above[4+i]) + sw*float64(below[i]) + se*float64(below[4+i])
		}
		return out
	}
	for j, wy := range [2]float64{1 - v, v} {
		for i, wx := range [2]float64{1 - u, u} {
			b.add(&out, int(x)+i, int(y)+j, wx*wy)
		}
	}
	return out
}

// cubic reads by cubic convolution over the sixteen pixels around a point.
func (b *block) cubic(at calib.PicturePt) (out [3]float64) {
	u, v := at.Col-0.5, at.Row-0.5
	x, y := math.Floor(u), math.Floor(v)
	wx, wy := keys(u-x), keys(v-y)
	left, top := int(x)-1-b.from.Min.X, int(y)-1-b.from.Min.Y
	if b.solid && left >= 0 && top >= 0 && left+4 <= b.from.Dx() && top+4 <= b.from.Dy() {
		for j := range 4 {
			row, k := b.cut.Pix[(top+j)*b.cut.Stride+4*left:][:16], wy[j]
			for i := range out {
				out[i] += k * (wx[0]*float64(row[i]) + wx[1]*float64(row[4+i]) + wx[2]*float64(row[8+i]) + wx[3]*float64(row[12+i]))
			}
		}
		return out
	}
	for j := range 4 {
		for i := range 4 {
			b.add(&out, int(x)+i-1, int(y)+j-1, wx[i]*wy[j])
		}
	}
	return out
}

// keys are the weights of the four pixels around a point t beyond the second of
// them: Keys (1981), equation 15, which is a = −1/2.
func keys(t float64) [4]float64 {
	t2, t3 := t*t, t*t*t
	return [4]float64{
		-0.5*t3 + t2 - 0.5*t,
		1.5*t3 - 2.5*t2 + 1,
		-1.5*t3 + 2*t2 + 0.5*t,
		0.5*t3 - 0.5*t2,
	}
}

// add adds the weighted colour of a pixel of the picture, on white where it is
// transparent; beyond the picture its nearest pixel counts.
func (b *block) add(sum *[3]float64, x, y int, weight float64) {
	x = min(max(x, b.from.Min.X), b.from.Max.X-1) - b.from.Min.X
	y = min(max(y, b.from.Min.Y), b.from.Max.Y-1) - b.from.Min.Y
	pix := b.cut.Pix[y*b.cut.Stride+4*x:][:4]
	paper := 255 - float64(pix[3])
	for i := range sum {
		sum[i] += weight * (float64(pix[i]) + paper)
	}
}

// How what cannot be trusted is struck through: paled, with a slanting line.
const (
	paled       = 0.5
	strikeEvery = 24 // pixels along a row
	strikeWide  = 3
)

// struck pales a colour, and draws the slanting lines: dark ones where all is
// grey.
func struck(x, y int, v [3]float64, grey bool) [3]float64 {
	line := [3]float64{0xd5, 0x5e, 0x00} // vermilion, Okabe and Ito (Color Universal Design, 2008)
	if grey {
		line = [3]float64{40, 40, 40}
	}
	for i := range v {
		v[i] += paled * (255 - v[i])
		if (x+y)%strikeEvery < strikeWide {
			v[i] = line[i]
		}
	}
	return v
}
