package lattice

import (
	"context"
	"image"
)

// blockSide is the side of the blocks that Reduced reads, in pixels: a power of
// two.
const blockSide = 256

// Reduced returns the grey picture in which Find looks for a grid. It reads a
// picture of the given size in blocks of at most 256 × 256 pixels and reduces a
// large one k times by the mean, k being a power of two. block returns a picture of
// the size of the rectangle, with bounds of its own; two goroutines call it. Once
// the context ends, the rest stays black.
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

// reduceBlock adds the block at a point of the picture to the reduced picture. It
// ignores the rest beyond whole squares of k pixels.
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
