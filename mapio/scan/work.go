package scan

import (
	"context"
	"fmt"
	"image"
	"sync"
)

// work is one opening under way.
type work struct {
	ctx  context.Context
	opt  Options
	f    *file
	t    *teller
	s    *Scan
	h    Header
	gate *gate

	hashed  chan struct{} // closed when the hash is there, or hashErr
	hashErr error
	giving  sync.WaitGroup
}

// gate lets nothing out once it is shut: a preview is never handed out after
// Open has returned.
type gate struct {
	mu   sync.Mutex
	shut bool
}

func (g *gate) close() {
	g.mu.Lock()
	g.shut = true
	g.mu.Unlock()
}

func (g *gate) pass(do func()) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if !g.shut {
		do()
	}
}

// give hands a preview out beside the decoding, and the hash as soon as it is
// there. One that fails is silent: the whole picture decides.
func (w *work) give(level int, img image.Image) {
	if w.opt.Preview == nil || level == 0 {
		return
	}
	w.giving.Go(func() {
		var err error
		defer contain(&err)
		v := Preview{Header: w.h, Level: level, Image: orient(plain(img), w.h.Orientation)}
		if w.opt.Hash == nil {
			<-w.hashed
		}
		select {
		case <-w.hashed:
			v.SHA256, v.Hashed = w.s.SHA256, true
			if !w.sound() {
				return
			}
		default:
		}
		w.gate.pass(func() { w.opt.Preview(v) })
		if v.Hashed {
			return
		}
		if <-w.hashed; w.sound() {
			w.gate.pass(func() { w.opt.Hash(w.s.SHA256) })
		}
	})
}

// sound says, once hashed is closed, that there is a hash and the opening has
// not been cancelled.
func (w *work) sound() bool { return w.hashErr == nil && context.Cause(w.ctx) == nil }

// readFault puts an error of the drive into words; others are passed on.
func readFault(err error) error {
	return fmt.Errorf("%w: %w; check that its drive is still connected and open it again", ErrReading, err)
}

// compare compares the file with what it was when it was opened.
func (f *file) compare() (changed, gone bool) {
	if f.now == nil {
		return false, false
	}
	info, err := f.now()
	switch {
	case err != nil:
		return false, true
	default:
		return info.Size() != f.size || !info.ModTime().Equal(f.modTime), false
	}
}

// fileChanged returns an error if the file changed since it was opened: what was
// read may be part old and part new. A deleted file was read as a whole.
func (w *work) fileChanged(err error) error {
	changed, gone := w.f.compare()
	switch {
	case err != nil && changed:
		return fmt.Errorf("%w; open it again (%w)", ErrChanged, err)
	case changed:
		return fmt.Errorf("%w and may be half old, half new; open it again", ErrChanged)
	case err != nil && gone:
		return fmt.Errorf("%w: the file no longer exists (%w)", ErrChanged, err)
	case gone:
		w.s.note("the file was moved or deleted while it was being read; the picture is complete, but cannot be read again")
	}
	return err
}
