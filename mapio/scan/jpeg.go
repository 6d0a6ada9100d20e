package scan

import (
	"bufio"
	"context"
	"errors"
	"image"
	"image/jpeg"

	"github.com/gen2brain/jpegn"

	"legwright/mapio/jpg"
)

// maxJPEGLevel is the smallest preview a JPEG gives: one pixel a block.
const maxJPEGLevel = 3

// level is the smallest level, at most most, whose longer side is still at
// least what was asked for; 0 where no preview is wanted or would be smaller.
func (o Options) level(h Header, most int) int {
	if o.Preview == nil {
		return 0
	}
	side, l := o.Side, 0
	if side <= 0 {
		side = DefaultSide
	}
	for l < most && max(h.Width, h.Height)>>(l+1) >= side {
		l++
	}
	return l
}

// decodeJPEG returns the stored picture. A preview at level 3 is a pass of its own
// before the decoding, because it takes half as long; finer ones are a by-product
// of the decoding.
func (w *work) decodeJPEG(src func() source) (image.Image, error) {
	level := w.opt.level(w.h, maxJPEGLevel)
	if level == maxJPEGLevel && !w.h.Progressive {
		level = 0
		small := src()
		small.t = newTeller(nil) // the pass that follows tells
		img, err := jpg.Decode(w.ctx, &small, jpg.Options{SmallOnly: true})
		if err == nil {
			w.give(maxJPEGLevel, img)
			if w.flow(w.flowJPEG) {
				return nil, nil
			}
		}
	}
	in := src()
	img, err := jpg.Decode(w.ctx, &in, jpg.Options{
		Level: level,
		Small: func(m image.Image) { w.give(level, m) },
		Rows:  func(done, all int) { w.t.tell(StageDecode, int64(done), int64(all)) },
	})
	if errors.Is(err, jpg.ErrUnsupported) || errors.Is(err, jpg.ErrPanicked) {
		return w.otherJPEG(src)
	}
	return img, err
}

// flowJPEG decodes row by row.
func (w *work) flowJPEG(ctx context.Context, f *Flow, begin func(image.Image)) error {
	in := w.source(&driveAt{ctx: ctx, at: w.f.at})
	_, err := jpg.Decode(ctx, &in, jpg.Options{
		Begin:  begin,
		Room:   f.plane,
		Pixels: f.came,
		Rows:   func(done, _ int) { f.progress(ctx, w, done, 0) },
	})
	return err
}

// otherJPEG reads what package jpg does not, four inks and RGB. The decoders for
// them ignore damage silently, so the data is checked separately.
func (w *work) otherJPEG(src func() source) (image.Image, error) {
	checked := make(chan error, 1)
	go func() {
		in := src()
		in.t = newTeller(nil)
		checked <- contained(func() error { return jpg.Check(w.ctx, &in) })
	}()
	img, err := w.tolerant(src)
	if damage := <-checked; damage != nil {
		return nil, damage
	}
	return img, err
}

// tolerant decodes with a fast decoder and, if that fails, with the standard
// library's.
func (w *work) tolerant(src func() source) (image.Image, error) {
	fast := src()
	img, err := guarded(func() (image.Image, error) { return jpegn.Decode(&fast) })
	wd, ht := w.h.Stored()
	if err == nil && img.Bounds() == image.Rect(0, 0, wd, ht) {
		return img, nil
	}
	if cause := context.Cause(w.ctx); cause != nil {
		return nil, cause
	}
	slow := src()
	return guarded(func() (image.Image, error) { return jpeg.Decode(bufio.NewReaderSize(&slow, 256<<10)) })
}
