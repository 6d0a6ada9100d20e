package paper

import (
	"context"
	"runtime"
	"sync"
)

// mostAhead bounds how many pictures are drawn at a time: one of A4 takes 35 MB.
const mostAhead = 4

// made is the picture of a tile, or why there is none.
type made struct {
	placed
	err error
}

// pictures draws the pictures of all maps, some at a time, for boxes of the size of box.
// next waits for the i-th, to be called once for each in order. stop, to be called last,
// ends what is still being drawn and waits for that.
func (l *CutPages) pictures(ctx context.Context, box Rect) (next func(i int) made, stop func()) {
	ctx, cancel := context.WithCancel(ctx)
	at, jobs, done := l.area(box), make(chan int), make([]chan made, len(l.tiles))
	cut := l.cut
	atATime := max(1, min(mostAhead, len(l.tiles), runtime.GOMAXPROCS(0)))
	if cut.Sheet.Workers == 0 {
		cut.Sheet.Workers = max(1, runtime.GOMAXPROCS(0)/atATime)
	}
	for i := range done {
		done[i] = make(chan made, 1)
	}
	var wait sync.WaitGroup
	for range atATime {
		wait.Go(func() {
			var on canvas
			for i := range jobs {
				p, err := cut.picture(ctx, l.tiles[i], at, &on)
				done[i] <- made{p, err}
			}
		})
	}
	wait.Go(func() {
		defer close(jobs)
		for i := range done {
			select {
			case jobs <- i:
			case <-ctx.Done():
				return
			}
		}
	})
	next = func(i int) made {
		select {
		case m := <-done[i]:
			return m
		case <-ctx.Done():
			return made{err: context.Cause(ctx)}
		}
	}
	return next, func() { cancel(); wait.Wait() }
}
