package tiff

import (
	"context"
	"image"
)

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
		if err := w.next(src, j, y, row); err != nil {
			w.fail(j, y, err, cut)
			return
		}
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

// next unpacks a row. One that is damaged by itself is noted, and no error.
func (w *worker) next(src rows, j job, y int, row []byte) error {
	err := src.next(row)
	if err == errRow {
		w.u.spoilt(image.Rect(j.Min.X, y, j.Max.X, y+1),
			corrupt("%s %d holds rows that make no sense", w.u.p.chunkName(), j.n))
		return nil
	}
	if err == nil {
		w.undo.undo(row)
	}
	return err
}
