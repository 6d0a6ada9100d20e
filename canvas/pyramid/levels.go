package pyramid

import "image"

// level is the state of one level, guarded by layerMu.
type level struct {
	layer layer         // nil while it is not ready
	ready chan struct{} // closed when layer is there
	// trial says that the layer comes from a preview and will be replaced.
	trial bool
	// turn grows when tiles cut before are no longer right.
	turn int
}

// Ready says whether a level can be cut now, if only from a preview.
func (p *Pyramid) Ready(level int) bool {
	return level >= 0 && level < len(p.sizes) && p.layer(level) != nil
}

// Wait blocks until the level is ready, or gives ErrClosed. A level that
// does not exist is a programmer's mistake and panics.
func (p *Pyramid) Wait(level int) error {
	p.layerMu.RLock()
	ready := p.levels[level].ready
	p.layerMu.RUnlock()
	select {
	case <-ready:
		return nil
	case <-p.closed:
		return ErrClosed
	}
}

// WaitWhole blocks until every level shows the picture itself and, where
// there is a store, is on disk or cannot be; or gives ErrClosed. It waits for
// Fill.
func (p *Pyramid) WaitWhole() error {
	p.mu.Lock()
	settled := p.settled
	p.mu.Unlock()
	select {
	case <-settled:
		return nil
	case <-p.closed:
		return ErrClosed
	}
}

// layer gives a level's pixels, nil while it is not ready or after Close.
func (p *Pyramid) layer(level int) layer {
	l, _ := p.layerTurn(level)
	return l
}

// layerTurn gives a level's pixels and their turn.
func (p *Pyramid) layerTurn(level int) (layer, int) {
	p.layerMu.RLock()
	defer p.layerMu.RUnlock()
	return p.levels[level].layer, p.levels[level].turn
}

// setLayer puts l in place of what level n was, and tells whom it concerns.
// trial says that it comes from a preview.
func (p *Pyramid) setLayer(n int, l layer, trial bool) {
	p.mu.Lock()
	if p.shut {
		p.mu.Unlock()
		return
	}
	c := p.swap(n, l, trial)
	p.mu.Unlock()
	p.tell(c)
}

// swapped is what came of a swap.
type swapped struct {
	level          int
	first, changed bool
}

// swap is setLayer without telling, with mu held. If the level looks
// otherwise than before, tiles cut from it go.
func (p *Pyramid) swap(n int, l layer, trial bool) swapped {
	p.layerMu.Lock()
	v := &p.levels[n]
	c := swapped{n, v.layer == nil, v.layer != nil && v.trial && !sameLayer(v.layer, l)}
	v.layer, v.trial = l, trial
	if c.changed {
		v.turn++
	}
	if c.first {
		close(v.ready)
	}
	p.layerMu.Unlock()
	if c.changed {
		p.cache.drop(n)
	}
	p.wake.Broadcast()
	return c
}

func (p *Pyramid) tell(c swapped) {
	if c.changed && p.opt.OnChange != nil {
		p.opt.OnChange(c.level)
	}
}

// sameLayer says whether two layers are known to show the same.
func sameLayer(a, b layer) bool {
	s, ok := a.(*tiled)
	t, also := b.(*tiled)
	return ok && also && s.grid != nil && t.grid != nil && s.sameAs(t)
}

// Preview shows img, which is the picture at 1/2^level with its sides rounded
// up, until the picture itself is there: it makes this level and all coarser
// ones ready. It returns when they are, after about 10 ms for two megapixels.
// A preview of another size is ignored, and so is one that comes after Fill
// or Close.
func (p *Pyramid) Preview(level int, img Source) {
	if p.LevelSize(level) != img.Bounds().Size() || level < 0 || !p.at(pending) {
		return
	}
	b := newPass(p.sizes, newLayer(img), level, level, nil, func() bool { return !p.at(pending) })
	if b.run() != nil {
		return
	}
	for n := len(p.sizes) - 1; n >= level; n-- {
		if p.at(pending) {
			p.setLayer(n, b.kept(n), true)
		}
	}
}

// at says whether the pyramid is open and at stage s.
func (p *Pyramid) at(s stage) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.stage == s && !p.shut
}

// onDemand is level n of the picture src, made raw tile by raw tile when wanted.
func (p *Pyramid) onDemand(m *maker, n int) *tiled {
	return &tiled{sz: p.sizes[n], form: m.kinds[n], fetch: func(x, y int, keep bool) (*rawTile, func(), error) {
		k := Key{n, x, y}
		return p.rawCache.borrow(k, keep, func(dst *rawTile) error { return m.make(dst, k) })
	}}
}

// tileRect is the part of its level that a tile covers, empty for a key
// outside the picture.
func (p *Pyramid) tileRect(k Key) image.Rectangle {
	sz := p.LevelSize(k.Level)
	if k.X < 0 || k.Y < 0 || k.X > sz.X/TileSize || k.Y > sz.Y/TileSize {
		return image.Rectangle{}
	}
	return rawTileRect(sz, k.X, k.Y)
}
