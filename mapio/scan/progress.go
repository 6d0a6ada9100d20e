package scan

import (
	"bufio"
	"context"
	"io"
	"sync"
)

// readStep is the most bytes read at once, so that an ended context is seen
// within milliseconds even on a slow drive.
const readStep = 1 << 20

// contextReader fails with the context's cause once it has ended.
type contextReader struct {
	ctx context.Context
	r   io.Reader
}

func (c contextReader) Read(p []byte) (int, error) {
	if err := context.Cause(c.ctx); err != nil {
		return 0, err
	}
	return c.r.Read(p[:min(len(p), readStep)])
}

// teller hands progress on, at most about two hundred times, and not after
// its end.
type teller struct {
	mu    sync.Mutex
	p     Progress
	stage string
	last  int64
	ended bool
}

func newTeller(p Progress) *teller { return &teller{p: p, last: -1} }

func (t *teller) tell(stage string, done, total int64) {
	if t.p == nil {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	done = min(done, total)
	due := stage != t.stage || done == total || done-t.last >= total/200+1
	if t.ended || !due || stage == t.stage && done <= t.last {
		return
	}
	t.stage, t.last = stage, done
	t.p(stage, done, total)
}

func (t *teller) end() {
	t.mu.Lock()
	t.ended = true
	t.mu.Unlock()
}

// source is the reader of a decoder: it counts the bytes and reports progress. Its
// Len lets a decoder allocate once.
type source struct {
	t    *teller
	r    *io.SectionReader
	read int64
	rows int64
}

// source reads the file from its beginning.
func (w *work) source(drive *driveAt) source {
	_, rows := w.h.Stored()
	return source{t: w.t, r: io.NewSectionReader(drive, 0, w.f.size), rows: int64(rows)}
}

func (s *source) Len() int {
	at, _ := s.r.Seek(0, io.SeekCurrent)
	return int(s.r.Size() - at)
}

func (s *source) Read(p []byte) (int, error) {
	n, err := s.r.Read(p[:min(len(p), readStep)])
	s.count(n)
	return n, err
}

// buffered reads ahead, but counts what the decoder takes: a large picture may be in a
// file so small that it is read at once, and takes seconds all the same.
func (s *source) buffered() io.Reader {
	return &taken{bufio.NewReaderSize(s.r, 256<<10), s}
}

// taken counts what is taken from a buffer.
type taken struct {
	from *bufio.Reader
	s    *source
}

func (t *taken) Read(p []byte) (int, error) {
	n, err := t.from.Read(p)
	t.s.count(n)
	return n, err
}

func (s *source) count(n int) {
	if s.read >= s.r.Size() { // a second look at what has been read
		return
	}
	s.read += int64(n)
	if s.read < s.r.Size() {
		s.t.tell(StageRead, s.read, s.r.Size())
		return
	}
	s.t.tell(StageRead, s.r.Size(), s.r.Size())
	s.t.tell(StageDecode, 0, s.rows)
}
