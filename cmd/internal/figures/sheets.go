package figures

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// Steps measures single steps of opening a big sheet, each in a process of
// its own.
type Steps struct {
	Bin string // the built cmd/internal/sheetsteps
	Dir string // a folder for what is written meanwhile
}

// Sheet is a file to measure on.
type Sheet struct {
	Megapixels int
	File       string
}

// step is what sheetsteps prints, and the time of the whole process.
type step struct {
	Seconds, ReadySeconds, SlowestMs, EndSlowestMs, PeakMB float64
	Wall                                                   float64
}

func (s Steps) run(ctx context.Context, args ...string) (step, error) {
	cmd := exec.CommandContext(ctx, s.Bin, args...)
	var said bytes.Buffer
	cmd.Stderr = &said
	began := time.Now()
	out, err := cmd.Output()
	wall := time.Since(began).Seconds()
	if err != nil {
		return step{}, fmt.Errorf("%v: %w: %s", args, err, said.String())
	}
	r := step{Wall: wall}
	return r, json.Unmarshal(out, &r)
}

// vips times one command of libvips from start to end.
func vips(ctx context.Context, name string, args ...string) (float64, error) {
	began := time.Now()
	if out, err := exec.CommandContext(ctx, name, args...).CombinedOutput(); err != nil {
		return 0, fmt.Errorf("%s: %w: %s", name, err, out)
	}
	return time.Since(began).Seconds(), nil
}

// warm reads a file once, so that no one pays for the disk.
func warm(file string) error {
	f, err := os.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(io.Discard, f)
	return err
}

// FirstJPEG compares the first sharp picture of a JPEG with the decoder's own
// decode at an eighth, inside fresh processes, and the whole process with
// vipsthumbnail to the size of the fitted sheet. The decoder refuses more than
// 268 megapixels, so it may be given another sheet, whose time is then taken
// in proportion to the pixels.
func (s Steps) FirstJPEG(ctx context.Context, sheet, forPeer Sheet, rounds int) ([]Figure, error) {
	if err := warm(sheet.File); err != nil {
		return nil, err
	}
	var own, eighth, wall, thumb []float64
	for range rounds {
		o, err := s.run(ctx, "first", sheet.File)
		if err != nil {
			return nil, err
		}
		e, err := s.run(ctx, "eighth", forPeer.File)
		if err != nil {
			return nil, err
		}
		v, err := vips(ctx, "vipsthumbnail", sheet.File, "-s", fmt.Sprintf("%dx%d", areaW, areaH), "-o", filepath.Join(s.Dir, "thumb.png"))
		if err != nil {
			return nil, err
		}
		own, eighth = append(own, o.Seconds), append(eighth, e.Seconds*float64(sheet.Megapixels)/float64(forPeer.Megapixels))
		wall, thumb = append(wall, o.Wall), append(thumb, v)
	}
	name := fmt.Sprintf("first_sharp_jpeg_%d", sheet.Megapixels)
	return []Figure{
		Against(name, Median(own), Median(eighth), "s", 1.1),
		Against(name+"_vips", Median(wall), Median(thumb), "s", 1.0),
	}, nil
}

// FirstBare compares the first sharp picture with the decoder's bare decode.
func (s Steps) FirstBare(ctx context.Context, name string, sheet Sheet, rounds int, bound float64) (Figure, error) {
	if err := warm(sheet.File); err != nil {
		return Figure{}, err
	}
	var own, bare []float64
	for range rounds {
		o, err := s.run(ctx, "first", sheet.File)
		if err != nil {
			return Figure{}, err
		}
		b, err := s.run(ctx, "bare", sheet.File)
		if err != nil {
			return Figure{}, err
		}
		own, bare = append(own, o.Seconds), append(bare, b.Seconds)
	}
	return Against(name, Median(own), Median(bare), "s", bound), nil
}

// FirstAlone is the time to the first sharp picture in seconds.
func (s Steps) FirstAlone(ctx context.Context, name string, sheet Sheet, rounds int, bound float64) (Figure, error) {
	if err := warm(sheet.File); err != nil {
		return Figure{}, err
	}
	var own []float64
	for range rounds {
		o, err := s.run(ctx, "first", sheet.File)
		if err != nil {
			return Figure{}, err
		}
		own = append(own, o.Seconds)
	}
	return Alone(name, Median(own), "s", bound), nil
}

// Levels compares the way to every level, written to the store, with a tile
// pyramid made by libvips, and says what the slowest of 200 tiles then takes.
// It leaves the sheet in the store it returns.
func (s Steps) Levels(ctx context.Context, sheet Sheet, rounds int) (list []Figure, store string, err error) {
	if err := warm(sheet.File); err != nil {
		return nil, "", err
	}
	var own, ready, peer, slow []float64
	for i := range rounds {
		store = filepath.Join(s.Dir, fmt.Sprintf("store-%d-%d", sheet.Megapixels, i))
		o, err := s.run(ctx, "levels", sheet.File, store)
		if err != nil {
			return nil, "", err
		}
		at := filepath.Join(s.Dir, "dz")
		v, err := vips(ctx, "vips", "dzsave", sheet.File, at, "--tile-size", "512", "--overlap", "0")
		if err != nil {
			return nil, "", err
		}
		own, ready, peer, slow = append(own, o.Seconds), append(ready, o.ReadySeconds), append(peer, v), append(slow, o.EndSlowestMs)
		for _, old := range []string{at + "_files", at + ".dzi"} {
			_ = os.RemoveAll(old)
		}
		if i < rounds-1 {
			_ = os.RemoveAll(store)
		}
	}
	mp := sheet.Megapixels
	return []Figure{
		Against(fmt.Sprintf("levels_stored_jpeg_%d", mp), Median(own), Median(peer), "s", 1.2),
		Against(fmt.Sprintf("levels_ready_jpeg_%d", mp), Median(ready), Median(peer), "s", 1.2),
		Alone(fmt.Sprintf("tile_slowest_%d", mp), Median(slow), "ms", 5),
	}, store, nil
}

// Reopen is the time to show a sheet that the store knows, in seconds, and
// its share of a first opening, of which a fifth is allowed.
func (s Steps) Reopen(ctx context.Context, sheet Sheet, store string) ([]Figure, error) {
	var own, first []float64
	for range 5 {
		again, err := s.run(ctx, "reopen", sheet.File, store)
		if err != nil {
			return nil, err
		}
		anew, err := s.run(ctx, "first", sheet.File)
		if err != nil {
			return nil, err
		}
		own, first = append(own, again.Seconds), append(first, anew.Seconds)
	}
	name := fmt.Sprintf("reopen_jpeg_%d", sheet.Megapixels)
	return []Figure{
		Alone(name, Median(own), "s", 0.2),
		Against(name+"_share", Median(own), Median(first), "s", 0.2),
	}, nil
}
