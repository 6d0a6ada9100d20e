package pyramid

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// bandRows is the number of rows a goroutine fills before it looks whether
// the pyramid was closed: at most a few milliseconds of work.
const bandRows = 32

// build makes the levels one after the other, finest first, since each is
// made from the one before.
func (p *Pyramid) build() {
	defer p.wg.Done()
	for n := 1; n < len(p.sizes); n++ {
		next, fill := p.layers[n-1].half()
		if !p.fillAll(p.sizes[n].Y, fill) {
			return
		}
		p.layerMu.Lock()
		p.layers[n] = next
		p.layerMu.Unlock()
		p.mu.Lock()
		close(p.ready[n])
		p.wake.Broadcast()
		p.mu.Unlock()
		if p.opt.OnLevel != nil {
			p.opt.OnLevel(n)
		}
	}
}

// fillAll runs fill over all rows on up to two goroutines. It gives false if
// the pyramid was closed meanwhile.
func (p *Pyramid) fillAll(rows int, fill func(y0, y1 int)) bool {
	var next atomic.Int64
	run := func() {
		for !p.isClosed() {
			y := int(next.Add(bandRows)) - bandRows
			if y >= rows {
				return
			}
			fill(y, min(y+bandRows, rows))
		}
	}
	var wg sync.WaitGroup
	if rows > bandRows && runtime.GOMAXPROCS(0) > 1 {
		wg.Go(run)
	}
	run()
	wg.Wait()
	return !p.isClosed()
}

func (p *Pyramid) isClosed() bool {
	select {
	case <-p.closed:
		return true
	default:
		return false
	}
}
