package pyramid

import (
	"errors"
	"image"
	"runtime"
	"sync"
	"sync/atomic"
)

// errStopped ends a pass over a picture that is no longer wanted.
var errStopped = errors.New("stopped")

// sink takes the raw tiles of a pass, from up to two goroutines, and does not
// keep them.
type sink interface {
	put(k Key, s *rawTile) error
}

// pass makes all coarser levels from one, the base, in a single run from top
// to bottom. Of every level it holds the one row of tiles that is being
// filled; a row that is full goes to the sink and, at half the size, into the
// row of the next level. Two goroutines share each row.
type pass struct {
	sizes []image.Point
	kinds []kind
	lut   *palette
	src   layer // the picture at level base
	base  int
	keep  int  // levels from this one on are kept in grid
	sink  sink // or nil
	stop  func() bool
	rows  [][]*rawTile // of each level: the row in the making
	grid  [][]*rawTile // of each level kept
	room  [2]passRoom
	flow  *flow // where the picture is still on its way, else nil
}

// passRoom is what one goroutine of a pass needs.
type passRoom struct{ tile, wide *rawTile }

// newPass prepares a pass over src, which is level base of a picture whose
// levels have the sizes given.
func newPass(sizes []image.Point, src layer, base, keep int, to sink, stop func() bool) *pass {
	k := src.kind()
	p := &pass{
		sizes: sizes, src: src, base: base, keep: keep, sink: to, stop: stop, lut: lutOf(src),
		kinds: make([]kind, len(sizes)),
		rows:  make([][]*rawTile, len(sizes)), grid: make([][]*rawTile, len(sizes)),
	}
	copy(p.kinds[base:], k.kinds(len(sizes)-base))
	p.rows[base] = make([]*rawTile, span(sizes[base].X))
	for i := range p.room {
		p.room[i] = passRoom{newRawTile(largestRawTile(p.kinds[base : base+1])), newRawTile(0)}
	}
	return p
}

// run makes the levels. It gives errStopped if stop said so, or the first
// error of the sink.
func (p *pass) run() error {
	for y := range span(p.sizes[p.base].Y) {
		if err := p.flow.await(y); err != nil {
			return err
		}
		if err := p.row(p.base, y); err != nil {
			return err
		}
		p.flow.release(y)
	}
	return nil
}

// row ends row y of level n and begins or goes on with that of level n+1.
func (p *pass) row(n, y int) error {
	if n+1 < len(p.sizes) && y%2 == 0 {
		p.begin(n+1, y/2)
	}
	if err := p.share(span(p.sizes[n].X), func(x int, room *passRoom) error {
		return p.one(Key{n, x, y}, room)
	}); err != nil {
		return err
	}
	if n >= p.keep {
		p.grid[n] = append(p.grid[n], p.rows[n]...)
		if n > p.base {
			p.rows[n] = nil
		}
	}
	if n+1 < len(p.sizes) && (y%2 == 1 || y == span(p.sizes[n].Y)-1) {
		return p.row(n+1, y/2)
	}
	return nil
}

// begin makes room for row y of level n.
func (p *pass) begin(n, y int) {
	if p.rows[n] == nil {
		p.rows[n] = make([]*rawTile, span(p.sizes[n].X))
	}
	for x := range p.rows[n] {
		r := rawTileRect(p.sizes[n], x, y)
		if p.rows[n][x] == nil {
			p.rows[n][x] = newRawTile(p.kinds[n].bytes(r.Size()))
		}
		p.rows[n][x].shape(p.kinds[n], r.Size(), nil)
	}
}

// one hands on a tile that is full.
func (p *pass) one(k Key, room *passRoom) error {
	if p.stop() {
		return errStopped
	}
	s, err := p.full(k, room)
	if err != nil {
		return err
	}
	if p.sink != nil {
		if err := p.sink.put(k, s); err != nil {
			return err
		}
	}
	if k.Level+1 < len(p.sizes) {
		s.shrink(p.rows[k.Level+1][k.X/2], quadrant(k.X, k.Y), room.wide)
	}
	return nil
}

// quadrant is where a tile's half lies in its parent.
func quadrant(x, y int) image.Point {
	return image.Pt(x%2, y%2).Mul(TileSize / 2)
}

func (p *pass) full(k Key, room *passRoom) (*rawTile, error) {
	if k.Level > p.base {
		return p.rows[k.Level][k.X], nil
	}
	r := rawTileRect(p.sizes[k.Level], k.X, k.Y)
	s := room.tile
	if p.keep <= p.base {
		s = newRawTile(p.kinds[k.Level].bytes(r.Size()))
		p.rows[k.Level][k.X] = s
	}
	s.shape(p.kinds[k.Level], r.Size(), p.lut)
	return s, s.load(p.src, r)
}

// share runs do for 0 … n−1 on up to two goroutines and gives the first error.
func (p *pass) share(n int, do func(x int, room *passRoom) error) error {
	var next atomic.Int64
	var errs [2]error
	run := func(g int) {
		for x := int(next.Add(1)) - 1; x < n && errs[g] == nil; x = int(next.Add(1)) - 1 {
			errs[g] = do(x, &p.room[g])
		}
	}
	func() {
		var wg sync.WaitGroup
		defer wg.Wait() // also where one breaks down: the picture's memory may go then
		if n > 1 && runtime.GOMAXPROCS(0) > 1 {
			wg.Go(func() { run(1) })
		}
		run(0)
	}()
	if errs[0] != nil {
		return errs[0]
	}
	return errs[1]
}

// kept gives a level that was kept, as a layer.
func (p *pass) kept(n int) *tiled {
	return &tiled{sz: p.sizes[n], form: p.kinds[n], grid: p.grid[n]}
}
