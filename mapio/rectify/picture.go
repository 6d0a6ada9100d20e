package rectify

import (
	"context"
	"image"
	"math"
	"runtime"
	"sync"
)

// stripRows is the height of what is drawn at a time: a multiple of the block,
// and of the 16 rows that the encoder of JPEG takes together.
const stripRows = 2 * blockPx

// picture is the rectified map as it is drawn, strip by strip from top to
// bottom: while one strip is written the next is drawn. It serves one goroutine,
// which ends it by close.
type picture struct {
	s        Sheet
	f        Frame
	band     *image.RGBA
	rows     int // of map and band
	progress func(done, all int)

	strip *image.RGBA // that is written; its bounds are those of the rows it holds
	drawn chan drawing
	spent chan *image.RGBA // strips that can be drawn over
	stop  context.CancelFunc
	err   error // of drawing
}

// drawing is a strip, or why it could not be drawn.
type drawing struct {
	strip *image.RGBA
	err   error
}

// begin starts the drawing, until ctx ends. One strip that was drawn by then may
// still come.
func (p *picture) begin(ctx context.Context) {
	ctx, p.stop = context.WithCancel(ctx)
	p.drawn, p.spent = make(chan drawing), make(chan *image.RGBA, 2)
	p.spent <- nil
	p.spent <- nil
	go func() {
		defer close(p.drawn)
		for top := 0; top < p.rows; top += stripRows {
			m, err := p.draw(ctx, <-p.spent, top)
			p.drawn <- drawing{m, err}
			if err != nil {
				return
			}
		}
	}()
}

// close stops the drawing, and waits for its end.
func (p *picture) close() {
	p.stop()
	for range p.drawn {
		p.spent <- nil
	}
}

// next goes to the next strip. It returns false when there is none, or none
// that is whole: then err says why.
func (p *picture) next() bool {
	if p.strip != nil {
		p.spent <- p.strip
		p.strip = nil
	}
	d, ok := <-p.drawn
	if p.err = d.err; !ok || p.err != nil {
		return false
	}
	p.strip = d.strip
	if p.progress != nil {
		p.progress(p.strip.Rect.Max.Y, p.rows)
	}
	return true
}

// bounds are those of map and band.
func (p *picture) bounds() image.Rectangle { return image.Rect(0, 0, p.f.Cols, p.rows) }

// draw draws the strip that begins at row top, over an older one if it can.
// When ctx ends the error is its cause.
func (p *picture) draw(ctx context.Context, m *image.RGBA, top int) (*image.RGBA, error) {
	if err := context.Cause(ctx); err != nil {
		return nil, err
	}
	r := image.Rect(0, top, p.f.Cols, min(top+stripRows, p.rows))
	if m == nil || m.Rect.Size() != r.Size() {
		m = image.NewRGBA(r)
	}
	m.Rect = r
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	if err := p.blocks(ctx, m, r.Intersect(image.Rect(0, 0, p.f.Cols, p.f.Rows))); err != nil {
		return nil, err
	}
	p.addBand(m)
	return m, context.Cause(ctx)
}

// blocks draws the map's part of a strip, block by block.
func (p *picture) blocks(ctx context.Context, m *image.RGBA, r image.Rectangle) error {
	side := p.blockSide()
	jobs := make(chan image.Rectangle)
	errs := make([]error, p.workers())
	var wait sync.WaitGroup
	for i := range errs {
		wait.Add(1)
		go func() {
			defer wait.Done()
			b := &block{p: p, m: m}
			for at := range jobs {
				if errs[i] == nil && ctx.Err() == nil {
					errs[i] = b.draw(at)
				}
			}
		}()
	}
	for y := r.Min.Y; y < r.Max.Y; y += side {
		for x := r.Min.X; x < r.Max.X; x += side {
			jobs <- image.Rect(x, y, x+side, y+side).Intersect(r)
		}
	}
	close(jobs)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// workers is how many blocks are drawn at a time.
func (p *picture) workers() int {
	if p.s.Workers > 0 {
		return p.s.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// blockSide is smaller where pixels are coarser, so that the part of the sheet's
// picture under a block stays small.
func (p *picture) blockSide() int {
	side := blockPx
	for k := p.f.MetresPerPixel / p.s.Calibration.MetresPerPixel(); k > math.Sqrt2 && side > leastBlock; k /= 2 {
		side /= 2
	}
	return side
}

// addBand lays the band's part over a strip.
func (p *picture) addBand(m *image.RGBA) {
	r := m.Rect
	for y := max(r.Min.Y, p.f.Rows); y < r.Max.Y; y++ {
		row := p.band.Pix[(y-p.f.Rows)*p.band.Stride:][:4*p.f.Cols]
		copy(m.Pix[m.PixOffset(0, y):], row)
	}
}
