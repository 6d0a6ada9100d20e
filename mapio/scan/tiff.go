package scan

import (
	"context"
	"image"
	"image/draw"
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

// decodeTIFF decodes the page; its reduced page that is nearest to what
// was asked for is the preview. A fault of the drive on the way to a whole
// picture, as while it flowed, is forgotten.
func (w *work) decodeTIFF() (image.Image, error) {
	in := &driveAt{ctx: w.ctx, at: w.f.at}
	img, err := w.pageOf(in)
	if err != nil && in.fault != nil {
		return nil, readFault(in.fault)
	}
	return img, tiffError(err)
}

func (w *work) pageOf(in *driveAt) (image.Image, error) {
	number := w.h.Page
	if w.f.over != nil {
		number = 0 // it counts overlays
	}
	p, _, err := pageOfTIFF(in, w.f.size, number)
	if err == nil {
		err = in.fault // the page may lack what could not be read
	}
	if err != nil {
		return nil, err
	}
	if l := w.opt.level(w.h, 16); l > 0 && w.overview(p, l) && p.ComesDown() && w.flow(w.flowTIFF(p)) {
		return nil, nil
	}
	_, rows := w.h.Stored()
	return p.Decode(w.ctx, p.Bounds(), func(n int) { w.t.tell(StageDecode, int64(n), int64(rows)) })
}

// flowTIFF decodes band by band.
func (w *work) flowTIFF(p *tiff.Page) flower {
	return func(ctx context.Context, f *Flow, begin func(image.Image)) error {
		return p.DecodeDown(ctx, f.plane, begin, func(done int) {
			f.came(done)
			f.progress(ctx, w, done, tiff.MaxBand)
		})
	}
}

// overview gives the smallest reduced page down to level most, and reports
// whether there was one. Its sides are those of the level rounded up or, as
// many programs write them, down.
func (w *work) overview(p *tiff.Page, most int) bool {
	for l := most; l > 0; l-- {
		up := image.Pt((p.Width+1<<l-1)>>l, (p.Height+1<<l-1)>>l)
		for _, o := range p.Overviews {
			if o.Width != up.X && o.Width != p.Width>>l || o.Height != up.Y && o.Height != p.Height>>l {
				continue
			}
			if m, err := o.Decode(w.ctx, o.Bounds(), nil); err == nil {
				w.give(l, grown(m, up))
				return true
			}
		}
	}
	return false
}

// grown repeats the last column and row of a picture that lacks one.
func grown(m image.Image, size image.Point) image.Image {
	have := m.Bounds().Size()
	if have == size {
		return m
	}
	out := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(out, out.Rect, m, m.Bounds().Min, draw.Src)
	if have.X < size.X {
		for y := range have.Y {
			at := out.PixOffset(have.X, y)
			copy(out.Pix[at:at+4], out.Pix[at-4:at])
		}
	}
	if have.Y < size.Y {
		at := out.PixOffset(0, have.Y)
		copy(out.Pix[at:], out.Pix[at-out.Stride:at])
	}
	return out
}

// tiffError puts an error of the TIFF reader among those of this package.
func tiffError(err error) error {
	return among(
		err,
		[2]error{tiff.ErrTruncated, ErrTruncated}, [2]error{tiff.ErrCorrupt, ErrCorrupt}, [2]error{tiff.ErrNotTIFF, ErrCorrupt},
		[2]error{tiff.ErrUnsupported, ErrUnsupported}, [2]error{tiff.ErrNotPicture, ErrUnsupported}, [2]error{tiff.ErrTooLarge, ErrTooLarge},
	)
}
