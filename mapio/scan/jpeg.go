package scan

import (
	"bufio"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"io"

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

// decodeJPEG gives the stored picture and what is wrong with it. Its preview
// at level 3 is a pass of its own ahead of the other, since it takes half as
// long; finer ones fall out of the decoding itself.
func (w *work) decodeJPEG(src func() source) (image.Image, error) {
	level := w.opt.level(w.h, maxJPEGLevel)
	if level == maxJPEGLevel && !w.h.Progressive {
		level = 0
		small := src()
		small.t = newTeller(nil) // the pass that follows tells
		img, _, err := jpg.Decode(w.ctx, &small, jpg.Options{SmallOnly: true})
		if err == nil {
			w.give(maxJPEGLevel, img)
			if w.flow(w.flowJPEG(src)) {
				return nil, nil
			}
		}
	}
	in := src()
	img, rep, err := jpg.Decode(w.ctx, &in, jpg.Options{
		Level: level,
		Small: func(m image.Image) { w.give(level, m) },
		Rows:  func(done, all int) { w.t.tell(StageDecode, int64(done), int64(all)) },
	})
	if err == nil {
		w.s.verified = true
		mendJPEG(img, rep, w.s)
		return img, nil
	}
	if errors.Is(err, jpg.ErrUnsupported) || errors.Is(err, jpg.ErrPanicked) || errors.Is(err, jpg.ErrDamaged) {
		return w.otherJPEG(src, err)
	}
	return nil, err
}

// flowJPEG decodes row by row.
func (w *work) flowJPEG(src func() source) flower {
	return func(ctx context.Context, f *Flow, begin func(image.Image)) error {
		in := src()
		in.ctx, in.fault = ctx, nil
		_, rep, err := jpg.Decode(ctx, &in, jpg.Options{
			Begin:  begin,
			Room:   unfilled,
			Pixels: f.came,
			Rows:   func(done, _ int) { f.progress(ctx, w, done, 0) },
		})
		if err == nil && !rep.Sound() {
			err = errUnsound
		}
		return err
	}
}

// otherJPEG reads what our decoder does not, four inks and RGB, with a
// tolerant decoder and then the standard library's. Small and cut-off files
// are checked for damage at once, others by Verify.
func (w *work) otherJPEG(src func() source, why error) (image.Image, error) {
	fast := src()
	img, err := guarded(func() (image.Image, error) { return jpegn.Decode(&fast) })
	if wd, ht := w.h.Stored(); err != nil || img.Bounds() != image.Rect(0, 0, wd, ht) {
		if cause := context.Cause(w.ctx); cause != nil {
			return nil, cause
		}
		slow := src()
		img, err = guarded(func() (image.Image, error) { return jpeg.Decode(bufio.NewReaderSize(&slow, 256<<10)) })
	}
	if err != nil && !isUnsupported(err) && errors.Is(why, jpg.ErrDamaged) {
		return nil, why
	}
	if err != nil || !checkAtOnce(w.f) {
		return img, err
	}
	rep, err := jpg.Check(w.ctx, contextReader{w.ctx, w.f.section()})
	if err != nil {
		return nil, err
	}
	mendJPEG(img, rep, w.s)
	w.s.verified = true
	return img, nil
}

// jpegError says that a JPEG that cannot be shown at all was cut off, if it
// was.
func (w *work) jpegError(err error) error {
	if !endMarkNear(w.f.section()) {
		return io.ErrUnexpectedEOF
	}
	return err
}
