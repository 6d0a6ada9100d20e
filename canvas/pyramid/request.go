package pyramid

import (
	"image"
	"time"
)

// doneGap is the least time between two calls of done for one request while
// tiles are still coming: about one frame.
const doneGap = 12 * time.Millisecond

// wishes are the tiles that one asker wants and that are not yet made.
type wishes struct {
	round int // grows with every Request
	queue []Key
	busy  int // tiles of this round being made
	last  time.Time
	done  func()
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

// work makes wished tiles until the pyramid is closed.
func (p *Pyramid) work() {
	defer p.wg.Done()
	p.mu.Lock()
	defer p.mu.Unlock()
	for !p.shut {
		a, k, found := p.next()
		if !found {
			p.wake.Wait()
			continue
		}
		p.makeOne(a, k)
	}
}

// next takes the first wish that can be made now, of each asker in turn.
func (p *Pyramid) next() (*Asker, Key, bool) {
	for i := range p.askers {
		at := (p.turn + i) % len(p.askers)
		a := p.askers[at]
		for j, k := range a.wish.queue {
			if p.Ready(k.Level) && !p.making[k] {
				a.wish.queue = append(a.wish.queue[:j], a.wish.queue[j+1:]...)
				p.turn = at + 1
				return a, k, true
			}
		}
	}
	return nil, Key{}, false
}

// makeOne cuts a tile with the lock released, and reports.
func (p *Pyramid) makeOne(a *Asker, k Key) {
	w := &a.wish
	if p.cache.has(k) { // made for another request meanwhile
		p.report(a)
		return
	}
	round := w.round
	p.making[k] = true
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
	delete(p.making, k)
	if !p.keep(k, turn, r, pix, err) && round == w.round {
		w.queue = append(w.queue, k) // its level was replaced or lost meanwhile
	}
	p.wake.Broadcast() // another wish may have waited for this tile
	if round == w.round {
		w.busy--
		p.report(a)
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

// anyToMake says whether a wish of an asker is left that can be made now; others wait
// for their level and hold up no report.
func (p *Pyramid) anyToMake(a *Asker) bool {
	for _, k := range a.wish.queue {
		if p.Ready(k.Level) {
			return true
		}
	}
	return false
}

// report calls an asker's done with the lock released, if it is due.
func (p *Pyramid) report(a *Asker) {
	w := &a.wish
	if w.done == nil || p.shut {
		return
	}
	last := w.busy == 0 && !p.anyToMake(a)
	if !last && time.Since(w.last) < doneGap {
		return
	}
	w.last = time.Now()
	done := w.done
	p.mu.Unlock()
	done()
	p.mu.Lock()
}
