package headless

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"sync"
	"sync/atomic"
)

const (
	blockBytes = 256 << 10 // one read; about 8,000 rows
	lineBytes  = 64 << 10  // the longest row that is read
)

// errLongRow is the error of a row longer than lineBytes.
var errLongRow = fmt.Errorf("the row is longer than %d bytes", lineBytes)

// rowFunc appends the answer to one row, without the line's end, to dst. On an
// error what it appended is taken back and the error stands in its place.
type rowFunc func(dst, line []byte) ([]byte, error)

// block is a run of whole lines on its way through the batch.
type block struct {
	in, out []byte
	ready   chan struct{}
}

// runBatch answers every line of the input with one line, in order. newRow
// makes the rowFunc of one worker, which keeps its own scratch; the workers
// share the processor's cores. It returns errQuiet where rows failed. Blocks
// that arrive slowly, as from a terminal, are answered at once.
func runBatch(s streams, newRow func() rowFunc) error {
	workers := max(1, runtime.GOMAXPROCS(0))
	work := make(chan *block, workers)
	order := make(chan *block, 2*workers)
	free := make(chan *block, 4*workers)
	var failed atomic.Bool
	var wg sync.WaitGroup
	for range workers {
		row := newRow()
		wg.Go(func() {
			for b := range work {
				if answer(b, row) {
					failed.Store(true)
				}
				close(b.ready)
			}
		})
	}
	written := make(chan error, 1)
	var stop atomic.Bool // nobody takes the results any more
	go func() { written <- writeBlocks(s.out, order, free, &stop) }()
	readErr := readBlocks(s.in, free, &stop, func(b *block) { order <- b; work <- b })
	close(work)
	close(order)
	wg.Wait()
	switch writeErr := <-written; {
	case writeErr != nil:
		return fmt.Errorf("the results could not be written: %w", writeErr)
	case readErr != nil:
		return fmt.Errorf("the rows could not be read: %w", readErr)
	case failed.Load():
		return errQuiet
	}
	return nil
}

// lineReader cuts an input into blocks of whole lines.
type lineReader struct {
	in       io.Reader
	rest     []byte // the beginning of a line whose end has not come yet
	dropping bool   // the line in rest is too long already: pass over its remainder
}

// next reads once and puts the whole lines it has into dst, which may stay
// empty. At the end of the input the last line needs no line end. A line longer
// than lineBytes is cut to one byte more, by which answer knows it.
func (r *lineReader) next(dst []byte) ([]byte, error) {
	dst = append(dst[:0], r.rest...)
	start := len(dst)
	n, err := r.in.Read(dst[start:cap(dst)])
	dst = append(dst, r.undropped(dst[start:start+n])...)
	if err == io.EOF {
		return dst, err
	}
	end := bytes.LastIndexByte(dst, '\n') + 1
	r.rest = append(r.rest[:0], dst[end:]...)
	if len(r.rest) > lineBytes {
		r.rest, r.dropping = r.rest[:lineBytes+1], true
	}
	return dst[:end], err
}

// undropped leaves out of what was read the remainder of an overlong line.
func (r *lineReader) undropped(fresh []byte) []byte {
	if !r.dropping {
		return fresh
	}
	i := bytes.IndexByte(fresh, '\n')
	if i < 0 {
		return nil
	}
	r.dropping = false
	return fresh[i:]
}

// readBlocks hands out the input block by block until it ends or stop is set.
func readBlocks(in io.Reader, free chan *block, stop *atomic.Bool, hand func(*block)) error {
	r := lineReader{in: in}
	for !stop.Load() {
		b := takeBlock(free)
		var err error
		b.in, err = r.next(b.in)
		if len(b.in) > 0 {
			hand(b)
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// takeBlock returns a used block or a new one.
func takeBlock(free chan *block) *block {
	select {
	case b := <-free:
		b.ready = make(chan struct{})
		return b
	default:
		return &block{
			in:    make([]byte, 0, blockBytes+lineBytes+1),
			out:   make([]byte, 0, 4*blockBytes), // answers are longer than rows
			ready: make(chan struct{}),
		}
	}
}

// writeBlocks writes the answers in the order of their blocks. After a failure
// it goes on taking blocks, so that nobody waits for it, and sets stop.
func writeBlocks(out io.Writer, order, free chan *block, stop *atomic.Bool) error {
	var failure error
	for b := range order {
		<-b.ready
		if failure == nil {
			if _, failure = out.Write(b.out); failure != nil {
				stop.Store(true)
			}
		}
		select {
		case free <- b:
		default:
		}
	}
	return failure
}

// answer fills b.out with one line for each line of b.in and reports whether
// any failed.
func answer(b *block, row rowFunc) (failed bool) {
	out, rest := b.out[:0], b.in
	for len(rest) > 0 {
		line := rest
		if i := bytes.IndexByte(rest, '\n'); i >= 0 {
			line, rest = rest[:i], rest[i+1:]
		} else {
			rest = nil
		}
		before := len(out)
		next, err := out, errLongRow
		if len(line) <= lineBytes {
			next, err = row(out, line)
		}
		if err != nil {
			failed = true
			next = appendError(out[:before], err)
		}
		out = append(next, '\n')
	}
	b.out = out
	return failed
}

// appendError writes an error as one line without tabs.
func appendError(dst []byte, err error) []byte {
	return append(append(dst, "error: "...), oneLine(err.Error())...)
}

// notes writes warnings to the standard error, each once however many rows
// raise it. It may be used from several goroutines.
type notes struct {
	w    io.Writer
	mu   sync.Mutex
	said map[string]bool
}

func newNotes(s streams) *notes { return &notes{w: s.err, said: map[string]bool{}} }

// warn writes one line the first time it is called with a code.
func (n *notes) warn(code, text string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.said[code] {
		return
	}
	n.said[code] = true
	fmt.Fprintf(n.w, "warning: %s\n", oneLine(text))
}
