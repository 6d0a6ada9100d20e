package overlay

import (
	"encoding/binary"
	"image"
	"math"
)

// inked is a premultiplied picture of which most is clear: its rows hold runs of pixels with
// ink, each as the column that it begins at, how many pixels it has, and those.
type inked struct {
	rows []int // where each row begins in runs, and behind the last one where that ends
	runs []uint32
}

// inkedOf keeps a picture without what is clear in it.
func inkedOf(img *image.RGBA) (out inked) {
	out.rows = append(out.rows, 0)
	for y := range img.Rect.Dy() {
		row, count := img.Pix[y*img.Stride:(y+1)*img.Stride], -1
		for x := range img.Rect.Dx() {
			c := binary.LittleEndian.Uint32(row[4*x:])
			switch {
			case c == 0:
				count = -1
				continue
			case count < 0:
				count = len(out.runs) + 1
				out.runs = append(out.runs, uint32(x), 0)
			}
			out.runs[count]++
			out.runs = append(out.runs, c)
		}
		out.rows = append(out.rows, len(out.runs))
	}
	return out
}

// one is a pixel in the numbers that stretch counts with.
const one = 1 << 16

// stretch lays a picture over the strip, k times larger, with its corner at x, y. It takes the
// nearest pixels.
func (p *strip) stretch(src *inked, x, y, k float64) {
	high := len(src.rows) - 1
	top := max(int(math.Ceil(y-0.5)), p.y0)
	bottom := min(int(math.Ceil(y+k*float64(high)-0.5)), p.y1)
	s := stretcher{left: int(math.Floor((x - 0.5) * one)), times: int(k*one + 0.5), step: int(one/k + 0.5), wide: p.img.Rect.Dx()}
	for row := top; row < bottom; row++ {
		n := min(int((float64(row)+0.5-y)/k), high-1)
		dst := p.img.Pix[row*p.img.Stride : row*p.img.Stride+4*s.wide]
		for runs := src.runs[src.rows[n]:src.rows[n+1]]; len(runs) > 2; {
			from, end := int(runs[0]), 2+int(runs[1])
			s.run(dst, runs[2:end], from)
			runs = runs[end:]
		}
	}
}

// stretcher lays runs of pixels over rows.
type stretcher struct {
	left  int // the corner's column less half a pixel
	times int // how wide a pixel becomes
	step  int // what a pixel of the row is in the picture
	wide  int // of the row
}

// run lays a run over a row; from is its column in the picture.
func (s *stretcher) run(dst []uint8, run []uint32, from int) {
	x0 := max((s.left+from*s.times+one-1)/one, 0)
	x1 := min((s.left+(from+len(run))*s.times+one-1)/one, s.wide)
	at := max((x0*one-s.left)*s.step/one-from*one, 0)
	for x := x0; x < x1; x, at = x+1, at+s.step {
		put(dst[4*x:], run[min(at/one, len(run)-1)])
	}
}
