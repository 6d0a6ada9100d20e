package tiff

import (
	"cmp"
	"compress/flate"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"runtime"
	"slices"
	"sync"
)

// sink takes what the chunks hold. Different chunks come from different
// goroutines, but never two for the same pixel.
type sink interface {
	// row takes a stored row of a chunk, or a row of units.
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
	damage []image.Rectangle
	cause  error
	shown  bool // something was given to the sink
	failed bool // the reader itself failed: no use to go on
}

const goroutines = 2

// run decodes the chunks of a window into a sink. The error is that of an
// ended context, or that nothing at all could be read.
func (p *Page) run(ctx context.Context, r image.Rectangle, s sink, progress func(rows int)) (*Damage, error) {
	u := &runner{p: p, r: r, sink: s, progress: progress, jobs: make(chan job)}
	var wg sync.WaitGroup
	for range min(goroutines, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			w := newWorker(u)
			for j := range u.jobs {
				w.do(ctx, j)
			}
		})
	}
	for j := range u.split() {
		if ctx.Err() != nil {
			break
		}
		u.jobs <- j
	}
	close(u.jobs)
	wg.Wait()
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	return u.verdict()
}

// bandBytes is how much of an uncompressed chunk makes one job.
const bandBytes = 2 << 20

// split yields the jobs. Rows of an uncompressed chunk can be read from
// anywhere, so large ones are shared too.
func (u *runner) split() func(yield func(job) bool) {
	return func(yield func(job) bool) {
		for c := range u.p.chunks(u.r) {
			j := job{c, c.Min.Y, min(c.Max.Y, u.r.Max.Y)}
			if u.p.compression != compNone || u.p.unitRows() > 0 {
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

// spoilt notes that a part of a chunk cannot be shown, if it is wanted.
func (u *runner) spoilt(part image.Rectangle, err error) {
	if part = part.Intersect(u.r); part.Empty() {
		return
	}
	u.mu.Lock()
	defer u.mu.Unlock()
	if u.cause == nil {
		u.cause = err
	}
	u.damage = append(u.damage, part)
}

// tellRows is how many rows of a chunk are counted at a time.
const tellRows = 256

// done counts pixels and tells.
func (u *runner) done(part image.Rectangle, shown bool) {
	part = part.Intersect(u.r)
	u.mu.Lock()
	defer u.mu.Unlock()
	u.shown = u.shown || shown
	u.pixels += int64(part.Dx()) * int64(part.Dy())
	rows := int(u.pixels / (int64(u.r.Dx()) * int64(u.p.planes)))
	if u.progress != nil && rows > u.told {
		u.told = rows
		u.progress(rows)
	}
}

// verdict gives the damage, or an error where nothing is left to show.
func (u *runner) verdict() (*Damage, error) {
	if u.cause == nil {
		return nil, nil
	}
	rects := joined(u.damage)
	var bad int64
	for _, r := range rects {
		bad += int64(r.Dx()) * int64(r.Dy())
	}
	if !u.shown {
		return nil, u.cause
	}
	all := int64(u.r.Dx()) * int64(u.r.Dy())
	return &Damage{Rects: rects, Good: float64(all-bad) / float64(all), Err: u.cause}, nil
}

// joined gives the union of rectangles as ones that do not overlap. Those
// that overlap have the same columns: chunks stand in columns, and the planes
// of a place lie over each other.
func joined(rects []image.Rectangle) []image.Rectangle {
	slices.SortFunc(rects, func(a, b image.Rectangle) int {
		return cmp.Or(cmp.Compare(a.Min.X, b.Min.X), cmp.Compare(a.Min.Y, b.Min.Y))
	})
	var out []image.Rectangle
	for _, r := range rects {
		if n := len(out); n > 0 && out[n-1].Min.X == r.Min.X && out[n-1].Max.Y >= r.Min.Y {
			out[n-1].Max.Y = max(out[n-1].Max.Y, r.Max.Y)
			continue
		}
		out = append(out, r)
	}
	return out
}

// worker is one goroutine's memory.
type worker struct {
	u       *runner
	stream  *stream
	undo    predictor
	buf     []byte
	scratch scratch
	shown   bool // the present job gave something to the sink
	told    int  // the row of the present job up to which the pixels are counted
}

// tell counts the pixels of a job up to a row.
func (w *worker) tell(j job, y int) {
	w.u.done(image.Rect(j.Min.X, w.told, j.Max.X, y), w.shown)
	w.told = y
}

func newWorker(u *runner) *worker {
	return &worker{u: u, stream: newStream(u.p), undo: newPredictor(u.p)}
}

// do decodes a job and notes what is wrong with it. A decoder that breaks
// down costs its chunk.
func (w *worker) do(ctx context.Context, j job) {
	u := w.u
	part := image.Rect(j.Min.X, j.from, j.Max.X, j.to)
	w.told, w.shown = j.from, false
	defer func() { w.tell(j, j.to) }()
	defer func() {
		if v := recover(); v != nil {
			u.spoilt(part, corrupt("%s %d breaks the decoder (%v)", u.p.chunkName(), j.n, v))
		}
	}()
	if ctx.Err() != nil {
		return
	}
	if u.stopped() {
		u.spoilt(part, nil)
		return
	}
	at, n, ok := u.p.place(j.chunk)
	switch {
	case !ok && j.n >= len(u.p.index.offsets):
		u.spoilt(part, corrupt("it does not say where %s %d is", u.p.chunkName(), j.n))
	case !ok:
		w.zeros(ctx, j)
	case u.p.compression == compJPEG:
		w.jpeg(j, at, n)
	default:
		w.rows(ctx, j, at, n)
	}
}

// stopped says that the reader has failed.
func (u *runner) stopped() bool {
	u.mu.Lock()
	defer u.mu.Unlock()
	return u.failed
}

// row gives the worker's buffer for a row.
func (w *worker) row() []byte {
	if w.buf == nil {
		w.buf = make([]byte, w.u.p.rowBytes())
	}
	return w.buf
}

// zeros stands in for a chunk that the file leaves out.
func (w *worker) zeros(ctx context.Context, j job) {
	if !w.u.sink.absent() {
		return
	}
	row := w.row()
	clear(row)
	for y := max(j.from, w.u.r.Min.Y); y < j.to && ctx.Err() == nil; y++ {
		w.u.sink.row(&w.scratch, j.chunk, y, row)
	}
}

// rows decodes a chunk row by row.
func (w *worker) rows(ctx context.Context, j job, at, n int64) {
	p, row := w.u.p, w.row()
	skip := int64(j.from-j.Min.Y) * p.rowBytes() // of an uncompressed one
	cut := at+n >= p.d.in.size
	src, err := w.stream.open(at+min(skip, n), n-min(skip, n))
	if err != nil {
		w.fail(j, j.from, err, cut)
		return
	}
	step := max(1, p.unitRows())
	for y := j.from; y < j.to; y += step {
		if ctx.Err() != nil {
			return
		}
		err := src.next(row)
		if err == errRow {
			w.u.spoilt(image.Rect(j.Min.X, y, j.Max.X, y+1), corrupt("%s %d holds rows that make no sense", p.chunkName(), j.n))
			err = nil
		}
		if err != nil {
			w.fail(j, y, err, cut)
			return
		}
		w.undo.undo(row)
		if y+step > w.u.r.Min.Y {
			w.u.sink.row(&w.scratch, j.chunk, y, row)
			w.shown = true
		}
		if y-w.told >= tellRows {
			w.tell(j, y)
		}
	}
	if j.to == j.Max.Y {
		if err := w.stream.checked(); err != nil {
			w.fail(j, j.from, err, cut)
		}
	}
}

// fail notes that a job is spoilt from a row on.
func (w *worker) fail(j job, y int, err error, cut bool) {
	err = w.u.p.explain(j.chunk, err, cut)
	if !errors.Is(err, ErrCorrupt) && !errors.Is(err, ErrTruncated) && !errors.Is(err, ErrUnsupported) {
		w.u.mu.Lock()
		w.u.failed = true
		w.u.mu.Unlock()
	}
	w.u.spoilt(image.Rect(j.Min.X, y, j.Max.X, j.to), err)
}

func (p *Page) chunkName() string {
	if p.Tiled {
		return "tile"
	}
	return "strip"
}

// explain puts the error of a chunk into words. cut says that the file ends
// within it or right after. Errors of the reader are passed on.
func (p *Page) explain(c chunk, err error, cut bool) error {
	end := errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
	switch {
	case errors.Is(err, ErrCorrupt), errors.Is(err, ErrTruncated), errors.Is(err, ErrUnsupported):
		return err
	case end && cut:
		return truncated("it ends within %s %d", p.chunkName(), c.n)
	case end:
		return corrupt("%s %d ends too soon", p.chunkName(), c.n)
	case isDecoding(err):
		return corrupt("%s %d cannot be unpacked (%v)", p.chunkName(), c.n, err)
	}
	return fmt.Errorf("%s %d: %w", p.chunkName(), c.n, err)
}

// isDecoding tells errors of the decoders from those of the reader.
func isDecoding(err error) bool {
	var c flate.CorruptInputError
	return errors.As(err, &c) || errors.Is(err, zlib.ErrHeader) || errors.Is(err, zlib.ErrChecksum) || errors.Is(err, zlib.ErrDictionary)
}
