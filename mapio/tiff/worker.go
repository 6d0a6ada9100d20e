package tiff

import (
	"context"
	"image"
	"io"
)

// worker is one goroutine's memory.
type worker struct {
	u       *runner
	stream  *stream
	undo    predictor
	buf     []byte
	scratch scratch
	told    int // the row of the present job up to which the pixels are counted
}

// tell counts the pixels of a job up to a row.
func (w *worker) tell(j job, y int) {
	w.u.done(image.Rect(j.Min.X, w.told, j.Max.X, y))
	w.told = y
}

func newWorker(u *runner) *worker {
	return &worker{u: u, stream: newStream(u.p), undo: newPredictor(u.p)}
}

// do decodes a job unless the context has ended. A panic of a decoder counts as
// damage of its chunk.
func (w *worker) do(ctx context.Context, j job) (err error) {
	p := w.u.p
	defer func() {
		if v := recover(); v != nil {
			err = corrupt("the decoder failed on %s %d (%v)", p.chunkName(), j.n, v)
		}
	}()
	if ctx.Err() != nil {
		return nil
	}
	w.told = j.from
	at, n, ok := p.place(j.chunk)
	switch {
	case !ok && j.n >= len(p.index.offsets):
		err = corrupt("it does not say where %s %d is", p.chunkName(), j.n)
	case !ok:
		w.zeros(ctx, j)
	case p.compression == compJPEG:
		err = w.jpeg(ctx, j, at, n)
	default:
		err = w.rows(ctx, j, at, n)
	}
	if err != nil {
		return p.wrong(j.chunk, err, at+n >= p.d.in.size)
	}
	if ctx.Err() == nil {
		w.tell(j, j.to)
	}
	return nil
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
func (w *worker) rows(ctx context.Context, j job, at, n int64) error {
	p, row := w.u.p, w.row()
	skip := int64(j.from-j.Min.Y) * p.rowBytes() // of an uncompressed one
	src, err := w.stream.open(j.chunk, at+min(skip, n), n-min(skip, n))
	if err != nil {
		return err
	}
	for y := j.from; y < j.to; y++ {
		if ctx.Err() != nil {
			return nil
		}
		if _, err := io.ReadFull(src, row); err != nil {
			return err
		}
		w.undo.undo(row)
		if y >= w.u.r.Min.Y {
			w.u.sink.row(&w.scratch, j.chunk, y, row)
		}
		if y-w.told >= tellRows {
			w.tell(j, y)
		}
	}
	if j.to == j.Max.Y {
		return w.stream.checked(j.chunk)
	}
	return nil
}
