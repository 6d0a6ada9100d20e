package pyramid

import (
	"image"
	"slices"
	"time"
)

// Asker is one view of a picture. Several may look at one pyramid: each has its own
// request, which does not replace that of another, and its own screen, near which tiles
// stay in memory. Tiles are made for them in turn.
type Asker struct {
	p    *Pyramid
	wish wishes
	near nearness
}

// Asker returns a view that asks for nothing yet. Leave ends it.
func (p *Pyramid) Asker() *Asker {
	a := &Asker{p: p}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.askers = append(p.askers, a)
	p.cache.nears = append(p.cache.nears, &a.near)
	return a
}

// Leave takes back what the view asked for. Its done function is not called any more,
// save for a call already begun. The view must not be used after it.
func (a *Asker) Leave() {
	p := a.p
	p.mu.Lock()
	defer p.mu.Unlock()
	a.wish = wishes{round: a.wish.round + 1}
	p.askers = slices.DeleteFunc(p.askers, func(b *Asker) bool { return a == b })
	p.cache.nears = slices.DeleteFunc(p.cache.nears, func(n *nearness) bool { return n == &a.near })
}

// Request asks for tiles, the most wanted first. It replaces the view's previous
// request: what is no longer wanted is dropped, a tile in the making is finished. Keys
// outside the picture are ignored. It returns how many tiles are missing.
//
// done, if not nil, is called from a worker's goroutine when tiles have come
// in: at most about once a frame while more are on the way, and once after
// the last. It is not called if nothing was missing, nor after the request
// has been replaced or the pyramid closed, save for a call already begun.
func (a *Asker) Request(keys []Key, done func()) int {
	p := a.p
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shut {
		return 0
	}
	w := &a.wish
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

// Near says what is on the view's screen: a rectangle of a level's pixels. Tiles far
// from every view's leave the memory first.
func (a *Asker) Near(level int, at image.Rectangle) {
	p := a.p
	if level < 0 || level >= len(p.sizes) {
		return
	}
	at = at.Canon().Intersect(image.Rectangle{Max: p.sizes[level]})
	p.mu.Lock()
	defer p.mu.Unlock()
	a.near = nearness{level, image.Rectangle{at.Min.Mul(1 << level), at.Max.Mul(1 << level)}, !at.Empty()}
}

// Request asks for tiles as a view does, for whoever is the only one.
func (p *Pyramid) Request(keys []Key, done func()) int { return p.own.Request(keys, done) }

// Near says what is on screen, for whoever is the only view.
func (p *Pyramid) Near(level int, at image.Rectangle) { p.own.Near(level, at) }
