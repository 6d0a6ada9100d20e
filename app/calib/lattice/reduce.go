package lattice

import (
	"context"
	"image"
)

// blockSide is the side of the blocks that Reduced takes, in pixels: a power of
// two.
const blockSide = 256

// Reduced gives the grey picture in which Find looks for a grid, of a picture of
// that size that comes in blocks of at most 256 × 256 pixels. A large one is
// reduced k times by the mean, k being a power of two. What block gives has the
// size of the rectangle asked for, at its own bounds; it is called from two
// goroutines. Once the context ends, the rest stays black.
func Reduced(ctx context.Context, size image.Point, block func(image.Rectangle) image.Image) (m *image.Gray, k int) {
	k = 1
	for size.X/k*(size.Y/k) > maxPixels && k < blockSide {
		k *= 2
	}
	m = image.NewGray(image.Rect(0, 0, size.X/k, size.Y/k))
	twice(func(part, parts int) {
		for y := part * blockSide; y < size.Y; y += parts * blockSide {
			for x := 0; x < size.X && ctx.Err() == nil; x += blockSide {
				r := image.Rect(x, y, min(x+blockSide, size.X), min(y+blockSide, size.Y))
				reduceBlock(m, block(r), r.Min, k)
			}
		}
	})
	return m, k
}

// reduceBlock puts the block that stands at a place of the picture into the
// reduced one. What is left of it beyond whole squares of k pixels is dropped.
func reduceBlock(m *image.Gray, block image.Image, at image.Point, k int) {
	b := block.Bounds()
	row, sums := make([]uint8, b.Dx()), make([]int, b.Dx()/k)
	for y := 0; y+k <= b.Dy(); y += k {
		clear(sums)
		for t := range k {
			lumaRow(row, block, b.Min.X, b.Min.Y+y+t)
			for i := range sums {
				for _, v := range row[i*k : i*k+k] {
					sums[i] += int(v)
				}
			}
		}
		dst := m.Pix[(at.Y+y)/k*m.Stride+at.X/k:]
		for i, sum := range sums {
			dst[i] = uint8((sum + k*k/2) / (k * k))
		}
	}
}

// cutout is a part of a picture.
type cutout struct {
	image.Image
	r image.Rectangle
}

// Bounds are those of the part.
func (w cutout) Bounds() image.Rectangle { return w.r }
