package pyramid

import (
	"errors"
	"image"
	"math"
	"runtime"
	"sync"
)

const (
	// TileSize is the side of a full tile in pixels. Tiles at the right and
	// lower edge of a level are smaller.
	TileSize = 512
	// DefaultBudget is the memory for tiles in bytes unless Options say
	// otherwise.
	DefaultBudget = 256 << 20
	// coarsest is the longer side, in pixels, at which the chain of levels
	// may end.
	coarsest = 64
)

// ErrClosed is returned when the pyramid has been closed.
var ErrClosed = errors.New("picture is closed")

// Source is what a pyramid is made of: a decoded picture as shown. Any
// image.Image will do; Gray, YCbCr, RGBA, NRGBA and Paletted are read in
// place at full speed. It must not change while the pyramid is open.
type Source = image.Image

// Options tune a pyramid. The zero value is right for a window.
type Options struct {
	// Budget is the memory for tiles in bytes; 0 means DefaultBudget. The
	// levels are not counted, see Stats.
	Budget int64
	// Workers is the number of goroutines that make tiles; 0 means one for
	// each core, two at most.
	Workers int
	// OnLevel, if set, is called from a background goroutine each time a
	// level has become ready.
	OnLevel func(level int)
}

// Key names a tile: it covers the pixels [X·512, (X+1)·512) ×
// [Y·512, (Y+1)·512) of its level, as far as they exist.
type Key struct{ Level, X, Y int }

// Pyramid is a picture with its levels and its tiles in memory. All methods
// may be called from any goroutine.
type Pyramid struct {
	opt    Options
	size   image.Point
	sizes  []image.Point   // of each level
	ready  []chan struct{} // closed when the layer of the same index is set
	closed chan struct{}
	wg     sync.WaitGroup

	layerMu sync.RWMutex
	layers  []layer
	scratch sync.Pool // of *scratch, for Region

	mu    sync.Mutex
	wake  *sync.Cond // of mu: a wish, a level or the end has come
	cache cache
	wish  wishes
	count counters
	shut  bool
}

// New opens a pyramid over src and returns at once; level 0 is ready, the
// others follow in the background. Close it when done.
func New(src Source, opt Options) *Pyramid {
	if opt.Budget <= 0 {
		opt.Budget = DefaultBudget
	}
	if opt.Workers <= 0 {
		opt.Workers = min(2, runtime.GOMAXPROCS(0))
	}
	size := src.Bounds().Size()
	sizes := levelSizes(size)
	p := &Pyramid{
		opt: opt, size: size, sizes: sizes,
		ready:  make([]chan struct{}, len(sizes)),
		closed: make(chan struct{}),
		layers: make([]layer, len(sizes)),
		cache:  newCache(opt.Budget),
	}
	p.wake = sync.NewCond(&p.mu)
	for i := range p.ready {
		p.ready[i] = make(chan struct{})
	}
	p.layers[0] = newLayer(src)
	close(p.ready[0])
	p.wg.Add(1 + opt.Workers)
	go p.build()
	for range opt.Workers {
		go p.work()
	}
	return p
}

// levelSizes lists the size of every level, from the picture down.
func levelSizes(p image.Point) []image.Point {
	s := []image.Point{p}
	for max(p.X, p.Y) > coarsest {
		p = halfSize(p)
		s = append(s, p)
	}
	return s
}

// Size is the size of the picture in pixels.
func (p *Pyramid) Size() image.Point { return p.size }

// Levels is the number of levels, at least 1.
func (p *Pyramid) Levels() int { return len(p.sizes) }

// LevelSize is the size of a level in pixels, zero outside 0 … Levels()−1.
func (p *Pyramid) LevelSize(level int) image.Point {
	if level < 0 || level >= len(p.sizes) {
		return image.Point{}
	}
	return p.sizes[level]
}

// LevelFor is the level to draw at a scale given in physical screen pixels a
// picture pixel: the coarsest whose pixels are not magnified, so that it is
// reduced by less than 2 on its way to the screen. Scales of 1 and above give
// level 0; zero, negative and NaN scales give the coarsest level.
func (p *Pyramid) LevelFor(scale float64) int {
	if !(scale > 0) {
		return len(p.sizes) - 1
	}
	// The tolerance keeps 1/2ⁿ reached by arithmetic on level n.
	n := math.Floor(-math.Log2(scale) + 1e-9)
	return int(min(max(n, 0), float64(len(p.sizes)-1)))
}

// Ready says whether a level can be cut now.
func (p *Pyramid) Ready(level int) bool {
	if level < 0 || level >= len(p.ready) {
		return false
	}
	select {
	case <-p.ready[level]:
		return true
	default:
		return false
	}
}

// Wait blocks until the level is ready, or gives ErrClosed. A level that
// does not exist is a programmer's mistake and panics.
func (p *Pyramid) Wait(level int) error {
	select {
	case <-p.ready[level]:
		return nil
	case <-p.closed:
		return ErrClosed
	}
}

// layer gives a level's pixels, nil while it is not ready or after Close.
func (p *Pyramid) layer(level int) layer {
	p.layerMu.RLock()
	defer p.layerMu.RUnlock()
	return p.layers[level]
}

// Close stops all work, waits for it to end, which takes milliseconds, and
// lets go of picture, levels and tiles. Tiles already handed out stay valid.
// A second Close does nothing. It must not be called from OnLevel or from a
// done function.
func (p *Pyramid) Close() {
	p.mu.Lock()
	if p.shut {
		p.mu.Unlock()
		return
	}
	p.shut = true
	close(p.closed)
	p.wake.Broadcast()
	p.mu.Unlock()
	p.wg.Wait()
	p.layerMu.Lock()
	clear(p.layers)
	p.layerMu.Unlock()
	p.mu.Lock()
	p.cache = newCache(0)
	p.wish = wishes{}
	p.mu.Unlock()
}
