package tiff

import (
	"context"
	"fmt"
	"image"
)

// Decode gives the pixels of a window, which is cut to the page; the bounds
// of the result are those of the cut window, in pixels of the page. progress,
// if it is not nil, is called with how many rows' worth of pixels are done, never
// less than before, from the goroutines of the decoding. With an error there
// is no picture. Errors wrap ErrNotPicture for terrain, ErrTooLarge,
// ErrCorrupt, ErrTruncated, ErrUnsupported, or are the reader's or the cause of
// the context's end.
func (p *Page) Decode(ctx context.Context, r image.Rectangle, progress func(rows int)) (image.Image, error) {
	r = r.Intersect(p.Bounds())
	m, err := p.ready(r)
	if err != nil {
		return nil, err
	}
	return p.paint(ctx, r, m, progress)
}

// ready says how a window is made into a picture, if it can be.
func (p *Page) ready(r image.Rectangle) (mapping, error) {
	if p.problem != nil {
		return mapping{}, p.problem
	}
	m := p.mapping()
	if m.shape == shapeNone {
		return m, fmt.Errorf("%w: they have %d bits in format %d: it may be terrain; open it as terrain, or export it as an 8-bit picture",
			ErrNotPicture, p.BitDepth, p.Format)
	}
	if err := checkWindow(r, m.memory(p.sub)); err != nil {
		return m, err
	}
	return m, p.checkClaims(r)
}

func (p *Page) paint(ctx context.Context, r image.Rectangle, m mapping, progress func(rows int)) (image.Image, error) {
	c, err := p.newCanvas(r, m, func(n int) []uint8 { return make([]uint8, n) })
	if err != nil {
		return nil, err
	}
	if c.ycc != nil {
		c.blank(r)
	}
	if err := p.run(ctx, r, c, progress); err != nil {
		return nil, err
	}
	return c.picture(), nil
}

// MaxBand is the most rows that DecodeDown decodes at a time.
const MaxBand = 1024

// DecodeDown decodes the whole page from top to bottom, in memory that room
// gives, which may hold anything. begin is handed the
// picture before its first row, and rows is called, in this goroutine, with the row
// down to which it is done: these are not written again. Errors are those of
// Decode, and ErrUnsupported for palettes, inks, pages whose strips or tiles
// are higher than MaxBand, and those of which two would share a row of colour.
func (p *Page) DecodeDown(ctx context.Context, room func(bytes int) []uint8, begin func(image.Image), rows func(done int)) error {
	return p.decodeDown(ctx, MaxBand, room, begin, rows)
}

func (p *Page) decodeDown(ctx context.Context, most int, room func(bytes int) []uint8, begin func(image.Image), rows func(done int)) error {
	all := p.Bounds()
	m, err := p.ready(all)
	if err != nil {
		return err
	}
	band, err := p.band(m, most)
	if err != nil {
		return err
	}
	c, err := p.newCanvas(all, m, room)
	if err != nil {
		return err
	}
	begin(c.picture())
	for y := 0; y < all.Max.Y; y += band {
		r := image.Rect(0, y, all.Max.X, min(y+band, all.Max.Y))
		c.blank(r)
		if err := p.run(ctx, r, c, nil); err != nil {
			return err
		}
		rows(r.Max.Y)
	}
	return nil
}

// ComesDown says whether DecodeDown decodes pages of this kind at all.
func (p *Page) ComesDown() bool {
	if p.problem != nil {
		return false
	}
	_, err := p.band(p.mapping(), MaxBand)
	return err == nil
}

// band is how many rows at a time come from top to bottom, at most most.
func (p *Page) band(m mapping, most int) (int, error) {
	band := p.ChunkHeight * max(1, most/2/p.ChunkHeight)
	alone := p.compression == compJPEG && p.single(p.Bounds()) // its decoder brings the planes
	if band > most || m.shape == shapeIndex || m.shape == shapeInk || m.shape == shapeYCbCr && (alone || band%4 != 0) {
		return 0, unsupported("it cannot be decoded in bands of %d rows", band)
	}
	return band, nil
}

// memory is the bytes that four pixels of the result take.
func (m mapping) memory(sub image.Point) int64 {
	if m.shape == shapeYCbCr {
		return 4 + int64(8+sub.X*sub.Y-1)/int64(sub.X*sub.Y)
	}
	return 4 * int64(m.bytes)
}

// checkWindow checks a window against the limits; four is the bytes that four
// of its pixels take.
func checkWindow(r image.Rectangle, four int64) error {
	n := int64(r.Dx()) * int64(r.Dy())
	switch {
	case r.Empty():
		return fmt.Errorf("%w: the window is outside the picture; choose one inside it", ErrTooLarge)
	case r.Dx() > MaxSide || r.Dy() > MaxSide:
		return fmt.Errorf("%w: %d × %d pixels, but at most %d on a side can be read; cut it into pieces or save it smaller",
			ErrTooLarge, r.Dx(), r.Dy(), MaxSide)
	case n > MaxPixels:
		return fmt.Errorf("%w: %d × %d is %d megapixels, but at most %d can be read; cut it into pieces or save it smaller",
			ErrTooLarge, r.Dx(), r.Dy(), n/1_000_000, MaxPixels/1_000_000)
	case n*four/4 > MaxBytes:
		return fmt.Errorf("%w: %d × %d pixels need %d MB, but at most %d can be used; cut it into pieces or save it smaller",
			ErrTooLarge, r.Dx(), r.Dy(), n*four/4_000_000, MaxBytes/1_000_000)
	}
	return nil
}

// checkClaims refuses a window that claims more than its stored bytes can
// give: nobody's picture, but an attack on the memory. Small ones pass.
func (p *Page) checkClaims(r image.Rectangle) error {
	if _, err := p.load(); err != nil {
		return err
	}
	const small = 64 << 20
	var need, have int64
	for c := range p.chunks(r) {
		need += p.need(min(c.Max.Y, p.Height) - c.Min.Y)
		if _, n, ok := p.place(c); ok {
			have += n
		}
	}
	if need > small && need/p.ratio() > have {
		return fmt.Errorf("%w: it claims %d × %d pixels but has only %d bytes for them; copy the file again from the original",
			ErrTruncated, r.Dx(), r.Dy(), have)
	}
	return nil
}
