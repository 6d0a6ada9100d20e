package pyramid

import "image"

// model is how a level keeps its colours.
type model uint8

const (
	grey    model = 1 + iota // one byte a pixel
	ycc                      // a luma plane and two chroma planes
	rgba                     // four bytes per pixel, premultiplied
	indexed                  // one palette index a pixel
)

// kind is a colour model with, for ycc, the halvings of chroma across (sx)
// and down (sy): chroma column x>>sx, row y>>sy belongs to luma (x, y).
type kind struct {
	model  model
	sx, sy uint8
}

// half is the kind of a level of half the size. A direction in which chroma
// is subsampled is already half; the colours of a palette become RGBA.
func (k kind) half() kind {
	switch k.model {
	case ycc:
		return kind{ycc, k.sx - min(k.sx, 1), k.sy - min(k.sy, 1)}
	case indexed:
		return kind{model: rgba}
	}
	return k
}

// chroma is the size of a chroma plane over sz luma samples.
func (k kind) chroma(sz image.Point) image.Point {
	return image.Pt((sz.X-1)>>k.sx+1, (sz.Y-1)>>k.sy+1)
}

// bytes is the size of sz pixels.
func (k kind) bytes(sz image.Point) int {
	n := sz.X * sz.Y
	switch k.model {
	case ycc:
		c := k.chroma(sz)
		return n + 2*c.X*c.Y
	case rgba:
		return 4 * n
	}
	return n
}

// kinds lists the kind of every one of n levels, from the picture down.
func (k kind) kinds(n int) []kind {
	all := make([]kind, n)
	for i := range all {
		all[i] = k
		k = k.half()
	}
	return all
}

// largestRawTile is the size of a full tile in the kind that needs most.
func largestRawTile(all []kind) int {
	most := 0
	for _, k := range all {
		most = max(most, k.bytes(image.Pt(TileSize, TileSize)))
	}
	return most
}
