package tiff

import (
	"context"
	"fmt"
	"image"
)

// Decode gives the pixels of a window, which is cut to the page; the bounds
// of the result are those of the cut window, in pixels of the page. progress,
// if it is not nil, is told how many rows' worth of pixels are done, never
// less than before, from the goroutines of the decoding. A *Damage comes with
// a picture; with any other error there is none. Those wrap ErrNotPicture for
// terrain, ErrTooLarge, ErrCorrupt, ErrTruncated, ErrUnsupported, or are the
// reader's or the cause of the context's end.
func (p *Page) Decode(ctx context.Context, r image.Rectangle, progress func(rows int)) (image.Image, error) {
	if p.problem != nil {
		return nil, p.problem
	}
	r = r.Intersect(p.Bounds())
	m := p.mapping()
	if m.shape == shapeNone {
		return nil, fmt.Errorf("%w: they have %d bits in format %d: it may be a height model; export it as an 8-bit picture",
			ErrNotPicture, p.BitDepth, p.Format)
	}
	if err := checkWindow(r, m.memory(p.sub)); err != nil {
		return nil, err
	}
	if err := p.checkClaims(r); err != nil {
		return nil, err
	}
	return p.paint(ctx, r, m, progress)
}

func (p *Page) paint(ctx context.Context, r image.Rectangle, m mapping, progress func(rows int)) (image.Image, error) {
	c, err := p.newCanvas(r, m)
	if err != nil {
		return nil, err
	}
	damage, err := p.run(ctx, r, c, progress)
	if err != nil {
		return nil, err
	}
	if damage == nil {
		return c.picture(), nil
	}
	return c.picture(), damage
}

// memory is the bytes that four pixels of the result take.
func (m mapping) memory(sub image.Point) int64 {
	if m.shape == shapeYCbCr {
		return 4 + int64(8+sub.X*sub.Y-1)/int64(sub.X*sub.Y)
	}
	return 4 * int64(m.bytes)
}

// checkWindow holds a window against the limits; four is the bytes that four
// of its pixels take.
func checkWindow(r image.Rectangle, four int64) error {
	n := int64(r.Dx()) * int64(r.Dy())
	switch {
	case r.Empty():
		return fmt.Errorf("%w: the window lies beside the picture; choose one within it", ErrTooLarge)
	case r.Dx() > MaxSide || r.Dy() > MaxSide:
		return fmt.Errorf("%w: %d × %d pixels, at most %d on a side; cut it into sheets or save it smaller",
			ErrTooLarge, r.Dx(), r.Dy(), MaxSide)
	case n > MaxPixels:
		return fmt.Errorf("%w: %d × %d is %d megapixels, at most %d; cut it into sheets or save it smaller",
			ErrTooLarge, r.Dx(), r.Dy(), n/1_000_000, MaxPixels/1_000_000)
	case n*four/4 > MaxBytes:
		return fmt.Errorf("%w: %d × %d pixels need %d MB, at most %d; cut it into sheets or save it smaller",
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
		return fmt.Errorf("%w: %d × %d pixels are claimed, but only %d bytes are there for them; copy the file again from where it came",
			ErrTruncated, r.Dx(), r.Dy(), have)
	}
	return nil
}
