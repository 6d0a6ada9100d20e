package benchsheet

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"io"
	"math"

	"legwright/assets/demo"
)

// The texture comes from the demo's scan: its inner part is repeated in mirror
// image, so that no seam shows, along paths bent by long waves, with some added
// grain. So every part has lines, digits and paper grain as densely as the scan,
// but no part repeats another exactly.

// rim is how much of the demo scan is left out on each side: its paper lies
// turned on the glass, and the lid shows round it.
const rim = 140

// paper reads the texture at any point of an endless sheet.
type paper struct {
	pic  *image.RGBA
	w, h int // of the inner part
}

func newPaper() (*paper, error) {
	scan, err := jpeg.Decode(bytes.NewReader(demo.Scan()))
	if err != nil {
		return nil, fmt.Errorf("demo scan: %w", err)
	}
	inner := scan.Bounds().Inset(rim)
	pic := image.NewRGBA(image.Rect(0, 0, inner.Dx(), inner.Dy()))
	draw.Draw(pic, pic.Rect, scan, inner.Min, draw.Src)
	return &paper{pic: pic, w: inner.Dx(), h: inner.Dy()}, nil
}

// writePPM writes a sheet of the given size as a binary PPM, eight bits a
// channel, row by row: the sheet is never in memory as a whole.
func (p *paper) writePPM(w io.Writer, size image.Point) error {
	out := bufio.NewWriterSize(w, 1<<20)
	fmt.Fprintf(out, "P6\n%d %d\n255\n", size.X, size.Y)
	row := make([]byte, 3*size.X)
	for y := range size.Y {
		p.row(row, y)
		_, _ = out.Write(row) // Flush gives its error
	}
	return out.Flush()
}

// row fills one row. Along it the bent path is straight for a few pixels at a
// time.
func (p *paper) row(out []byte, y int) {
	const step = 16
	grain := uint32(y)*2654435761 | 1
	u0, v0 := bend(0, float64(y))
	for x := 0; x*3 < len(out); x += step {
		u1, v1 := bend(float64(x+step), float64(y))
		for i := 0; i < step && (x+i)*3 < len(out); i++ {
			f := float64(i) / step
			grain ^= grain << 13
			grain ^= grain >> 17
			grain ^= grain << 5
			p.pixel(out[(x+i)*3:(x+i)*3+3], u0+(u1-u0)*f, v0+(v1-v0)*f, int(grain>>16&7)-int(grain>>24&7))
		}
		u0, v0 = u1, v1
	}
}

// bend is where a pixel of the sheet lies on the endless paper, in pixels.
func bend(x, y float64) (u, v float64) {
	u = x + 70*math.Sin(y/1310+0.7) + 23*math.Sin((x+1.7*y)/463)
	v = y + 80*math.Sin(x/1570+1.1) + 19*math.Sin((y-1.3*x)/389)
	return u, v
}

// pixel reads the texture between the middles of its pixels, in 1/256.
func (p *paper) pixel(out []byte, u, v float64, grain int) {
	fu, fv := math.Floor(u), math.Floor(v)
	a, b := int(256*(u-fu)), int(256*(v-fv))
	x0, x1 := mirror(int(fu), p.w)*4, mirror(int(fu)+1, p.w)*4
	top := p.pic.Pix[mirror(int(fv), p.h)*p.pic.Stride:]
	low := p.pic.Pix[mirror(int(fv)+1, p.h)*p.pic.Stride:]
	for k := range 3 {
		t := int(top[x0+k])*(256-a) + int(top[x1+k])*a
		l := int(low[x0+k])*(256-a) + int(low[x1+k])*a
		out[k] = uint8(min(max((t*(256-b)+l*b)>>16+grain/2, 0), 255))
	}
}

// mirror folds a point onto 0 … n−1, there and back again.
func mirror(i, n int) int {
	if i %= 2 * n; i < 0 {
		i += 2 * n
	}
	if i >= n {
		return 2*n - 1 - i
	}
	return i
}
