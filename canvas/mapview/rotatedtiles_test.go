package mapview

import (
	"image"
	"testing"
	"time"

	"legwright/canvas/pyramid"
)

// TestTurnedWaitsBesideItsWork: tiles of a level that is not ready hold up
// none of one that is, and come once their level is there.
func TestTurnedWaitsBesideItsWork(t *testing.T) {
	t.Parallel()
	size := image.Pt(2400, 1600)
	p := pyramid.NewPending(size, pyramid.Options{})
	defer p.Close()
	p.Preview(2, image.NewGray(image.Rect(0, 0, 600, 400)))
	set := newRotatedTiles(p, 0.2)
	came := make(chan struct{}, 100)
	done := func() { came <- struct{}{} }
	wait := func(k pyramid.Key) {
		t.Helper()
		for {
			if img, ok := set.tile(k); ok {
				set.release(img)
				return
			}
			select {
			case <-came:
			case <-time.After(patience):
				t.Fatalf("tile %v does not come", k)
			}
		}
	}
	var fine []pyramid.Key
	for x := range 4 {
		fine = append(fine, pyramid.Key{X: x, Y: 1})
	}
	set.request(fine, done)
	coarse := pyramid.Key{Level: 2}
	set.request(append(fine, coarse), done)
	wait(coarse)
	p.Fill(image.NewGray(image.Rectangle{Max: size}))
	for _, k := range fine {
		wait(k)
	}
}
