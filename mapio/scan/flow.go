package scan

import (
	"context"
	"errors"
	"image"
	"runtime/debug"
	"sync"

	"legwright/mapio/planes"
	"legwright/mapio/tiff"
)

// Flow is a picture that is still being decoded, from top to bottom. Rows that
// have not come must not be read, and those that were released read as
// anything. Its methods may be called from any goroutine, and at any time.
type Flow struct {
	// Image is the picture as shown: *image.Gray, *image.YCbCr, *image.RGBA or
	// *image.NRGBA. Once Options.Flow has returned, its memory is freed: touching
	// the pixels then crashes the program.
	Image image.Image

	mu    sync.Mutex
	news  *sync.Cond      // of mu
	from  []*planes.Plane // of Image, in its order
	rows  int             // that have come
	freed int             // that have been released
	given bool            // all of them have been, to who awaited them
	ended bool
	err   error // why the rest will not come
}

// DefaultFlowFrom is the number of pixels from which a picture flows: the
// whole of a smaller one is no burden.
const DefaultFlowFrom = 64_000_000

// flowAhead is how many rows may be decoded and not released, before decoding
// waits. Who takes them wants less than half of that at a time, and a TIFF
// decodes less than half of it at a time.
const flowAhead = 2*tiff.MaxBand + 64

var (
	errUnsound = errors.New("the picture is damaged, or its file has changed")
	errLeft    = errors.New("the picture could not be read completely")
)

func newFlow() *Flow {
	f := &Flow{}
	f.news = sync.NewCond(&f.mu)
	return f
}

// Await returns when the uppermost rows are there, all of them only when the picture is
// sound to its end. It gives an error when they will not come, and the cause of an ended
// context.
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
	f.given = f.given || rows == all && f.err == nil
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
	for i, p := range f.from {
		p.Release(f.offset(i, f.freed), f.offset(i, rows))
	}
	f.freed = rows
	f.news.Broadcast()
}

// offset is where a row begins in one of the planes. A chroma row shared by two
// rows belongs to the lower one.
func (f *Flow) offset(of, row int) int {
	switch m := f.Image.(type) {
	case *image.Gray:
		return row * m.Stride
	case *image.RGBA:
		return row * m.Stride
	case *image.NRGBA:
		return row * m.Stride
	case *image.YCbCr:
		if of == 0 {
			return row * m.YStride
		}
		return m.COffset(0, row)
	}
	return 0
}

// plane allocates a plane of the picture until the flow is closed. Call it before
// the picture is handed out.
func (f *Flow) plane(bytes int) []uint8 {
	p := planes.New(bytes)
	f.mu.Lock()
	f.from = append(f.from, p)
	f.mu.Unlock()
	return p.Bytes()
}

// close frees the memory of the picture, which nobody uses any more.
func (f *Flow) close() {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, p := range f.from {
		p.Close()
	}
	f.from = nil
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

// progress tells how many rows are decoded, and waits until as many more as come
// at a time would not be too many, or the context ends.
func (f *Flow) progress(ctx context.Context, w *work, decoded, step int) {
	w.t.tell(StageDecode, int64(decoded), int64(f.Image.Bounds().Dy()))
	f.room(ctx, decoded+step)
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

// flower decodes a picture into a flow, of whose rows it tells, and hands it to
// begin before the first. It gives an error where the picture is not sound.
type flower func(ctx context.Context, f *Flow, begin func(image.Image)) error

// flow decodes into the hands of somebody who takes the picture meanwhile, so
// that it never is in memory as a whole. It reports false where that did not
// come about, and then all is as if nothing had been tried: whatever is wrong
// with the picture is found, and said, by decoding it as a whole.
func (w *work) flow(decode flower) bool {
	from := w.opt.FlowFrom
	if from <= 0 {
		from = DefaultFlowFrom
	}
	if w.opt.Flow == nil || w.h.Orientation > 1 || w.h.Width*w.h.Height < from {
		return false
	}
	w.giving.Wait() // the preview and the hash come first
	<-w.hashed
	if !w.sound() {
		return false
	}
	if w.flowing(decode) != nil {
		debug.FreeOSMemory()
		return false
	}
	w.s.Flowed = true
	return true
}

// flowing decodes and hands on the rows. When it returns, neither the decoder nor
// the receiver uses the picture's memory any more.
func (w *work) flowing(decode flower) error {
	ctx, cancel := context.WithCancelCause(w.ctx)
	defer cancel(nil)
	f, taken, begun := newFlow(), make(chan error, 1), false
	defer f.close()
	err := contained(func() error {
		return decode(ctx, f, func(m image.Image) {
			f.Image = m
			if wd, ht := w.h.Stored(); m.Bounds() != image.Rect(0, 0, wd, ht) {
				cancel(errUnsound)
				return
			}
			begun = true
			go func() {
				err := w.take(f)
				cancel(err) // nobody takes the rest, if there is one
				taken <- err
			}()
		})
	})
	if changed, gone := w.f.compare(); err == nil && (changed || gone) {
		err = errUnsound
	}
	f.end(err)
	if !begun {
		return errors.Join(err, errUnsound)
	}
	if err = errors.Join(err, <-taken); err == nil && !f.given {
		err = errLeft
	}
	return err
}

func contained(do func() error) (err error) {
	defer contain(&err)
	return do()
}

// take hands the picture to who asked for it.
func (w *work) take(f *Flow) (err error) {
	defer contain(&err)
	return w.opt.Flow(f)
}
