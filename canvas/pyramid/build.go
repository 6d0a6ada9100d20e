package pyramid

import (
	"errors"
	"fmt"
	"runtime/debug"
	"time"
)

// ErrSize is given to OnFault when a picture has another size than the
// pyramid was opened for.
var ErrSize = errors.New("the picture's size differs from its header")

// Fill gives the pyramid its picture. Levels 0, 1 and 2 are ready at once,
// the others follow. With a store the levels go to disk meanwhile, and then
// the picture and the larger levels leave the memory. Only the first Fill counts,
// save after a fault of the store that Reload could not mend. A picture of
// another size is refused through OnFault.
func (p *Pyramid) Fill(src Source) {
	if got := src.Bounds().Size(); got != p.size {
		p.fault(fmt.Errorf("%w: it is %v, not %v", ErrSize, got, p.size))
		return
	}
	p.mu.Lock()
	if p.shut || p.stage != pending {
		p.mu.Unlock()
		return
	}
	p.stage = building
	p.wg.Add(1)
	p.mu.Unlock()
	go func() {
		defer p.wg.Done()
		p.build(newLayer(src))
		if p.size.X*p.size.Y >= worthFreeing {
			freeMemory()
		}
	}()
}

// fault reports without holding up.
func (p *Pyramid) fault(err error) {
	if p.opt.OnFault != nil {
		p.opt.OnFault(err)
	}
}

// build makes the levels of a picture.
func (p *Pyramid) build(src layer) {
	m := newMaker(src, p.sizes)
	p.setLayer(0, src, false)
	for n := 1; n < min(finestKept, len(p.sizes)); n++ {
		p.setLayer(n, p.onDemand(m, n), false)
	}
	switch err := p.buildStored(src); {
	case err == nil:
	case errors.Is(err, errStopped):
		return
	default:
		if !errors.Is(err, errNoStore) {
			p.fault(err)
		}
		if p.buildKept(src, finestInMemory) != nil {
			return
		}
	}
	p.finish()
}

// finish says that nothing is left to be built.
func (p *Pyramid) finish() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.stage == building { // a fault may have been quicker
		p.stage = whole
		close(p.settled)
	}
}

// finestInMemory is the first level that is kept where there is no store:
// level 1 alone is made when wanted.
const finestInMemory = 2

// buildKept makes the levels from keep on, in memory.
func (p *Pyramid) buildKept(src layer, keep int) error {
	b := newPass(p.sizes, src, 0, keep, nil, p.isClosed)
	if err := b.run(); err != nil {
		return err
	}
	p.install(b)
	return nil
}

// install takes over the levels that a pass has kept, coarsest first.
func (p *Pyramid) install(b *pass) {
	for n := len(p.sizes) - 1; n >= max(b.keep, b.base+1); n-- {
		p.setLayer(n, b.kept(n), false)
	}
}

var errNoStore = errors.New("there is no store for pictures")

// freeMemory returns unused memory to the system, a moment later: the
// caller discards the picture at about the same time.
func freeMemory() { time.AfterFunc(freeAfter, debug.FreeOSMemory) }

const (
	freeAfter = 100 * time.Millisecond
	// worthFreeing is the number of pixels from which it pays.
	worthFreeing = 8 << 20
)
