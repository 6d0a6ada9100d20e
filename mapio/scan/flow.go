package scan

import (
	"context"
	"errors"
	"image"
	"runtime/debug"
	"sync"

	"legwright/mapio/jpg"
)

// Flow is a picture that is still being decoded, from top to bottom. Rows that
// have not come must not be read, and those that were released read as
// anything. Its methods may be called from any goroutine.
type Flow struct {
	// Image is the picture as shown: *image.Gray or *image.YCbCr.
	Image image.Image

	mu    sync.Mutex
	news  *sync.Cond // of mu
	rows  int        // that have come
	freed int        // that have been released
	ended bool
	err   error // why the rest will not come
}

// DefaultFlowFrom is the number of pixels from which a picture flows: the
// whole of a smaller one is no burden.
const DefaultFlowFrom = 64_000_000

// flowAhead is how many rows may have come and not been released, before
// decoding waits.
const flowAhead = 2048

var errUnsound = errors.New("the picture is not sound, or its file has changed")

func newFlow() *Flow {
	f := &Flow{}
	f.news = sync.NewCond(&f.mu)
	return f
}

// Await returns when the uppermost rows are there, all of them only when
// nothing was found wrong with the picture. It gives an error when they will
// not come, and the cause of an ended context.
func (f *Flow) Await(ctx context.Context, rows int) error {
	stop := context.AfterFunc(ctx, f.wake)
	defer stop()
	f.mu.Lock()
	defer f.mu.Unlock()
	all := f.Image.Bounds().Dy()
	for context.Cause(ctx) == nil && !f.ended && (f.rows < rows || rows == all) {
		f.news.Wait()
	}
	if err := context.Cause(ctx); err != nil {
		return err
	}
	return f.err
}

// Release says that the uppermost rows are not needed any more: their memory
// goes back to the system.
func (f *Flow) Release(rows int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	rows = min(rows, f.rows)
	if rows <= f.freed {
		return
	}
	switch m := f.Image.(type) {
	case *image.Gray:
		giveBack(m.Pix[f.freed*m.Stride : rows*m.Stride])
	case *image.YCbCr:
		giveBack(m.Y[f.freed*m.YStride : rows*m.YStride])
		c := image.Pt(m.COffset(0, f.freed), m.COffset(0, rows)) // a row of colour that is shared goes with the lower one
		giveBack(m.Cb[c.X:c.Y])
		giveBack(m.Cr[c.X:c.Y])
	}
	f.freed = rows
	f.news.Broadcast()
}

func (f *Flow) wake() {
	f.mu.Lock()
	f.news.Broadcast()
	f.mu.Unlock()
}

// came says how many rows have come.
func (f *Flow) came(rows int) {
	f.mu.Lock()
	f.rows = rows
	f.news.Broadcast()
	f.mu.Unlock()
}

// end says that no more will come, and why, nil if all have.
func (f *Flow) end(err error) {
	f.mu.Lock()
	f.ended, f.err = true, err
	f.news.Broadcast()
	f.mu.Unlock()
}

// room waits until so many decoded rows are not too many, or the context ends.
func (f *Flow) room(ctx context.Context, decoded int) {
	stop := context.AfterFunc(ctx, f.wake)
	defer stop()
	f.mu.Lock()
	defer f.mu.Unlock()
	for context.Cause(ctx) == nil && decoded-f.freed > flowAhead {
		f.news.Wait()
	}
}

// flow decodes a JPEG into the hands of somebody who takes it meanwhile, so
// that it never is in memory as a whole. It gives nil where that did not come
// about, and then all is as if nothing had been tried: whatever is wrong with
// the picture is found by decoding it as a whole.
func (w *work) flow(src func() source) image.Image {
	from := w.opt.FlowFrom
	if from <= 0 {
		from = DefaultFlowFrom
	}
	if w.opt.Flow == nil || w.h.Orientation > 1 || w.h.Width*w.h.Height < from {
		return nil
	}
	w.giving.Wait() // the preview and the hash come first
	<-w.hashed
	if !w.sound() {
		return nil
	}
	img, err := w.flowing(src)
	if err != nil {
		debug.FreeOSMemory()
		return nil
	}
	return img
}

// flowing decodes, and hands on what there is to see.
func (w *work) flowing(src func() source) (image.Image, error) {
	ctx, cancel := context.WithCancelCause(w.ctx)
	defer cancel(nil)
	f, taken, in := newFlow(), make(chan error, 1), src()
	in.ctx, in.fault = ctx, nil
	begun := false
	img, rep, err := jpg.Decode(ctx, &in, jpg.Options{
		Begin: func(m image.Image) {
			f.Image, begun = m, true
			go func() {
				err := w.take(f)
				cancel(err) // nobody takes the rest, if there is one
				taken <- err
			}()
		},
		Pixels: f.came,
		Rows: func(done, all int) {
			w.t.tell(StageDecode, int64(done), int64(all))
			f.room(ctx, done)
		},
	})
	if changed, gone := w.f.compare(); err == nil && (!rep.Sound() || changed || gone) {
		err = errUnsound
	}
	f.end(err)
	if begun {
		err = errors.Join(err, <-taken)
	}
	return img, err
}

// take hands the picture to who asked for it.
func (w *work) take(f *Flow) (err error) {
	defer contain(&err)
	return w.opt.Flow(f)
}
