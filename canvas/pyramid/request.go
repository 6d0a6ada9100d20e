package pyramid

import (
	"image"
	"time"
)

// doneGap is the least time between two calls of done for one request while
// tiles are still coming: about one frame.
const doneGap = 12 * time.Millisecond

// wishes are the tiles asked for and not yet made.
type wishes struct {
	round  int // grows with every Request
	queue  []Key
	making map[Key]bool
	busy   int // tiles of this round being made
	last   time.Time
	done   func()
}

// Tile gives a tile if it is in memory, without waiting. The image is tight
// (stride 4·width), starts at (0, 0), is shared and must not be written to.
// Whoever keeps many tiles should Release those he is done with, so that
// their buffers can be used again.
func (p *Pyramid) Tile(k Key) (*image.RGBA, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	t := p.cache.touch(k)
	if t == nil {
		return nil, false
	}
	t.lent++
	return t.img, true
}

// Release says that one hand-out of a tile by Tile is over and the caller no
// longer reads it. It is never required: without it the buffer goes to the
// garbage collector instead of the next tile. Never call it more often than
// Tile gave the image.
func (p *Pyramid) Release(img *image.RGBA) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.cache.release(img)
}

// Request asks for tiles, the most wanted first. It replaces the previous
// request: what is no longer wanted is dropped, a tile in the making is
// finished. Keys outside the picture are ignored. It returns how many tiles
// are missing.
//
// done, if not nil, is called from a worker's goroutine when tiles have come
// in: at most about once a frame while more are on the way, and once after
// the last. It is not called if nothing was missing, nor after the request
// has been replaced or the pyramid closed, save for a call already begun.
func (p *Pyramid) Request(keys []Key, done func()) int {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shut {
		return 0
	}
	w := &p.wish
	w.round++
	w.queue, w.busy = w.queue[:0], 0
	w.done, w.last = done, time.Now()
	seen := make(map[Key]bool, len(keys))
	missing := 0
	for _, k := range keys {
		if seen[k] || p.tileRect(k).Empty() || p.cache.touch(k) != nil {
			continue
		}
		seen[k] = true
		missing++
		w.queue = append(w.queue, k)
	}
	if missing > 0 {
		p.wake.Broadcast()
	}
	return missing
}

// work makes wished tiles until the pyramid is closed.
func (p *Pyramid) work() {
	defer p.wg.Done()
	p.mu.Lock()
	defer p.mu.Unlock()
	for !p.shut {
		k, found := p.next()
		if !found {
			p.wake.Wait()
			continue
		}
		p.makeOne(k)
	}
}

// next takes the first wish that can be made now.
func (p *Pyramid) next() (Key, bool) {
	w := &p.wish
	for i, k := range w.queue {
		if p.Ready(k.Level) && !w.making[k] {
			w.queue = append(w.queue[:i], w.queue[i+1:]...)
			return k, true
		}
	}
	return Key{}, false
}

// makeOne cuts a tile with the lock released, and reports.
func (p *Pyramid) makeOne(k Key) {
	w := &p.wish
	if w.making == nil {
		w.making = map[Key]bool{}
	}
	if p.cache.has(k) { // made for an earlier round meanwhile
		p.report()
		return
	}
	round := w.round
	w.making[k] = true
	w.busy++
	r := p.tileRect(k)
	pix := p.cache.buffer(4 * r.Dx() * r.Dy())
	l, turn := p.layerTurn(k.Level)
	p.mu.Unlock()
	err := errStopped
	if l != nil {
		err = l.cut(pix, 4*r.Dx(), r, false)
		p.look.Load().apply(pix)
	}
	p.mu.Lock()
	delete(w.making, k)
	if !p.keep(k, turn, r, pix, err) && round == w.round {
		w.queue = append(w.queue, k) // its level was replaced or lost meanwhile
	}
	p.wake.Broadcast() // a wish of a later round may have waited for this tile
	if round == w.round {
		w.busy--
		p.report()
	}
}

// keep puts a tile into memory if it is good and says whether it was.
func (p *Pyramid) keep(k Key, turn int, r image.Rectangle, pix []uint8, err error) bool {
	if _, now := p.layerTurn(k.Level); err != nil || now != turn {
		p.cache.recycle(pix)
		if err != nil {
			p.damaged(err)
		}
		return false
	}
	p.cache.put(k, &image.RGBA{Pix: pix, Stride: 4 * r.Dx(), Rect: image.Rectangle{Max: r.Size()}})
	p.fit(p.cache.tiles[k])
	return true
}

// anyToMake says whether a wish is left that can be made now; others wait for
// their level and hold up no report.
func (p *Pyramid) anyToMake() bool {
	for _, k := range p.wish.queue {
		if p.Ready(k.Level) {
			return true
		}
	}
	return false
}

// report calls done with the lock released, if it is due.
func (p *Pyramid) report() {
	w := &p.wish
	if w.done == nil || p.shut {
		return
	}
	last := w.busy == 0 && !p.anyToMake()
	if !last && time.Since(w.last) < doneGap {
		return
	}
	w.last = time.Now()
	done := w.done
	p.mu.Unlock()
	done()
	p.mu.Lock()
}
