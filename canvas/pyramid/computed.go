package pyramid

import (
	"image"
	"sync"
)

// finestKept is the level from which on levels are kept in memory while the
// picture is; the finer ones are few steps from the picture, and their raw tiles
// are made when they are wanted (level 1 about 1 ms, level 2 about 4 ms).
const finestKept = 3

// maker makes single raw tiles of the first levels straight from the picture.
type maker struct {
	src   layer
	sizes []image.Point
	kinds []kind
	lut   *palette
	room  sync.Pool // of *passRoom
}

func newMaker(src layer, sizes []image.Point) *maker {
	m := &maker{src: src, sizes: sizes, kinds: src.kind().kinds(len(sizes)), lut: lutOf(src)}
	m.room.New = func() any { return &passRoom{newRawTile(0), newRawTile(0)} }
	return m
}

// make fills dst with the raw tile k.
func (m *maker) make(dst *rawTile, k Key) error {
	r := rawTileRect(m.sizes[k.Level], k.X, k.Y)
	dst.shape(m.kinds[k.Level], r.Size(), m.lut)
	if k.Level == 0 {
		return dst.load(m.src, r)
	}
	room := m.room.Get().(*passRoom)
	defer m.room.Put(room)
	below := m.sizes[k.Level-1]
	for y := 2 * k.Y; y < min(2*k.Y+2, span(below.Y)); y++ {
		for x := 2 * k.X; x < min(2*k.X+2, span(below.X)); x++ {
			if err := m.make(room.tile, Key{k.Level - 1, x, y}); err != nil {
				return err
			}
			room.tile.shrink(dst, quadrant(x, y), room.wide)
		}
	}
	return nil
}
