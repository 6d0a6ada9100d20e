package main

import (
	"context"
	"errors"
	"image"
	"math"
	"os"
	"path/filepath"
	"time"

	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// The map area of a window of 1400 × 900.
const areaW, areaH = 1072, 676

// opened is a sheet on its way.
type opened struct {
	p     *pyramid.Pyramid
	ready chan struct{} // closed when there is a pyramid that shows something
	err   chan error    // the end of the opening
}

// open opens a picture as the bench does. It asks for a preview of an area of
// pixels, 0 for none.
func open(file, store string, side int) *opened {
	o := &opened{ready: make(chan struct{}), err: make(chan error, 1)}
	go func() { o.err <- o.run(file, store, side) }()
	return o
}

func (o *opened) run(file, store string, side int) (err error) {
	var opt pyramid.Options
	if store != "" {
		if opt.Store, err = pyramid.OpenStore(store, 0, pyramid.Owner{}); err != nil {
			return err
		}
	}
	begin := func(h scan.Header, key [32]byte) {
		opt.Key = key
		o.p = pyramid.NewPending(image.Pt(h.Width, h.Height), opt)
	}
	preview := func(v scan.Preview) {
		begin(v.Header, v.SHA256)
		o.p.Preview(v.Level, v.Image)
		close(o.ready)
	}
	if side == 0 {
		preview = nil
	}
	folder, name := os.DirFS(filepath.Dir(file)), filepath.Base(file)
	s, err := scan.Open(context.Background(), folder, name, scan.Options{
		Side: side, Preview: preview,
		Hash: func(sum [32]byte) { o.p.SetKey(sum, nil) },
	})
	if err != nil {
		return err
	}
	if o.p == nil {
		begin(s.Header, s.SHA256)
		defer close(o.ready)
	}
	mark, err := scan.Mark(folder, name)
	o.p.Fill(s.Image)
	if opt.Store != nil && err == nil {
		opt.Store.Note(mark, s.SHA256)
	}
	return err
}

// first waits for the tiles of the fitted view.
func first(o *opened) error {
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

// showFitted requests the tiles of the fitted view and waits for them. Their
// arrival wakes it: a sleeping program would notice them up to a millisecond late.
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
	came, late := make(chan struct{}, 1), time.After(time.Minute)
	wake := func() {
		select {
		case came <- struct{}{}:
		default:
		}
	}
	for p.Request(keys, wake) > 0 {
		select {
		case <-came:
		case <-time.After(50 * time.Millisecond): // tiles of a preview went with it
		case <-late:
			return errors.New("the tiles did not come within a minute")
		}
	}
	return nil
}

// levels waits until every level can be cut, and then until all are in the
// store.
func levels(o *opened, ready func()) error {
	if err := <-o.err; err != nil {
		return err
	}
	<-o.ready
	for st := o.p.Stats(); st.LevelsReady < st.Levels || st.LevelsTrial > 0; st = o.p.Stats() {
		time.Sleep(time.Millisecond)
	}
	ready()
	if err := o.p.WaitWhole(); err != nil {
		return err
	}
	if !o.p.Stats().Stored {
		return errors.New("the sheet did not get into the store")
	}
	return nil
}
