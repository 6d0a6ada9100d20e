package tiff

import (
	"context"
	"image"
	"runtime"
	"sync"
)

// sink takes what the chunks hold. Different chunks come from different
// goroutines, but never two for the same pixel.
type sink interface {
	// row takes a stored row of a chunk.
	row(s *scratch, c chunk, y int, row []byte)
	// jpeg takes a decoded JPEG chunk.
	jpeg(c chunk, m image.Image)
	// absent says whether a chunk that is not in the file is to be given as
	// rows of zeros.
	absent() bool
}

// scratch is the memory one goroutine uses for unpacking samples.
type scratch struct{ samples []uint8 }

// job is a part of a chunk: all rows of it, or some of an uncompressed one.
type job struct {
	chunk
	from, to int // rows of the page
}

// runner shares the jobs of a window among goroutines.
type runner struct {
	p        *Page
	r        image.Rectangle
	sink     sink
	progress func(rows int)
	jobs     chan job

	mu     sync.Mutex
	pixels int64 // done, of all planes
	told   int
}

const goroutines = 2

// run decodes the chunks of a window into a sink, and stops at the first error,
// which it returns, or at the cause of an ended context. After it returns, nothing
// writes to the sink.
func (p *Page) run(ctx context.Context, r image.Rectangle, s sink, progress func(rows int)) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	u := &runner{p: p, r: r, sink: s, progress: progress, jobs: make(chan job)}
	u.share(ctx, stop)
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}

// share distributes the jobs over goroutines and waits for them.
func (u *runner) share(ctx context.Context, stop context.CancelCauseFunc) {
	var wg sync.WaitGroup
	defer wg.Wait()
	defer close(u.jobs)
	for range min(goroutines, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			w := newWorker(u)
			for j := range u.jobs {
				if err := w.do(ctx, j); err != nil {
					stop(err)
				}
			}
		})
	}
	for j := range u.split() {
		if ctx.Err() != nil {
			return
		}
		u.jobs <- j
	}
}

// bandBytes is how much of an uncompressed chunk makes one job.
const bandBytes = 2 << 20

// split yields the jobs. Rows of an uncompressed chunk can be read from
// anywhere, so large ones are shared too.
func (u *runner) split() func(yield func(job) bool) {
	return func(yield func(job) bool) {
		for c := range u.p.chunks(u.r) {
			j := job{c, c.Min.Y, min(c.Max.Y, u.r.Max.Y)}
			if u.p.compression != compNone {
				if !yield(j) {
					return
				}
				continue
			}
			band := int(max(1, bandBytes/u.p.rowBytes()))
			for y := max(c.Min.Y, u.r.Min.Y); y < j.to; y += band {
				if !yield(job{c, y, min(y+band, j.to)}) {
					return
				}
			}
		}
	}
}

// tellRows is how many rows of a chunk are counted at a time.
const tellRows = 256

// done counts pixels and tells.
func (u *runner) done(part image.Rectangle) {
	part = part.Intersect(u.r)
	u.mu.Lock()
	defer u.mu.Unlock()
	u.pixels += int64(part.Dx()) * int64(part.Dy())
	rows := int(u.pixels / (int64(u.r.Dx()) * int64(u.p.planes)))
	if u.progress != nil && rows > u.told {
		u.told = rows
		u.progress(rows)
	}
}
