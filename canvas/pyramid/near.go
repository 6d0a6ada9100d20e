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

// Near says what is on screen: a rectangle of a level's pixels. Tiles far
// from it leave the memory first.
func (p *Pyramid) Near(level int, at image.Rectangle) {
	if level < 0 || level >= len(p.sizes) {
		return
	}
	at = at.Canon().Intersect(image.Rectangle{Max: p.sizes[level]})
	p.mu.Lock()
	defer p.mu.Unlock()
	p.cache.near = nearness{level, image.Rectangle{at.Min.Mul(1 << level), at.Max.Mul(1 << level)}, !at.Empty()}
}

// farness orders tiles for eviction, the greatest first: the gap between tile
// and screen in lengths of the screen's longer side, plus ¼ for each level
// between them, plus 1 for 512 uses of tiles since its own. Without word
// from Near age decides alone.
func (c *cache) farness(t *tile) float64 {
	far := float64(c.clock-t.used) / usesPerFar
	if !c.near.known {
		return far
	}
	side := TileSize << t.key.Level
	o := image.Pt(t.key.X*side, t.key.Y*side)
	r := image.Rectangle{o, o.Add(image.Pt(side, side))}
	s := c.near.at
	gap := math.Hypot(float64(gap(r.Min.X, r.Max.X, s.Min.X, s.Max.X)), float64(gap(r.Min.Y, r.Max.Y, s.Min.Y, s.Max.Y)))
	levels := math.Abs(float64(t.key.Level - c.near.level))
	return far + gap/float64(max(s.Dx(), s.Dy())) + farPerLevel*levels
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
