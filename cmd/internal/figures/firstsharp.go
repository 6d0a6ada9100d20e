package figures

import (
	"bytes"
	"context"
	"errors"
	"math"
	"runtime/debug"
	"time"

	"github.com/gen2brain/jpegn"

	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// The map area of a window of 1400 × 900.
const areaW, areaH = 1072, 676

// FirstSharp compares the way from the bytes of a JPEG to every tile that the
// fitted sheet shows in the window with a bare decode of the same bytes by
// the same decoder.
func FirstSharp(ctx context.Context, jpeg []byte) (Figure, error) {
	var own, bare []float64
	for range 2 * rounds {
		debug.FreeOSMemory() // both begin with memory that is not mapped yet
		s, err := firstSharp(ctx, jpeg)
		if err != nil {
			return Figure{}, err
		}
		own = append(own, s)
		debug.FreeOSMemory() // both begin with memory that is not mapped yet
		began := time.Now()
		if _, err := jpegn.Decode(bytes.NewReader(jpeg)); err != nil {
			return Figure{}, err
		}
		bare = append(bare, time.Since(began).Seconds())
	}
	return Against("first_sharp_demo", Median(own), Median(bare), "s", 1.1), nil
}

// firstSharp opens the picture as the bench does and waits until the tiles of
// the fitted view are there.
func firstSharp(ctx context.Context, jpeg []byte) (seconds float64, err error) {
	began := time.Now()
	sheet, err := scan.OpenBytes(ctx, "demo.jpg", jpeg, scan.Options{})
	if err != nil {
		return 0, err
	}
	p := pyramid.New(sheet.Image, pyramid.Options{})
	defer p.Close()
	size := p.Size()
	scale := math.Min(areaW/float64(size.X), areaH/float64(size.Y))
	level := p.LevelFor(scale)
	if err := p.Wait(level); err != nil {
		return 0, err
	}
	keys := tilesOf(p, level)
	p.Request(keys, nil)
	for until := time.Now().Add(20 * time.Second); !allThere(p, keys); time.Sleep(200 * time.Microsecond) {
		if time.Now().After(until) {
			return 0, errors.New("the tiles of the first picture did not come")
		}
	}
	return time.Since(began).Seconds(), nil
}

func tilesOf(p *pyramid.Pyramid, level int) []pyramid.Key {
	size := p.LevelSize(level)
	var keys []pyramid.Key
	for y := 0; y*pyramid.TileSize < size.Y; y++ {
		for x := 0; x*pyramid.TileSize < size.X; x++ {
			keys = append(keys, pyramid.Key{Level: level, X: x, Y: y})
		}
	}
	return keys
}

func allThere(p *pyramid.Pyramid, keys []pyramid.Key) bool {
	for _, k := range keys {
		if _, ok := p.Tile(k); !ok {
			return false
		}
	}
	return true
}
