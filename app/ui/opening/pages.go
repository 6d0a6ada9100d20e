package opening

import (
	"context"
	"errors"
	"image"
	"math"

	"golang.org/x/image/draw"

	"legwright/app/plan"
	"legwright/app/ui/jobs"
	"legwright/mapio/scan"
)

// Pages draws pages of documents small, for whoever chooses one. It belongs to the
// main thread.
type Pages struct {
	from *Source
	slot *jobs.Slot
}

// NewPages makes Pages; see Options.Later.
func NewPages(from *Source, later func(func())) *Pages {
	return &Pages{from, jobs.NewSlot(later)}
}

// Draw draws the page of a document, counted from 1, beside the window: done is
// called on the main thread with a picture whose longer side is at most side pixels,
// or why there is none. Another Draw takes the place of the one under way. A picture
// that Desk.Withheld names must not be asked for.
func (p *Pages) Draw(path string, number, side int, done func(image.Image, error)) {
	var small image.Image
	p.slot.Start(Name(path), func(ctx context.Context, _ func(jobs.Progress)) (err error) {
		small, err = p.from.small(ctx, path, number, side)
		return err
	}, func(err error) { done(small, err) })
}

// Cancel ends the drawing under way.
func (p *Pages) Cancel() { p.slot.Cancel() }

// errDrawn ends a decoding whose preview is all that is wanted.
var errDrawn = errors.New("the preview is enough")

// small draws a page small.
func (s *Source) small(ctx context.Context, path string, number, side int) (image.Image, error) {
	fsys, name := s.folder(path, plan.Page{Number: number})
	data, err := s.Opener.Look(ctx, fsys, name, scan.Options{Page: number})
	if err != nil {
		return nil, err
	}
	h, opt := data.Header, scan.Options{Page: number, Side: side}
	if h.PageDPI > 0 {
		opt.DPI = max(scan.MinPageDPI, math.Floor(h.PageDPI*float64(side)/float64(max(h.Width, h.Height))))
	}
	ctx, enough := context.WithCancelCause(ctx)
	defer enough(nil)
	var early image.Image
	opt.Preview = func(v scan.Preview) {
		early = v.Image
		enough(errDrawn)
	}
	opt.Hash = func([32]byte) {}
	whole, err := s.Opener.Open(ctx, fsys, name, opt)
	switch {
	case err == nil:
		return shrunk(whole.Image, side), nil
	case errors.Is(context.Cause(ctx), errDrawn):
		return shrunk(early, side), nil
	}
	return nil, err
}

// shrunk is a picture whose longer side is at most side pixels.
func shrunk(m image.Image, side int) image.Image {
	size := m.Bounds().Size()
	most := max(size.X, size.Y)
	if most <= side {
		return m
	}
	out := image.NewRGBA(image.Rect(0, 0, max(1, size.X*side/most), max(1, size.Y*side/most)))
	draw.ApproxBiLinear.Scale(out, out.Rect, m, m.Bounds(), draw.Src, nil)
	return out
}
