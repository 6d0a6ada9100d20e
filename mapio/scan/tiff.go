package scan

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"sync"

	"legwright/mapio/tiff"
)

// driveAt reads at offsets from several goroutines, stops when the context
// ends and keeps the drive's own error.
type driveAt struct {
	ctx   context.Context
	at    io.ReaderAt
	mu    sync.Mutex
	fault error
}

func (d *driveAt) ReadAt(p []byte, off int64) (int, error) {
	if err := context.Cause(d.ctx); err != nil {
		return 0, err
	}
	n, err := d.at.ReadAt(p, off)
	if err != nil && err != io.EOF {
		d.mu.Lock()
		d.fault = err
		d.mu.Unlock()
	}
	return n, err
}

// decodeTIFF decodes the first page; its reduced page that is nearest to what
// was asked for is the preview.
func (w *work) decodeTIFF() (image.Image, error) {
	in := &driveAt{ctx: w.ctx, at: w.f.at}
	img, err := w.firstPage(in)
	if in.fault != nil {
		return nil, readFault(in.fault)
	}
	var d *tiff.Damage
	if errors.As(err, &d) && img != nil {
		w.s.Truncated = true
		w.s.warn("%v; do not measure on it, copy it again from where it came", d)
		return img, nil
	}
	return img, tiffError(err)
}

func (w *work) firstPage(in io.ReaderAt) (image.Image, error) {
	f, err := tiff.Open(in, w.f.size)
	if err != nil {
		return nil, err
	}
	p := f.Pages()[0]
	if l := w.opt.level(w.h, 16); l > 0 {
		w.overview(p, l)
	}
	_, rows := w.h.Stored()
	return p.Decode(w.ctx, p.Bounds(), func(n int) { w.t.tell(StageDecode, int64(n), int64(rows)) })
}

// overview gives the smallest reduced page down to level most that halves the
// picture exactly, sides rounded up.
func (w *work) overview(p *tiff.Page, most int) {
	for l := most; l > 0; l-- {
		for _, o := range p.Overviews {
			if o.Width != (p.Width+1<<l-1)>>l || o.Height != (p.Height+1<<l-1)>>l {
				continue
			}
			if m, err := o.Decode(w.ctx, o.Bounds(), nil); err == nil {
				w.give(l, m)
				return
			}
		}
	}
}

// tiffError puts an error of the TIFF reader among those of this package.
func tiffError(err error) error {
	for from, to := range map[error]error{
		tiff.ErrTruncated: ErrTruncated, tiff.ErrCorrupt: ErrCorrupt, tiff.ErrNotTIFF: ErrCorrupt,
		tiff.ErrUnsupported: ErrUnsupported, tiff.ErrNotPicture: ErrUnsupported, tiff.ErrTooLarge: ErrTooLarge,
	} {
		if errors.Is(err, from) {
			return fmt.Errorf("%w: %w", to, err)
		}
	}
	return err
}
