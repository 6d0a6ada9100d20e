package calib

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"legwright/app/geodesy"
)

// A covariance is the same whether its points were asked for before, others took their
// place since, or several goroutines ask at once.
func TestKeptReachesChangeNothing(t *testing.T) {
	t.Parallel()
	m := truth{mpp: 2.5, turnDeg: 3, origin: geodesy.Grid{E: 200000, N: 700000}}
	c := mustFit(t, m.points(PicturePt{100, 100}, PicturePt{1900, 120}, PicturePt{1880, 1870}, PicturePt{130, 1900}, PicturePt{1000, 950}), Options{})
	rng := rand.New(rand.NewPCG(5, 1))
	var points []PicturePt
	for range 3 * len(reaches{}) {
		points = append(points, PicturePt{2000 * rng.Float64(), math.Round(2000 * rng.Float64())})
	}
	var all sync.WaitGroup
	for range 3 {
		all.Go(func() {
			for i, p := range points {
				q := points[(i+1)%len(points)]
				want := *c
				want.reaches = nil
				if got := c.Joint(p, q, 0.5, 0.5); got != want.Joint(p, q, 0.5, 0.5) {
					t.Errorf("%v and %v: got %v, want %v", p, q, got, want.Joint(p, q, 0.5, 0.5))
				}
			}
		})
	}
	all.Wait()
	kept := 0
	for i := range c.reaches {
		if c.reaches[i].Load() != nil {
			kept++
		}
	}
	if kept < len(reaches{})/2 {
		t.Errorf("%d points of %d are kept: they are spread badly", kept, len(points))
	}
}
