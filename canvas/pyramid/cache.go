package pyramid

import "image"

// fullTile is the size of a full tile's pixels in bytes.
const fullTile = 4 * TileSize * TileSize

// maxSpare bounds the buffers kept for reuse.
const maxSpare = 8

// cache keeps tiles within a budget. What lies farthest from the screen and
// was used longest ago leaves first; see farness. It is not safe for
// concurrent use.
type cache struct {
	budget, used int64
	tiles        map[Key]*tile
	byImage      map[*image.RGBA]*tile
	clock        int64       // grows with every use
	nears        []*nearness // what is on the screens of those who look
	spare        [][]uint8   // full-size buffers nobody holds
}

type tile struct {
	key  Key
	img  *image.RGBA
	used int64 // the clock at its latest use
	lent int   // how often handed out and not returned
}

func newCache(budget int64) cache {
	return cache{budget: budget, tiles: map[Key]*tile{}, byImage: map[*image.RGBA]*tile{}}
}

func (c *cache) has(k Key) bool { return c.tiles[k] != nil }

// touch makes the tile the latest used and gives it, or nil.
func (c *cache) touch(k Key) *tile {
	t := c.tiles[k]
	if t != nil {
		c.clock++
		t.used = c.clock
	}
	return t
}

// put adds a tile and evicts others down to the budget. The new tile stays
// even if it is larger than the budget by itself.
func (c *cache) put(k Key, img *image.RGBA) {
	if c.has(k) {
		c.recycle(img.Pix)
		return
	}
	c.clock++
	t := &tile{key: k, img: img, used: c.clock}
	c.tiles[k], c.byImage[img] = t, t
	c.used += int64(cap(img.Pix)) // small tiles have room for a full one
	c.fit(t)
}

// fit evicts down to the budget, but not the tile spared.
func (c *cache) fit(spared *tile) {
	for c.used > c.budget {
		t := c.worst(spared)
		if t == nil {
			return
		}
		c.remove(t)
	}
}

// worst is the tile to leave next: a tile in a caller's hands only when there
// is no other, since its memory does not come back with it.
func (c *cache) worst(spared *tile) *tile {
	var worst *tile
	score := 0.0
	for _, t := range c.tiles {
		if t == spared {
			continue
		}
		s := c.farness(t)
		if worst == nil || t.lent == 0 && worst.lent > 0 || (t.lent > 0) == (worst.lent > 0) && s > score {
			worst, score = t, s
		}
	}
	return worst
}

func (c *cache) remove(t *tile) {
	delete(c.tiles, t.key)
	delete(c.byImage, t.img)
	c.used -= int64(cap(t.img.Pix))
	if t.lent == 0 {
		c.recycle(t.img.Pix)
	}
}

// drop removes all tiles of a level.
func (c *cache) drop(level int) {
	for k, t := range c.tiles {
		if k.Level == level {
			c.remove(t)
		}
	}
}

// release takes back one hand-out of a tile; images it does not know, such as
// tiles evicted meanwhile, are left alone.
func (c *cache) release(img *image.RGBA) {
	if t := c.byImage[img]; t != nil && t.lent > 0 {
		t.lent--
	}
}

// buffer gives n bytes with any content.
func (c *cache) buffer(n int) []uint8 {
	if last := len(c.spare) - 1; last >= 0 {
		b := c.spare[last]
		c.spare = c.spare[:last]
		return b[:n]
	}
	return make([]uint8, n, fullTile)
}

func (c *cache) recycle(b []uint8) {
	if cap(b) >= fullTile && len(c.spare) < maxSpare {
		c.spare = append(c.spare, b[:0])
	}
}
