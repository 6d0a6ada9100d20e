package files

import (
	"errors"
	"image"
	"sync"

	"legwright/canvas/pyramid"
	"legwright/mapio/rectify"
)

// errPictureGone ends the export if the picture is closed meanwhile.
var errPictureGone = errors.New("the picture was closed, or its file can no longer be read: open it again")

// mostPieces is how many pieces are kept, 64 MB of them: the next strip across a sheet
// of 20,000 pixels, turned or not, needs the same ones.
const mostPieces = 256

// pieces cuts rectangles from the picture as it is in its file, out of squares of
// pyramid.MaxCrop pixels that it keeps: reading one from the store takes longer than
// drawing from it. Several goroutines may use it.
type pieces struct {
	p *pyramid.Pyramid

	mu    sync.Mutex
	kept  map[image.Point]*image.RGBA
	order []image.Point // the oldest first
}

// cutOf returns what cuts rectangles from a picture.
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

// piece returns the square that begins at a pixel.
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
