package straight

import (
	"context"
	"image"
	"image/color"
	"runtime"
	"sync"
)

// stripRows is the height of what is in memory at a time: a multiple of the
// block, and of the sixteen rows that JPEG takes together.
const stripRows = 4 * blockPx

// picture is the straightened picture as encoders read it, from top to bottom:
// a strip is drawn when its first pixel is asked for. It serves one goroutine.
type picture struct {
	ctx      context.Context
	s        Sheet
	f        Frame
	band     *image.RGBA
	rows     int // of map and band
	progress func(done, all int)

	strip *image.RGBA // its bounds are those of the rows it holds
	err   error       // of drawing; from then on all is paper
}

// ColorModel is that of opaque colours.
func (p *picture) ColorModel() color.Model { return color.RGBAModel }

// Bounds are those of map and band.
func (p *picture) Bounds() image.Rectangle { return image.Rect(0, 0, p.f.Cols, p.rows) }

// Opaque says that no pixel is transparent.
func (p *picture) Opaque() bool { return true }

// At returns a pixel, and draws the strip that it lies in.
func (p *picture) At(x, y int) color.Color {
	if p.strip == nil || y < p.strip.Rect.Min.Y || y >= p.strip.Rect.Max.Y {
		p.draw(y / stripRows * stripRows)
	}
	return p.strip.RGBAAt(x, y)
}

// draw draws the strip that begins at row top.
func (p *picture) draw(top int) {
	r := image.Rect(0, top, p.f.Cols, min(top+stripRows, p.rows))
	if p.strip == nil || p.strip.Rect.Size() != r.Size() {
		p.strip = image.NewRGBA(r)
	}
	p.strip.Rect = r
	for i := range p.strip.Pix {
		p.strip.Pix[i] = 255
	}
	if p.err != nil || p.ctx.Err() != nil {
		return
	}
	p.err = p.blocks(r.Intersect(image.Rect(0, 0, p.f.Cols, p.f.Rows)))
	p.addBand()
	if p.progress != nil {
		p.progress(r.Max.Y, p.rows)
	}
}

// blocks draws the map's part of a strip, block by block on all processors.
func (p *picture) blocks(r image.Rectangle) error {
	side := blockPx
	for k := p.f.MetresPerPixel / p.s.Calibration.MetresPerPixel(); k > 1 && side > leastBlock; k /= 2 {
		side /= 2 // so that the part of the picture under a block stays small
	}
	jobs := make(chan image.Rectangle)
	errs := make([]error, runtime.GOMAXPROCS(0))
	var wait sync.WaitGroup
	for i := range errs {
		wait.Add(1)
		go func() {
			defer wait.Done()
			b := &block{p: p}
			for at := range jobs {
				if errs[i] == nil && p.ctx.Err() == nil {
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

// addBand lays the band's part over the strip.
func (p *picture) addBand() {
	r := p.strip.Rect
	for y := max(r.Min.Y, p.f.Rows); y < r.Max.Y; y++ {
		row := p.band.Pix[(y-p.f.Rows)*p.band.Stride:][:4*p.f.Cols]
		copy(p.strip.Pix[p.strip.PixOffset(0, y):], row)
	}
}
