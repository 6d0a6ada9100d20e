package mapview

import (
	"container/list"
	"image"
	"math"
	"slices"
	"sync"

	"golang.org/x/image/math/f64"

	"legwright/canvas/pyramid"
)

const (
	// mostRotated is how many rotated tiles are kept in memory, 1 MiB each.
	mostRotated = 96
	// rotatedBytes is the size of one of them.
	rotatedBytes = 4 * pyramid.TileSize * pyramid.TileSize
	// turnWorkers is the number of goroutines that cut rotated tiles.
	turnWorkers = 2
	// finestTurned is the level of the strongest magnification that is cut:
	// a rotated pixel is drawn as a rotated square.
	finestTurned = -6
)

// rotatedTiles is the picture rotated about its corner: textures cannot turn, so
// tiles are cut in the rotated plane. It starts goroutines only while there is
// something to cut.
type rotatedTiles struct {
	p        *pyramid.Pyramid
	sin, cos float64

	mu      sync.Mutex
	tiles   map[pyramid.Key]*list.Element
	age     *list.List // of *cut, latest use in front
	spare   []*image.RGBA
	turns   int // grows when the picture changes
	queue   []pyramid.Key
	making  map[pyramid.Key]bool
	done    func()
	workers int
	waiting bool // for a level that is not ready
	closed  bool
}

type cut struct {
	key  pyramid.Key
	img  *image.RGBA
	lent int // how often handed out and not returned
}

func newRotatedTiles(p *pyramid.Pyramid, rot float64) *rotatedTiles {
	t := &rotatedTiles{p: p, tiles: map[pyramid.Key]*list.Element{}, age: list.New(), making: map[pyramid.Key]bool{}}
	t.sin, t.cos = math.Sincos(rot)
	return t
}

func (t *rotatedTiles) tile(k pyramid.Key) (*image.RGBA, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	e := t.tiles[k]
	if e == nil {
		return nil, false
	}
	t.age.MoveToFront(e)
	c := e.Value.(*cut)
	c.lent++
	return c.img, true
}

// release takes back one hand-out of a tile; one that was forgotten meanwhile
// is left to the garbage collector.
func (t *rotatedTiles) release(img *image.RGBA) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for e := t.age.Front(); e != nil; e = e.Next() {
		if c := e.Value.(*cut); c.img == img {
			c.lent--
			return
		}
	}
}

func (t *rotatedTiles) finest() int { return finestTurned }

// extent is the box around the rotated level.
func (t *rotatedTiles) extent(level int) image.Rectangle {
	sz := t.p.Size()
	w, h := math.Ldexp(float64(sz.X), -level), math.Ldexp(float64(sz.Y), -level)
	x0, x1 := span(w*t.cos, -h*t.sin)
	y0, y1 := span(w*t.sin, h*t.cos)
	return image.Rect(x0, y0, x1, y1)
}

// span is the range of tiles over 0, a, b and a+b.
func span(a, b float64) (from, to int) {
	lo, hi := min(a, 0)+min(b, 0), max(a, 0)+max(b, 0)
	return int(math.Floor(lo / pyramid.TileSize)), int(math.Ceil(hi / pyramid.TileSize))
}

// request replaces what is still to be cut.
func (t *rotatedTiles) request(keys []pyramid.Key, done func()) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.queue, t.done = t.queue[:0], done
	for _, k := range keys {
		if t.tiles[k] == nil && t.holds(k) {
			t.queue = append(t.queue, k)
		}
	}
	t.begin()
}

// begin starts the workers that the queue has work for, with mu held.
func (t *rotatedTiles) begin() {
	for ; t.workers < min(turnWorkers, len(t.queue)) && !t.closed; t.workers++ {
		go t.work()
	}
}

// holds says whether the tile can show a part of the picture: the box around
// its corners in picture space meets the picture.
func (t *rotatedTiles) holds(k pyramid.Key) bool {
	m := t.transform(k)
	sz := t.p.Size()
	x0, x1 := m[2], m[2]
	y0, y1 := m[5], m[5]
	for _, c := range [][2]float64{{512, 0}, {0, 512}, {512, 512}} {
		x, y := m[0]*c[0]+m[1]*c[1]+m[2], m[3]*c[0]+m[4]*c[1]+m[5]
		x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
	}
	return x1 > 0 && y1 > 0 && x0 < float64(sz.X) && y0 < float64(sz.Y)
}

// transform takes the tile's pixels to picture pixels: back by the turn, and
// up from the level.
func (t *rotatedTiles) transform(k pyramid.Key) f64.Aff3 {
	f := math.Ldexp(1, k.Level)
	u, v := float64(k.X)*pyramid.TileSize, float64(k.Y)*pyramid.TileSize
	return f64.Aff3{
		f * t.cos, f * t.sin, f * (t.cos*u + t.sin*v),
		-f * t.sin, f * t.cos, f * (t.cos*v - t.sin*u),
	}
}

