package pyramid

import (
	"image"
	"math"
)

// nearness is what is on screen, in pixels of the picture.
type nearness struct {
	level int
	at    image.Rectangle
	known bool
}

// Weights of farness, in screens.
const (
	farPerLevel = 0.25 // for each level between a tile's and the one shown
	usesPerFar  = 512  // uses of other tiles since the tile's own
)

// farness orders tiles for eviction, the greatest first: the gap between tile
// and screen in lengths of the screen's longer side, plus ¼ for each level
// between them, plus 1 for 512 uses of tiles since its own. Of several screens the
// nearest counts. Without word from Near age decides alone.
func (c *cache) farness(t *tile) float64 {
	far, known := math.Inf(1), false
	for _, n := range c.nears {
		if n.known {
			far, known = min(far, n.from(t.key)), true
		}
	}
	if !known {
		far = 0
	}
	return far + float64(c.clock-t.used)/usesPerFar
}

// from is how far a tile lies from what is on screen.
func (n *nearness) from(k Key) float64 {
	side := TileSize << k.Level
	o := image.Pt(k.X*side, k.Y*side)
	r := image.Rectangle{o, o.Add(image.Pt(side, side))}
	s := n.at
	gap := math.Hypot(float64(gap(r.Min.X, r.Max.X, s.Min.X, s.Max.X)), float64(gap(r.Min.Y, r.Max.Y, s.Min.Y, s.Max.Y)))
	return gap/float64(max(s.Dx(), s.Dy())) + farPerLevel*math.Abs(float64(k.Level-n.level))
}

// gap is the distance between the intervals [a, b) and [c, d), 0 if they
// meet.
func gap(a, b, c, d int) int { return max(a-d, c-b, 0) }

// Reserve counts n bytes that a caller holds, such as tiles it has turned,
// against the budget; tiles leave to make room. It says whether the budget
// still holds all that is reserved. Unreserve takes the same number back.
func (p *Pyramid) Reserve(n int64) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.count.reserved += max(n, 0)
	p.fit(nil)
	return p.count.reserved <= p.opt.Budget
}

// Unreserve gives back n bytes of what was reserved.
func (p *Pyramid) Unreserve(n int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.count.reserved = max(p.count.reserved-max(n, 0), 0)
	p.fit(nil)
}

// fit brings the tiles within what the budget leaves them. It is called with
// mu held.
func (p *Pyramid) fit(spared *tile) {
	p.cache.budget = max(p.opt.Budget-p.count.reserved-p.rawCache.bytes(), 0)
	p.cache.fit(spared)
}
