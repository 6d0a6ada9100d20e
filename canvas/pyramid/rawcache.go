package pyramid

import (
	"container/list"
	"sync"
)

// rawCache keeps the raw tiles used last, so that work that reads the same raw tile many
// times, such as a turned region, fetches it once. Its buffers are used
// again.
type rawCache struct {
	mu       sync.Mutex
	limit    int64 // bytes of raw tiles to keep
	used     int64
	rawTiles map[Key]*list.Element
	age      *list.List // of *cachedRawTile, latest use in front
	spare    []*rawTile
}

// cachedRawTile is a raw tile, or one on its way.
type cachedRawTile struct {
	key     Key
	rawTile *rawTile
	err     error
	hold    int           // how many are reading it
	came    chan struct{} // closed when raw tile or err is there
	out     bool          // no longer in the cache
}

const spareRawTiles = 4

func newRawCache(limit int64) *rawCache {
	return &rawCache{limit: limit, rawTiles: map[Key]*list.Element{}, age: list.New()}
}

// borrow gives the raw tile k, filled by fill if it is not here, and keeps it in the
// cache if told to. Whoever asks for a raw tile that is on its way there waits for
// it. The function returned must be called once.
func (s *rawCache) borrow(k Key, keep bool, fill func(dst *rawTile) error) (*rawTile, func(), error) {
	s.mu.Lock()
	e := s.rawTiles[k]
	if e != nil {
		s.age.MoveToFront(e)
		it := e.Value.(*cachedRawTile)
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
	it := &cachedRawTile{key: k, rawTile: s.room(), hold: 1, came: make(chan struct{})}
	s.rawTiles[k] = s.age.PushFront(it)
	s.mu.Unlock()
	it.err = fill(it.rawTile)
	s.mu.Lock()
	s.used += int64(cap(it.rawTile.pix))
	if it.err != nil {
		s.take(s.rawTiles[k])
	}
	s.trim()
	s.mu.Unlock()
	close(it.came)
	return s.lend(it)
}

// pass gives a raw tile that never comes into the cache: its buffer serves the next
// one as soon as it is returned.
func (s *rawCache) pass(b *rawTile, fill func(dst *rawTile) error) (*rawTile, func(), error) {
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

func (s *rawCache) lend(it *cachedRawTile) (*rawTile, func(), error) {
	back := func() { s.back(it) }
	if it.err != nil {
		back()
		return nil, nil, it.err
	}
	return it.rawTile, back, nil
}

func (s *rawCache) back(it *cachedRawTile) {
	s.mu.Lock()
	defer s.mu.Unlock()
	it.hold--
	if it.out && it.hold == 0 {
		s.recycle(it.rawTile)
	}
	s.trim()
}

// room gives a raw tile with any content.
func (s *rawCache) room() *rawTile {
	if last := len(s.spare) - 1; last >= 0 {
		b := s.spare[last]
		s.spare = s.spare[:last]
		return b
	}
	return newRawTile(0)
}

func (s *rawCache) recycle(b *rawTile) {
	if len(s.spare) < spareRawTiles {
		s.spare = append(s.spare, b)
	}
}

// trim discards the raw tiles used longest ago that nobody reads.
func (s *rawCache) trim() {
	for e := s.age.Back(); e != nil && s.used > s.limit; {
		before := e.Prev()
		if e.Value.(*cachedRawTile).hold == 0 {
			s.take(e)
		}
		e = before
	}
}

// take removes a raw tile from the cache.
func (s *rawCache) take(e *list.Element) {
	it := s.age.Remove(e).(*cachedRawTile)
	delete(s.rawTiles, it.key)
	s.used -= int64(cap(it.rawTile.pix))
	it.out = true
	if it.hold == 0 {
		s.recycle(it.rawTile)
	}
}

// bytes is the memory in use, buffers kept for later included.
func (s *rawCache) bytes() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := s.used
	for _, b := range s.spare {
		n += int64(cap(b.pix))
	}
	return n
}

// clear discards everything; raw tiles still read go when they come back.
func (s *rawCache) clear() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for e := s.age.Front(); e != nil; {
		after := e.Next()
		if it := e.Value.(*cachedRawTile); it.hold == 0 {
			s.take(e)
		}
		e = after
	}
	s.spare, s.limit = nil, 0
}
