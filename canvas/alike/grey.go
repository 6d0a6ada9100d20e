package alike

import (
	"image"
	"math"
)

// grey is a picture in grey levels, smoothed a little.
type grey struct {
	side int
	pix  []float64
}

func (g grey) at(x, y int) float64 { return g.pix[y*g.side+x] }

// greyOf is false where a part of the patch lies beyond the picture.
func greyOf(img *image.RGBA) (grey, bool) {
	g := grey{side: img.Rect.Dx(), pix: make([]float64, img.Rect.Dx()*img.Rect.Dy())}
	for y := range g.side {
		for x := range g.side {
			c := img.RGBAAt(img.Rect.Min.X+x, img.Rect.Min.Y+y)
			if c.A != math.MaxUint8 {
				return g, false
			}
			// weights of ITU-R BT.601
			g.pix[y*g.side+x] = 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)
		}
	}
	return g.smoothed(), true
}

// smoothed is a mean over 3 × 3 pixels with weights 1, 2, 1: a half pixel of
// displacement and noise cost little then.
func (g grey) smoothed() grey {
	across := grey{g.side, make([]float64, len(g.pix))}
	down := grey{g.side, make([]float64, len(g.pix))}
	within := func(i int) int { return max(0, min(g.side-1, i)) }
	for y := range g.side {
		for x := range g.side {
			across.pix[y*g.side+x] = (g.at(within(x-1), y) + 2*g.at(x, y) + g.at(within(x+1), y)) / 4
		}
	}
	for y := range g.side {
		for x := range g.side {
			down.pix[y*g.side+x] = (across.at(x, within(y-1)) + 2*across.at(x, y) + across.at(x, within(y+1))) / 4
		}
	}
	return down
}

// drawnTiles are the corners of the tiles on which there is more than paper.
func (g grey) drawnTiles() []image.Point {
	var out []image.Point
	off := (g.side - tiles*tile) / 2
	for j := range tiles {
		for i := range tiles {
			p := image.Pt(off+i*tile, off+j*tile)
			if g.deviation(p) >= drawn {
				out = append(out, p)
			}
		}
	}
	return out
}

// deviation is the standard deviation of a tile in grey levels.
func (g grey) deviation(p image.Point) float64 {
	sum, squares := 0.0, 0.0
	for y := range tile {
		for x := range tile {
			v := g.at(p.X+x, p.Y+y)
			sum, squares = sum+v, squares+v*v
		}
	}
	const n = tile * tile
	return math.Sqrt(math.Max(0, squares/n-sum*sum/(n*n)))
}
