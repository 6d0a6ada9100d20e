package overlay

import (
	"image"
	"image/color"

	"golang.org/x/image/vector"
)

// maxSpare is how many buffers of discarded text images are kept for new ones.
const maxSpare = 8

// buffers keeps what drawing a text needs for the next one. A line dragged
// about is written anew with every move of the pointer; what that left to the
// collector made every sixteenth frame of a drag late.
type buffers struct {
	z         vector.Rasterizer
	ink, halo image.Alpha
	spare     [][]uint8
	lines     [2]image.RGBA // that on the screen and the next one
	turn      int
	brush     []brushPixel
	brushSize float64
	colours   *shades
}

// mask gives m as a clear mask of a size.
func mask(m *image.Alpha, size image.Point) *image.Alpha {
	m.Pix = cleared(m.Pix, size.X*size.Y)
	m.Stride, m.Rect = size.X, image.Rectangle{Max: size}
	return m
}

// cleared gives n zero bytes, those of b where there is room.
func cleared(b []uint8, n int) []uint8 {
	if cap(b) < n {
		return make([]uint8, n, n+n/4) // texts of nearly one length follow each other
	}
	b = b[:n]
	clear(b)
	return b
}

// picture gives a clear picture for a text.
func (s *buffers) picture(size image.Point) *image.RGBA {
	n := 4 * size.X * size.Y
	img := &image.RGBA{Stride: 4 * size.X, Rect: image.Rectangle{Max: size}}
	for i, b := range s.spare {
		if cap(b) >= n && cap(b) <= 4*n {
			s.spare[i] = s.spare[len(s.spare)-1]
			s.spare = s.spare[:len(s.spare)-1]
			img.Pix = cleared(b, n)
			return img
		}
	}
	img.Pix = cleared(nil, n)
	return img
}

// takeBack keeps the buffer of a text image that is discarded.
func (s *buffers) takeBack(p *textImage) {
	if p.img != nil && len(s.spare) < maxSpare {
		s.spare = append(s.spare, p.img.Pix)
	}
}

// line gives a clear picture for the line along a drag. It is good until the
// next line but one is drawn.
func (s *buffers) line(size image.Point) *image.RGBA {
	s.turn = 1 - s.turn
	img := &s.lines[s.turn]
	img.Pix = cleared(img.Pix, 4*size.X*size.Y)
	img.Stride, img.Rect = 4*size.X, image.Rectangle{Max: size}
	return img
}

// disc is a soft disc of radius r pixels; nearly always it is that of the text
// before.
func (s *buffers) disc(r float64) []brushPixel {
	if s.brushSize != r {
		s.brush, s.brushSize = disc(r), r
	}
	return s.brush
}

// shades are those of a colour, nearly always that of the text before.
func (s *buffers) shades(c color.NRGBA, night bool) *shades {
	if s.colours == nil || s.colours.of != c || s.colours.night != night {
		s.colours = newShades(c, night)
	}
	return s.colours
}
