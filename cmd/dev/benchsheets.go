package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"legwright/assets/demo"
	"legwright/cmd/internal/benchsheet"
)

// sheetGroups are the figures of opening sheets, each step in a process of its
// own, as a person waits for it.
func sheetGroups() []group {
	// The whole scan decoded and shown, against a bare decode.
	list := []group{one(atMost("first_sharp_demo", "s", 1.1), func(ctx context.Context, m *measuring) []float64 {
		file := m.demoScan()
		return m.inTurn(10, m.step(ctx, nil, "whole", file), m.step(ctx, nil, "bare", file))
	})}
	for _, megapixels := range []int{192, 300} {
		n := fmt.Sprint("_", megapixels)
		first := func(ctx context.Context, m *measuring, k benchsheet.Kind) (string, job) {
			file := m.sheet(ctx, megapixels, k)
			return file, m.step(ctx, nil, "first", file)
		}
		list = append(list,
			// Against the decoder's own decode at an eighth. It refuses more than 268
			// megapixels, so it is given 192, and its time is taken in proportion.
			one(atMost("first_sharp_jpeg"+n, "s", 1.1), func(ctx context.Context, m *measuring) []float64 {
				_, own := first(ctx, m, benchsheet.JPEG)
				s := m.inTurn(5, own, m.step(ctx, nil, "eighth", m.sheet(ctx, 192, benchsheet.JPEG)))
				if s != nil {
					s[1] *= float64(megapixels) / 192
				}
				return s
			}),
			// The whole process against vipsthumbnail to the size of the fitted sheet.
			one(atMost("first_sharp_jpeg"+n+"_vips", "s", 1), func(ctx context.Context, m *measuring) []float64 {
				file, thumb := m.sheet(ctx, megapixels, benchsheet.JPEG), filepath.Join(m.dir, "thumb.png")
				return m.inTurn(5, command(ctx, m.program(ctx, stepsProgram), "first", file),
					command(ctx, "vipsthumbnail", file, "-s", "1072x676", "-o", thumb))
			}),
			one(atMost("first_sharp_png"+n, "s", 1.15), func(ctx context.Context, m *measuring) []float64 {
				file, own := first(ctx, m, benchsheet.PNG)
				return m.inTurn(2, own, m.step(ctx, nil, "bare", file))
			}),
			one(atMost("first_sharp_tiff"+n, "s", 0.25), func(ctx context.Context, m *measuring) []float64 {
				_, own := first(ctx, m, benchsheet.TIFF)
				return m.inTurn(5, own)
			}),
			group{
				figures: []figure{
					atMost("levels_stored_jpeg"+n, "s", 1.2), atMost("levels_ready_jpeg"+n, "s", 1.2),
					atMost("reopen_jpeg"+n, "s", 0.2), atMost("reopen_jpeg"+n+"_share", "s", 0.2),
				},
				do: func(ctx context.Context, m *measuring) { m.levels(ctx, megapixels, n) },
			})
	}
	return list
}

// levels compares the time until every level is in the store with libvips making a
// tile pyramid, and the time to show the stored sheet with that of a first opening.
func (m *measuring) levels(ctx context.Context, megapixels int, n string) {
	store, tiles := filepath.Join(m.dir, "store"), filepath.Join(m.dir, "tiles")
	emptied := func(folder string, do job) job {
		return func() (float64, error) {
			if err := errors.Join(os.RemoveAll(folder), os.Mkdir(folder, 0o700)); err != nil {
				return 0, err
			}
			return do()
		}
	}
	file := m.sheet(ctx, megapixels, benchsheet.JPEG)
	var ready []float64
	s := m.inTurn(3, emptied(store, m.step(ctx, &ready, "levels", file, store)),
		emptied(tiles, command(ctx, "vips", "dzsave", file, filepath.Join(tiles, "t"), "--tile-size", "512", "--overlap", "0")))
	m.put("levels_stored_jpeg"+n, s...)
	m.put("levels_ready_jpeg"+n, median(ready), append(s, 0, 0)[1])
	s = m.inTurn(5, m.step(ctx, nil, "reopen", file, store), m.step(ctx, nil, "first", file))
	m.put("reopen_jpeg"+n, append(s, 0)[0])
	m.put("reopen_jpeg"+n+"_share", s...)
}

// sheet makes a sheet for the figures if necessary and reads it once, so that no
// figure includes the disk.
func (m *measuring) sheet(ctx context.Context, megapixels int, k benchsheet.Kind) string {
	file, err := benchsheet.Make(ctx, megapixels, k)
	if err == nil {
		var f *os.File
		if f, err = os.Open(file); err == nil {
			_, err = io.Copy(io.Discard, f)
			_ = f.Close()
		}
	}
	m.err = errors.Join(m.err, err)
	return file
}

// demoScan writes the demo's scan for programs to open.
func (m *measuring) demoScan() string {
	file := filepath.Join(m.dir, demo.ScanName)
	m.err = errors.Join(m.err, os.WriteFile(file, demo.Scan(), 0o600))
	return file
}

const stepsProgram = "./cmd/internal/sheetsteps"

// step takes one step of opening a sheet in a fresh process, which tells the
// step's own time, without its start, and, for ready, when every level could be
// cut.
func (m *measuring) step(ctx context.Context, ready *[]float64, args ...string) job {
	bin := m.program(ctx, stepsProgram)
	return func() (float64, error) {
		text, err := m.r.capture(ctx, bin, args...)
		if err != nil {
			return 0, err
		}
		var s struct{ Seconds, ReadySeconds float64 }
		err = json.Unmarshal([]byte(text), &s)
		if ready != nil {
			*ready = append(*ready, s.ReadySeconds)
		}
		return s.Seconds, err
	}
}
