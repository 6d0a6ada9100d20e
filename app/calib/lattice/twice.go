package lattice

import (
	"runtime"
	"sync"
)

// twice runs work in as many parts as there are processors, two at most, and
// waits for them.
func twice(work func(part, parts int)) {
	parts := min(2, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for part := 1; part < parts; part++ {
		wg.Go(func() { work(part, parts) })
	}
	work(0, parts)
	wg.Wait()
}
