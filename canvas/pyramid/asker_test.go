package pyramid

import (
	"image"
	"sync/atomic"
	"testing"
)

// TestAskersStandApart: the request of one view leaves that of another alone, and a view
// that leaves takes back only its own.
func TestAskersStandApart(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(3000, 3000), Options{Workers: 1}))
	hold, entered := make(chan struct{}), make(chan struct{}, 1)
	p.Request([]Key{{1, 0, 0}}, func() { entered <- struct{}{}; <-hold })
	<-entered // the only worker is held up
	a, b, gone := p.Asker(), p.Asker(), p.Asker()
	var left atomic.Bool
	cameA, cameB := make(chan struct{}, 9), make(chan struct{}, 9)
	a.Request([]Key{{0, 0, 0}, {0, 1, 0}}, func() { cameA <- struct{}{} })
	gone.Request([]Key{{0, 4, 4}}, func() { left.Store(true) })
	b.Request([]Key{{0, 1, 0}, {0, 3, 3}}, func() { cameB <- struct{}{} })
	gone.Leave()
	close(hold)
	for _, k := range []Key{{0, 0, 0}, {0, 1, 0}, {0, 3, 3}} {
		for _, ok := p.Tile(k); !ok; _, ok = p.Tile(k) {
			select {
			case <-cameA:
			case <-cameB:
			}
		}
	}
	if _, ok := p.Tile(Key{0, 4, 4}); ok || left.Load() {
		t.Errorf("a view that left: its tile was made %v, reported to it %v", ok, left.Load())
	}
}

// TestNearAnyScreen: what lies near one of two screens stays, what lies far from both
// leaves first.
func TestNearAnyScreen(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(8000, 600), Options{Workers: 1, Budget: 4 * fullTile}))
	p.rawCache.clear()
	left, right := p.Asker(), p.Asker()
	left.Near(0, image.Rect(0, 0, 600, 500))
	right.Near(0, image.Rect(7300, 0, 8000, 500))
	for _, x := range []int{0, 14, 7, 1} { // 7 lies in the middle, far from both
		made := make(chan struct{}, 9)
		if left.Request([]Key{{0, x, 0}}, func() { made <- struct{}{} }) > 0 {
			<-made
		}
	}
	p.Reserve(fullTile)
	for x, want := range map[int]bool{0: true, 1: true, 14: true, 7: false} {
		if _, ok := p.Tile(Key{0, x, 0}); ok != want {
			t.Errorf("tile %d is in memory: %v, want %v", x, ok, want)
		}
	}
	right.Leave()
	if n := len(p.cache.nears); n != 2 { // left's and the pyramid's own
		t.Errorf("%d screens are remembered, want 2", n)
	}
}
