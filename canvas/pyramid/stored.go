package pyramid

import (
	"errors"
	"fmt"
	"io/fs"
)

const (
	// smallSide is the longer side, in pixels, up to which levels stay in
	// memory beside the store.
	smallSide = 1024
	// faultsBorne is how often a damaged file is built anew before the
	// pyramid does without the store.
	faultsBorne = 1
)

// firstSmall is the finest level that stays in memory beside the store.
func (l *layout) firstSmall() int {
	n := 0
	for n < len(l.sizes) && max(l.sizes[n].X, l.sizes[n].Y) > smallSide {
		n++
	}
	return n
}

// smallLevels reads the levels that stay in memory.
func (f *sheetFile) smallLevels() ([]*tiled, error) {
	var out []*tiled
	for n := f.firstSmall(); n < len(f.sizes); n++ {
		t, err := f.level(n)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// buildStored makes the levels by way of the store. errNoStore means that
// there is none to be used, errStopped that the pyramid was closed; other
// errors come from the store, which has been cleaned up.
func (p *Pyramid) buildStored(src layer) error {
	s, key := p.opt.Store, p.opt.Key
	p.mu.Lock()
	faults := p.faults
	p.mu.Unlock()
	if s == nil || key == [32]byte{} || faults > faultsBorne {
		return errNoStore
	}
	if p.adoptStored(s, key) {
		return nil
	}
	return p.storeAnew(s, src, nil)
}

// adoptStored serves the picture from the store where that has it already.
func (p *Pyramid) adoptStored(s *Store, key [32]byte) bool {
	f, small, err := s.open(key)
	if err != nil {
		return false
	}
	if f.size != p.size {
		s.drop(f)
		return false
	}
	p.adopt(f, small)
	return true
}

// storeAnew writes the picture to the store and adopts the file. The flow is
// that of a picture that is not all there yet, or nil.
func (p *Pyramid) storeAnew(s *Store, src layer, from *flow) error {
	f, err := s.begin(p.opt.Key, newLayout(p.size, src.kind()), lutOf(src))
	if err != nil {
		return err
	}
	written := false
	defer func() {
		if !written { // or the source broke down
			s.drop(f)
		}
	}()
	if err := p.write(f, src, from); err != nil {
		return err
	}
	written = true
	if f, err = s.commit(f); err != nil {
		return err
	}
	small, err := f.smallLevels()
	if err != nil {
		s.drop(f)
		return err
	}
	p.adopt(f, small)
	return nil
}

// write runs the levels into a file, and keeps none: once the file is whole
// they are read from it. Without a preview the coarser ones are made first, so
// that the whole picture is there soon.
func (p *Pyramid) write(f *sheetFile, src layer, from *flow) error {
	if !p.Ready(len(p.sizes) - 1) {
		if err := p.buildKept(src, finestKept); err != nil {
			return err
		}
	}
	all := newPass(p.sizes, src, 0, len(p.sizes), f, p.isClosed)
	all.flow = from
	err := all.run()
	if err != nil && !errors.Is(err, errStopped) {
		return storing(err)
	}
	return err
}

// storing says what was being done. It leaves out the long name of a file that
// nobody knows, behind which the cause, such as a full disk, is not seen.
func storing(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("the picture cannot be stored: %w", err)
}

// adopt serves the picture from its file from now on, but for the small
// levels given, and discards all else. All levels change over at once: a
// file that is found damaged a moment later takes all of its levels with it.
func (p *Pyramid) adopt(f *sheetFile, small []*tiled) {
	p.mu.Lock()
	if p.shut {
		p.mu.Unlock()
		_ = f.blob.Close() // only ever read
		return
	}
	p.file, p.count.storeBytes = f, f.total
	var done []swapped
	first := f.firstSmall()
	for n := len(p.sizes) - 1; n >= 0; n-- {
		l := p.onDisk(f, n)
		if n >= first {
			l = small[n-first]
		}
		done = append(done, p.swap(n, l, false))
	}
	p.mu.Unlock()
	for _, c := range done {
		p.tell(c)
	}
}

// onDisk is level n of a stored picture.
func (p *Pyramid) onDisk(f *sheetFile, n int) *tiled {
	return &tiled{sz: p.sizes[n], form: f.kinds[n], fetch: func(x, y int, keep bool) (*rawTile, func(), error) {
		k := Key{n, x, y}
		return p.rawCache.borrow(k, keep, func(dst *rawTile) error { return f.read(dst, k) })
	}}
}

// damaged begins the way back after an error of reading: the file is dropped,
// its levels are no longer ready, and the picture is read again. An error of
// a file that is no longer in use means nothing. It is called with mu held.
func (p *Pyramid) damaged(err error) {
	var d *damage
	if !errors.As(err, &d) || p.file != d.file || p.shut {
		return
	}
	p.file = nil
	p.faults++
	p.stage, p.settled = pending, make(chan struct{})
	p.count.storeBytes = 0
	p.layerMu.Lock()
	for n := range d.file.firstSmall() {
		p.levels[n].layer, p.levels[n].ready = nil, make(chan struct{})
	}
	p.layerMu.Unlock()
	p.wg.Go(func() { p.mend(d) })
}

// mend reads the picture again.
func (p *Pyramid) mend(d *damage) {
	p.opt.Store.drop(d.file)
	if p.isClosed() {
		return
	}
	p.fault(d)
	if p.opt.Reload == nil {
		return
	}
	src, err := p.opt.Reload(p.ctx)
	switch {
	case p.isClosed():
	case err != nil:
		p.fault(fmt.Errorf("the picture cannot be read again: %w", err))
	default:
		p.Fill(src)
	}
}

// closeFile closes the store's file.
func (p *Pyramid) closeFile() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.file != nil {
		_ = p.file.blob.Close() // only ever read
		p.file = nil
	}
}
