package windowtest

import (
	"fmt"
	"image"
	"image/jpeg"
	"os"
)

// Reference is the luma of a JPEG as another decoder than the bench's reads
// it, image/jpeg of the standard library, and the levels made from it by the
// bench's rule, written down a second time.
type Reference struct {
	levels []*image.Gray // from the picture down to a side of lastLevel
}

// lastLevel is the longer side of the last level, in pixels at most.
const lastLevel = 64

// ReadReference decodes a JPEG file.
func ReadReference(file string) (*Reference, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	pic, err := jpeg.Decode(f)
	if err != nil {
		return nil, err
	}
	y, ok := pic.(*image.YCbCr)
	if !ok {
		return nil, fmt.Errorf("%s is a %T, want a JPEG in colour", file, pic)
	}
	return newReference(&image.Gray{Pix: y.Y, Stride: y.YStride, Rect: image.Rectangle{Max: y.Rect.Size()}}), nil
}

func newReference(luma *image.Gray) *Reference {
	r := &Reference{levels: []*image.Gray{luma}}
	for l := luma; max(l.Rect.Dx(), l.Rect.Dy()) > lastLevel; {
		l = half(l)
		r.levels = append(r.levels, l)
	}
	return r
}

// half is the next level: each pixel the mean of the 2 × 2 it stands for,
// drawn a quarter towards the darkest of them. A last row or column that
// stands alone counts twice.
func half(l *image.Gray) *image.Gray {
	w, h := l.Rect.Dx(), l.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, (w+1)/2, (h+1)/2))
	for y := range out.Rect.Dy() {
		top, low, to := l.Pix[2*y*l.Stride:], l.Pix[min(2*y+1, h-1)*l.Stride:], out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			e := min(2*x+1, w-1)
			a, b, c, d := top[2*x], top[e], low[2*x], low[e]
			mean := (int(a) + int(b) + int(c) + int(d) + 2) / 4
			to[x] = uint8(mean - (mean-int(min(a, b, c, d)))/4)
		}
	}
	return out
}

// size is that of the picture in pixels.
func (r *Reference) size() image.Point { return r.levels[0].Rect.Size() }
