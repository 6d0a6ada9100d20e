package pyramid

import (
	"container/list"
	"image"
)

// fullTile is the size of a full tile's pixels in bytes.
const fullTile = 4 * TileSize * TileSize

// maxSpare bounds the buffers kept for reuse.
const maxSpare = 8

// cache keeps tiles within a budget, the one used longest ago leaving first.
// It is not safe for concurrent use.
type cache struct {
	budget, used int64
	tiles        map[Key]*list.Element
	byImage      map[*image.RGBA]*tile
	age          *list.List // of *tile, latest use in front
	spare        [][]uint8  // full-size buffers nobody holds
	evicted      int64
}

type tile struct {
	key  Key
	img  *image.RGBA
	lent int // how often handed out and not given back
}

func newCache(budget int64) cache {
	return cache{
		budget: budget, tiles: map[Key]*list.Element{},
		byImage: map[*image.RGBA]*tile{}, age: list.New(),
	}
}

func (c *cache) has(k Key) bool { return c.tiles[k] != nil }

// touch makes the tile the latest used and gives it, or nil.
func (c *cache) touch(k Key) *tile {
	e := c.tiles[k]
	if e == nil {
		return nil
	}
	c.age.MoveToFront(e)
	return e.Value.(*tile)
}

// put adds a tile and evicts old ones down to the budget. The new tile stays
// even if it is larger than the budget by itself.
func (c *cache) put(k Key, img *image.RGBA) {
	if c.has(k) {
		c.recycle(img.Pix)
		return
	}
	t := &tile{key: k, img: img}
	c.tiles[k] = c.age.PushFront(t)
	c.byImage[img] = t
	c.used += int64(len(img.Pix))
	for c.used > c.budget && c.age.Len() > 1 {
		c.evict(c.age.Back())
	}
}

func (c *cache) evict(e *list.Element) {
	t := c.age.Remove(e).(*tile)
	delete(c.tiles, t.key)
	delete(c.byImage, t.img)
	c.used -= int64(len(t.img.Pix))
	c.evicted++
	if t.lent == 0 {
		c.recycle(t.img.Pix)
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
