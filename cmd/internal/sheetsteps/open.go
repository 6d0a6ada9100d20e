package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"legwright/canvas/pyramid"
	"legwright/cmd/internal/memory"
	"legwright/mapio/scan"
)

// The map area of a window of 1400 × 900.
const areaW, areaH = 1072, 676

// errLate is returned when tiles did not come in time.
var errLate = errors.New("the tiles did not come within a minute")

// opened is a sheet on its way.
type opened struct {
	p     *pyramid.Pyramid
	ready chan struct{} // closed when there is a pyramid that shows something
	err   chan error    // the end of the opening
}

// open does what the bench does with a picture's path.
func open(ctx context.Context, file, store string) *opened {
	o := &opened{ready: make(chan struct{}), err: make(chan error, 1)}
	var opt pyramid.Options
	if store != "" {
		s, err := pyramid.OpenStore(store, 0, pyramid.Owner{})
		if err != nil {
			o.err <- err
			return o
		}
		opt.Store = s
	}
	begin := func(h scan.Header, key [32]byte) {
		opt.Key = key
		o.p = pyramid.NewPending(image.Pt(h.Width, h.Height), opt)
	}
	go func() {
		s, err := scan.Open(ctx, os.DirFS(filepath.Dir(file)), filepath.Base(file), scan.Options{
			Side: max(areaW, areaH),
			Preview: func(v scan.Preview) {
				begin(v.Header, v.SHA256)
				o.p.Preview(v.Level, v.Image)
				close(o.ready)
			},
			Hash: func(sum [32]byte) { o.p.SetKey(sum, nil) },
		})
		if err != nil {
			o.err <- err
			return
		}
		if o.p == nil {
			begin(s.Header, s.SHA256)
			defer close(o.ready)
		}
		mark, err := scan.Mark(os.DirFS(filepath.Dir(file)), filepath.Base(file))
		o.p.Fill(s.Image)
		if opt.Store != nil && err == nil {
			opt.Store.Note(mark, s.SHA256)
		}
		o.err <- err
	}()
	return o
}

// first waits for the tiles of the fitted view.
func first(ctx context.Context, file, store string) error {
	o := open(ctx, file, store)
	select {
	case <-o.ready:
	case err := <-o.err:
		if err != nil {
			return err
		}
		<-o.ready
	}
	return showFitted(o.p)
}

// showFitted asks for the tiles that the fitted view shows, until they are
// there.
func showFitted(p *pyramid.Pyramid) error {
	size := p.Size()
	level := p.LevelFor(math.Min(areaW/float64(size.X), areaH/float64(size.Y)))
	if err := p.Wait(level); err != nil {
		return err
	}
	var keys []pyramid.Key
	at := p.LevelSize(level)
	for y := 0; y*pyramid.TileSize < at.Y; y++ {
		for x := 0; x*pyramid.TileSize < at.X; x++ {
			keys = append(keys, pyramid.Key{Level: level, X: x, Y: y})
		}
	}
	return fetch(p, keys)
}

// fetch waits until all the tiles are there. It is woken by their coming: a
// sleeping program would find them up to a millisecond late.
func fetch(p *pyramid.Pyramid, keys []pyramid.Key) error {
	came := make(chan struct{}, 1)
	late := time.After(time.Minute)
	p.Request(keys, func() {
		select {
		case came <- struct{}{}:
		default:
		}
	})
	for {
		there := true
		for _, k := range keys {
			_, ok := p.Tile(k)
			there = there && ok
		}
		if there {
			return nil
		}
		select {
		case <-came:
		case <-late:
			return errLate
		}
	}
}

// levels waits until every level is in the store, or in memory where there is
// none.
func levels(ctx context.Context, file, store string, began time.Time) (r result, err error) {
	o := open(ctx, file, store)
	if err := <-o.err; err != nil {
		return r, err
	}
	<-o.ready
	for st := o.p.Stats(); st.LevelsReady < st.Levels || st.LevelsTrial > 0; st = o.p.Stats() {
		time.Sleep(time.Millisecond)
	}
	r.ReadySeconds = time.Since(began).Seconds()
	if err := o.p.WaitWhole(); err != nil {
		return r, err
	}
	r.Seconds, r.PeakMB = time.Since(began).Seconds(), memory.PeakMB()
	if st := o.p.Stats(); store != "" && !st.Stored {
		return r, errors.New("the sheet did not get into the store")
	}
	r.EndSlowestMs, err = slowest(o.p)
	return r, err
}

// slowest asks for tiles all over the sheet, one by one, and gives what the
// slowest took in milliseconds.
func slowest(p *pyramid.Pyramid) (float64, error) {
	dice := rand.New(rand.NewPCG(1, 2))
	var most time.Duration
	for range 200 {
		k := pyramid.Key{Level: dice.IntN(p.Levels())}
		size := p.LevelSize(k.Level)
		k.X, k.Y = dice.IntN((size.X+pyramid.TileSize-1)/pyramid.TileSize), dice.IntN((size.Y+pyramid.TileSize-1)/pyramid.TileSize)
		began := time.Now()
		if err := fetch(p, []pyramid.Key{k}); err != nil {
			return 0, fmt.Errorf("tile %v: %w", k, err)
		}
		most = max(most, time.Since(began))
	}
	return most.Seconds() * 1000, nil
}

// reopen shows a sheet that the store knows.
func reopen(file, store string) error {
	s, err := pyramid.OpenStore(store, 0, pyramid.Owner{})
	if err != nil {
		return err
	}
	mark, err := scan.Mark(os.DirFS(filepath.Dir(file)), filepath.Base(file))
	if err != nil {
		return err
	}
	key, _, ok := s.Find(mark)
	if !ok {
		return errors.New("the store does not know the sheet")
	}
	p, err := s.Open(key, pyramid.Options{})
	if err != nil {
		return err
	}
	return showFitted(p)
}