// work cuts what is asked for until nothing is left that can be cut now. What
// is of a level that is not ready yet holds nothing else up.
func (t *rotatedTiles) work() {
	t.mu.Lock()
	defer t.mu.Unlock()
	for !t.closed {
		i := slices.IndexFunc(t.queue, func(k pyramid.Key) bool { return t.ready(k.Level) })
		if i < 0 {
			break
		}
		k := t.queue[i]
		t.queue = slices.Delete(t.queue, i, i+1)
		if t.tiles[k] == nil && !t.making[k] {
			t.makeOne(k)
		}
	}
	t.workers--
	if len(t.queue) > 0 && !t.waiting && !t.closed {
		t.waiting = true
		go t.await(t.queue[0].Level)
	}
}

// await goes on with the queue when a level has become ready.
func (t *rotatedTiles) await(level int) {
	err := t.p.Wait(max(level, 0))
	t.mu.Lock()
	defer t.mu.Unlock()
	t.waiting = false
	if err == nil {
		t.begin()
	}
}

// makeOne cuts and reports with the lock released.
func (t *rotatedTiles) makeOne(k pyramid.Key) {
	t.making[k] = true
	turn, buf := t.turns, t.buffer()
	t.mu.Unlock()
	img, ok := t.cut(k, buf)
	t.mu.Lock()
	delete(t.making, k)
	if ok && turn == t.turns { // else it is asked for again
		t.keep(k, img)
	}
	if done := t.done; done != nil && !t.closed {
		t.mu.Unlock()
		done()
		t.mu.Lock()
	}
}

// buffer gives pixels for a tile.
func (t *rotatedTiles) buffer() *image.RGBA {
	if n := len(t.spare) - 1; n >= 0 {
		b := t.spare[n]
		t.spare = t.spare[:n]
		return b
	}
	return image.NewRGBA(image.Rect(0, 0, pyramid.TileSize, pyramid.TileSize))
}

// cut makes one tile of a level that is ready.
func (t *rotatedTiles) cut(k pyramid.Key, img *image.RGBA) (*image.RGBA, bool) {
	filter := pyramid.Bilinear
	if k.Level < 0 {
		filter = pyramid.Nearest
	}
	return img, t.p.Region(img, t.transform(k), filter) == nil
}

// keep stores a tile within the pyramid's budget and forgets the oldest beyond
// the limit.
func (t *rotatedTiles) keep(k pyramid.Key, img *image.RGBA) {
	if t.tiles[k] != nil || t.closed {
		return
	}
	t.tiles[k] = t.age.PushFront(&cut{key: k, img: img})
	within := t.p.Reserve(rotatedBytes)
	for t.age.Len() > mostRotated || !within && t.age.Len() > 1 {
		t.forget(t.age.Back())
		within = true
	}
}

// forget lets a tile go; its pixels serve again unless somebody shows them.
func (t *rotatedTiles) forget(e *list.Element) {
	c := t.age.Remove(e).(*cut)
	if t.tiles[c.key] == e {
		delete(t.tiles, c.key)
	}
	t.p.Unreserve(rotatedBytes)
	if c.lent == 0 && len(t.spare) < turnWorkers {
		t.spare = append(t.spare, c.img)
	}
}

// change forgets the tiles of a level; those magnified belong to level 0.
func (t *rotatedTiles) change(level int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.turns++
	for k, e := range t.tiles {
		if max(k.Level, 0) == level {
			t.forget(e)
		}
	}
}

func (t *rotatedTiles) ready(level int) bool { return t.p.Ready(max(level, 0)) }

// near names nothing: rotated tiles are not the pyramid's.
func (t *rotatedTiles) near(int, image.Rectangle) {}

// cutNow makes the tiles of a coarse level at once, so that a turn never
// shows an empty sheet.
func (t *rotatedTiles) cutNow(level int) {
	all := t.extent(level)
	for y := all.Min.Y; y < all.Max.Y; y++ {
		for x := all.Min.X; x < all.Max.X; x++ {
			k := pyramid.Key{Level: level, X: x, Y: y}
			if !t.p.Ready(level) || !t.holds(k) {
				continue
			}
			t.mu.Lock()
			buf := t.buffer()
			t.mu.Unlock()
			if img, ok := t.cut(k, buf); ok {
				t.mu.Lock()
				t.keep(k, img)
				t.mu.Unlock()
			}
		}
	}
}

func (t *rotatedTiles) close() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.closed, t.queue, t.done = true, nil, nil
	for t.age.Len() > 0 {
		t.forget(t.age.Back())
	}
}
