package pyramid

type counters struct {
	reserved, storeBytes int64
}

// Stats are figures for a diagnostics panel.
type Stats struct {
	// LevelsTrial of the levels ready come from a preview.
	Levels, LevelsReady, LevelsTrial int
	// PictureBytes is the memory of the decoded picture, LevelBytes that of
	// the levels kept in memory.
	PictureBytes, LevelBytes int64
	// Tiles, and the planes they are made from, are in memory now; with
	// what is reserved they lie within Budget bytes.
	Tiles                                        int
	TileBytes, PlaneBytes, ReservedBytes, Budget int64
	// Stored says that the levels are on disk, in StoreBytes.
	Stored     bool
	StoreBytes int64
}

// Stats gives the figures of this moment.
func (p *Pyramid) Stats() Stats {
	s := Stats{Levels: len(p.sizes), Budget: p.opt.Budget, PlaneBytes: p.rawCache.bytes()}
	p.layerMu.RLock()
	for _, l := range p.levels {
		s.addLevel(l)
	}
	p.layerMu.RUnlock()
	p.mu.Lock()
	defer p.mu.Unlock()
	s.Tiles, s.TileBytes, s.ReservedBytes = len(p.cache.tiles), p.cache.used, p.count.reserved
	s.StoreBytes, s.Stored = p.count.storeBytes, p.count.storeBytes > 0
	return s
}

func (s *Stats) addLevel(l level) {
	if l.layer == nil {
		return
	}
	s.LevelsReady++
	if l.trial {
		s.LevelsTrial++
	}
	if _, ok := l.layer.(*tiled); ok {
		s.LevelBytes += l.layer.bytes()
	} else {
		s.PictureBytes += l.layer.bytes()
	}
}
