package pyramid

type counters struct{ hits, misses, made int64 }

// Stats are figures for a diagnostics panel.
type Stats struct {
	Levels, LevelsReady int
	// PictureBytes is the memory of the decoded picture, LevelBytes that of
	// the levels made from it.
	PictureBytes, LevelBytes int64
	// Tiles and TileBytes are in memory now, within Budget bytes.
	Tiles             int
	TileBytes, Budget int64
	// Since opening: calls of Tile that found a tile and that did not, tiles
	// made, tiles evicted.
	Hits, Misses, Made, Evicted int64
}

// Stats gives the figures of this moment.
func (p *Pyramid) Stats() Stats {
	s := Stats{Levels: len(p.sizes)}
	p.layerMu.RLock()
	for i, l := range p.layers {
		switch {
		case l == nil:
		case i == 0:
			s.LevelsReady++
			s.PictureBytes = l.bytes()
		default:
			s.LevelsReady++
			s.LevelBytes += l.bytes()
		}
	}
	p.layerMu.RUnlock()
	p.mu.Lock()
	defer p.mu.Unlock()
	s.Tiles, s.TileBytes, s.Budget = p.cache.age.Len(), p.cache.used, p.opt.Budget
	s.Hits, s.Misses, s.Made, s.Evicted = p.count.hits, p.count.misses, p.count.made, p.cache.evicted
	return s
}
