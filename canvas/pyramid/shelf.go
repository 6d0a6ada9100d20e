package pyramid

import (
	"container/list"
	"sync"
)

// shelf keeps the slabs used last, so that work that reads the same slab many
// times, such as a turned region, fetches it once. Its buffers are used
// again.
type shelf struct {
	mu    sync.Mutex
	limit int64 // bytes of slabs to keep
	used  int64
	slabs map[Key]*list.Element
	age   *list.List // of *shelved, latest use in front
	spare []*slab
}

// shelved is a slab, or one on its way.
type shelved struct {
	key  Key
	slab *slab
	err  error
	hold int           // how many are reading it
	came chan struct{} // closed when slab or err is there
	out  bool          // no longer on the shelf
}

const spareSlabs = 4

func newShelf(limit int64) *shelf {
	return &shelf{limit: limit, slabs: map[Key]*list.Element{}, age: list.New()}
}

// borrow gives the slab k, filled by fill if it is not here, and keeps it on the
// shelf if told to. Whoever asks for a slab that is on its way there waits for
// it. The function given back must be called once.
func (s *shelf) borrow(k Key, keep bool, fill func(dst *slab) error) (*slab, func(), error) {
	s.mu.Lock()
	e := s.slabs[k]
	if e != nil {
		s.age.MoveToFront(e)
		it := e.Value.(*shelved)
		it.hold++
		s.mu.Unlock()
		<-it.came
		return s.lend(it)
	}
	if !keep {
		b := s.room()
		s.mu.Unlock()
		return s.pass(b, fill)
	}
	it := &shelved{key: k, slab: s.room(), hold: 1, came: make(chan struct{})}
	s.slabs[k] = s.age.PushFront(it)
	s.mu.Unlock()
	it.err = fill(it.slab)
	s.mu.Lock()
	s.used += int64(cap(it.slab.pix))
	if it.err != nil {
		s.take(s.slabs[k])
	}
	s.trim()
	s.mu.Unlock()
	close(it.came)
	return s.lend(it)
}

// pass gives a slab that never comes onto the shelf: its buffer serves the next
// one as soon as it is given back.
func (s *shelf) pass(b *slab, fill func(dst *slab) error) (*slab, func(), error) {
	back := func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.recycle(b)
	}
	if err := fill(b); err != nil {
		back()
		return nil, nil, err
	}
	return b, back, nil
}

func (s *shelf) lend(it *shelved) (*slab, func(), error) {
	back := func() { s.back(it) }
	if it.err != nil {
		back()
		return nil, nil, it.err
	}
	return it.slab, back, nil
}

func (s *shelf) back(it *shelved) {
	s.mu.Lock()
	defer s.mu.Unlock()
	it.hold--
	if it.out && it.hold == 0 {
		s.recycle(it.slab)
	}
	s.trim()
}

// room gives a slab with any content.
func (s *shelf) room() *slab {
	if last := len(s.spare) - 1; last >= 0 {
		b := s.spare[last]
		s.spare = s.spare[:last]
		return b
	}
	return newSlab(0)
}

func (s *shelf) recycle(b *slab) {
	if len(s.spare) < spareSlabs {
		s.spare = append(s.spare, b)
	}
}

// trim lets go of the slabs used longest ago that nobody reads.
func (s *shelf) trim() {
	for e := s.age.Back(); e != nil && s.used > s.limit; {
		before := e.Prev()
		if e.Value.(*shelved).hold == 0 {
			s.take(e)
		}
		e = before
	}
}

// take removes a slab from the shelf.
func (s *shelf) take(e *list.Element) {
	it := s.age.Remove(e).(*shelved)
	delete(s.slabs, it.key)
	s.used -= int64(cap(it.slab.pix))
	it.out = true
	if it.hold == 0 {
		s.recycle(it.slab)
	}
}

// bytes is the memory in use, buffers kept for later included.
func (s *shelf) bytes() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := s.used
	for _, b := range s.spare {
		n += int64(cap(b.pix))
	}
	return n
}

// clear lets go of everything; slabs still read go when they come back.
func (s *shelf) clear() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for e := s.age.Front(); e != nil; {
		after := e.Next()
		if it := e.Value.(*shelved); it.hold == 0 {
			s.take(e)
		}
		e = after
	}
	s.spare, s.limit = nil, 0
}
