package ui

import (
	"errors"
	"image"
	"sync"

	"legwright/canvas/pyramid"
	"legwright/mapio/rectify"
)

// errPictureGone is what stops the work where the picture is let go of.
var errPictureGone = errors.New("the picture is no longer there, or its file cannot be read: open it again")

// mostPieces is how many pieces are kept, 64 MB of them: a strip across a sheet
// of 20,000 pixels, turned or not, needs them again for the next one.
const mostPieces = 256

// pieces hands out parts of the picture that is shown, whatever its look, cut
// from squares of pyramid.MaxCrop pixels: to read one from the store takes
// longer than to draw from it. It serves several goroutines.
type pieces struct {
	p *pyramid.Pyramid

	mu    sync.Mutex
	kept  map[image.Point]*image.RGBA
	order []image.Point // the oldest first
}

// cutOf cuts rectangles from a picture.
func cutOf(p *pyramid.Pyramid) rectify.Cut {
	return (&pieces{p: p, kept: map[image.Point]*image.RGBA{}}).cut
}

func (c *pieces) cut(r image.Rectangle) (*image.RGBA, error) {
	const side = pyramid.MaxCrop
	out := image.NewRGBA(image.Rectangle{Max: r.Size()})
	for y := r.Min.Y / side; y*side < r.Max.Y; y++ {
		for x := r.Min.X / side; x*side < r.Max.X; x++ {
			from := image.Pt(x*side, y*side)
			piece, err := c.piece(from)
			if err != nil {
				return nil, err
			}
			part := piece.Rect.Add(from).Intersect(r)
			for row := part.Min.Y; row < part.Max.Y; row++ {
				copy(out.Pix[out.PixOffset(part.Min.X-r.Min.X, row-r.Min.Y):],
					piece.Pix[piece.PixOffset(part.Min.X-from.X, row-from.Y):][:4*part.Dx()])
			}
		}
	}
	return out, nil
}

// piece is the square that begins at a pixel.
func (c *pieces) piece(from image.Point) (*image.RGBA, error) {
	c.mu.Lock()
	m := c.kept[from]
	c.mu.Unlock()
	if m != nil {
		return m, nil
	}
	r := image.Rectangle{from, from.Add(image.Pt(pyramid.MaxCrop, pyramid.MaxCrop))}
	m = c.p.Crop(r.Intersect(image.Rectangle{Max: c.p.Size()}))
	if !c.p.Ready(0) {
		return nil, errPictureGone
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.kept[from] == nil {
		c.order = append(c.order, from)
	}
	c.kept[from] = m
	if len(c.order) > mostPieces {
		delete(c.kept, c.order[0])
		c.order = c.order[1:]
	}
	return m, nil
}
