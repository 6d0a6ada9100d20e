package pyramid

import (
	"context"
	"errors"
	"image"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

const (
	// TileSize is the side of a full tile in pixels. Tiles at the right and
	// lower edge of a level are smaller.
	TileSize = 512
	// DefaultBudget is the memory for tiles in bytes unless Options say
	// otherwise.
	DefaultBudget = 256_000_000
	// coarsest is the longer side, in pixels, at which the chain of levels
	// may end.
	coarsest = 64
	// maxRawCache bounds the memory for raw tiles that serve turned regions.
	maxRawCache = 32 << 20
)

// ErrClosed is returned when the pyramid has been closed.
var ErrClosed = errors.New("the picture is closed")

// Source is what a pyramid is made of: a decoded picture as shown. Any
// image.Image will do; Gray, YCbCr, RGBA, NRGBA and Paletted are read in
// place at full speed. It must not change while the pyramid is open.
type Source = image.Image

// Options tune a pyramid. The zero value is right for a small picture in a
// window.
type Options struct {
	// Budget is the memory in bytes for tiles, for what is read from disk to
	// make them, and for what is reserved; 0 means DefaultBudget. The picture
	// and its levels are not counted, see Stats.
	Budget int64
	// Workers is the number of goroutines that make tiles; 0 means one for
	// each core, two at most.
	Workers int
	// OnChange, if set, is called when a level looks otherwise than before:
	// its tiles are gone from memory, and those in hand are out of date. It
	// comes from a background goroutine, or from within SetLook.
	OnChange func(level int)

	// Store, if set, keeps the levels on disk, and the picture is discarded
	// once they are there. Key names the picture in it, by the hash of its
	// file; the zero key means no store.
	Store *Store
	Key   [32]byte
	// Reload, if set, reads the picture again when the store is found damaged.
	// It must give the picture that belongs to Key or an error: the pyramid
	// cannot tell one picture from another. Its context ends with Close. It
	// runs in a goroutine of its own.
	Reload func(context.Context) (Source, error)
	// OnFault, if set, is called from a background goroutine with what went
	// wrong with the store or the reading again; the pyramid goes on without.
	OnFault func(error)
}

// Key names a tile: it covers the pixels [X·512, (X+1)·512) ×
// [Y·512, (Y+1)·512) of its level, as far as they exist.
type Key struct{ Level, X, Y int }

// Pyramid is a picture with its levels and its tiles in memory. All methods
// may be called from any goroutine.
type Pyramid struct {
	opt    Options
	size   image.Point
	sizes  []image.Point // of each level
	closed chan struct{}
	ctx    context.Context // ends with Close
	cancel context.CancelFunc
	wg     sync.WaitGroup

	layerMu  sync.RWMutex // may be taken while mu is held, not the other way
	levels   []level
	look     atomic.Pointer[look]
	rawCache *rawCache
	scratch  sync.Pool // of *scratch, for Region

	mu      sync.Mutex
	wake    *sync.Cond // of mu: a wish, a level or the end has come
	cache   cache
	askers  []*Asker
	own     *Asker // of Request and Near
	turn    int    // which asker a tile is made for next
	making  map[Key]bool
	count   counters
	stage   stage
	settled chan struct{} // closed when nothing is left to be built
	file    *sheetFile    // the stored picture in use, or nil
	faults  int           // how often it is found damaged
	shut    bool
}

// stage is how far a pyramid has come.
type stage int

const (
	pending  stage = iota // waits for the picture
	building              // has the picture
	whole                 // has all its levels
)

// New opens a pyramid over src and returns at once. Tiles of all levels
// follow in the background. Close it when done. It is NewPending and Fill.
func New(src Source, opt Options) *Pyramid {
	p := NewPending(src.Bounds().Size(), opt)
	p.Fill(src)
	return p
}

// NewPending opens a pyramid over a picture of which only the size in pixels
// is known. No level is ready until Preview or Fill is called. Close it when
// done.
func NewPending(size image.Point, opt Options) *Pyramid {
	if opt.Budget <= 0 {
		opt.Budget = DefaultBudget
	}
	if opt.Workers <= 0 {
		opt.Workers = min(2, runtime.GOMAXPROCS(0))
	}
	sizes := levelSizes(size)
	p := &Pyramid{
		opt: opt, size: size, sizes: sizes,
		closed: make(chan struct{}), settled: make(chan struct{}),
		levels:   make([]level, len(sizes)),
		cache:    newCache(opt.Budget),
		rawCache: newRawCache(min(opt.Budget/8, maxRawCache)),
	}
	p.ctx, p.cancel = context.WithCancel(context.Background())
	p.wake = sync.NewCond(&p.mu)
	p.making = map[Key]bool{}
	p.own = p.Asker()
	for i := range p.levels {
		p.levels[i].ready = make(chan struct{})
	}
	p.wg.Add(opt.Workers)
	for range opt.Workers {
		go p.work()
	}
	return p
}

// SetKey names the picture in the store, and says how it is read again, where
// neither was known when the pyramid was opened: see Options.Key and Reload.
// It must come before Fill.
func (p *Pyramid) SetKey(key [32]byte, reload func(context.Context) (Source, error)) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.opt.Key, p.opt.Reload = key, reload
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

// Close stops all work, waits for it to end, which takes milliseconds, and
// discards picture, levels, tiles and the store's file. Tiles already handed
// out stay valid. A second Close does nothing. It must not be called from
// OnChange, OnFault or from a done function.
func (p *Pyramid) Close() {
	p.mu.Lock()
	if p.shut {
		p.mu.Unlock()
		return
	}
	p.shut = true
	close(p.closed)
	p.cancel()
	p.wake.Broadcast()
	p.mu.Unlock()
	p.wg.Wait()
	p.layerMu.Lock()
	for i := range p.levels {
		p.levels[i].layer = nil
	}
	p.layerMu.Unlock()
	p.rawCache.clear()
	p.closeFile()
	p.mu.Lock()
	p.cache = newCache(0)
	for _, a := range p.askers {
		a.wish = wishes{}
	}
	p.mu.Unlock()
}

func (p *Pyramid) isClosed() bool {
	select {
	case <-p.closed:
		return true
	default:
		return false
	}
}
