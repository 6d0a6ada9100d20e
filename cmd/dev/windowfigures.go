package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"legwright/cmd/internal/benchsheet"
	"legwright/cmd/internal/figures"
	"legwright/cmd/internal/xdisplay"
)

// frameBoundMs is what the main thread may take for a frame, without the swap
// of the buffers, at the 99th percentile; frameMedianMs at the median.
const (
	frameBoundMs  = 8
	frameMedianMs = 3
)

// scripted builds the bench that is driven by script, with the patched loop.
func (b *bench) scripted(ctx context.Context) error {
	if b.window != "" {
		return nil
	}
	folder, err := benchsheet.Folder()
	if err != nil {
		return err
	}
	modfile, err := b.r.patchedFyne(ctx, filepath.Join(folder, "window")) // kept, so that it is compiled once
	if err != nil {
		return err
	}
	out := filepath.Join(b.dir, "benchwindow")
	err = b.r.do(ctx, "go", "build", "-modfile", modfile, "-tags", buildTag, "-o", out, "./cmd/internal/benchwindow")
	if err == nil {
		b.window = out
	}
	return err
}

// drive runs the scripted window on a display of its own and returns what it
// printed and its frames.
func (b *bench) drive(ctx context.Context, args ...string) (*bytes.Buffer, []frame, error) {
	if err := b.scripted(ctx); err != nil {
		return nil, nil, err
	}
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return nil, nil, err
	}
	defer display.Close()
	file := filepath.Join(b.dir, "frames.txt")
	var out bytes.Buffer
	cmd := b.r.command(ctx, b.window, args...)
	cmd.Env = append(b.home(display), framesEnv+"="+file)
	cmd.Stdout = &out
	if err := cmd.Run(); err != nil {
		return nil, nil, fmt.Errorf("the scripted window: %w", err)
	}
	all, err := readFrames(file)
	return &out, all, err
}

// frameFigures drives the bench on the demo and reads the frames.
func frameFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	out, all, err := b.drive(ctx)
	if err != nil {
		return nil, err
	}
	runs, err := scenarios(out, all)
	if err != nil {
		return nil, err
	}
	var list []figures.Figure
	for _, s := range runs {
		list = append(list, figures.Alone("frame_"+s.Name+"_p99", figures.Quantile(s.ms, 0.99), "ms", frameBoundMs))
	}
	return list, nil
}

// home is the environment of a window with folders of its own, apart from the
// program, whose file has the name of the folder that the store wants. The
// settings and the store stay from one window to the next; what is kept
// against a crash does not, since a scripted window ends without asking.
func (b *bench) home(display *xdisplay.Display) []string {
	state := filepath.Join(b.dir, "state")
	_ = os.RemoveAll(state)
	home := b.homeDir()
	return append(display.Env(), "HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_CACHE_HOME="+home,
		"XDG_STATE_HOME="+state, "LEGWRIGHT_SIZE=1400x900", "FYNE_SCALE=1")
}

func (b *bench) homeDir() string { return filepath.Join(b.dir, "home") }

// scenario is one script with the frames that fell into it.
type scenario struct {
	Name                        string
	FromNs, ToNs                int64
	AllocsAStep, LongestPauseMs float64
	ms                          []float64 // of each frame
}

// scenarios takes the frames that fell into each scenario.
func scenarios(out *bytes.Buffer, all []frame) ([]scenario, error) {
	var list []scenario
	for dec := json.NewDecoder(out); dec.More(); {
		var s scenario
		if err := dec.Decode(&s); err != nil {
			return nil, err
		}
		for _, f := range all {
			if f.endNs >= s.FromNs && f.endNs <= s.ToNs {
				s.ms = append(s.ms, float64(f.workNs)/1e6)
			}
		}
		if len(s.ms) < 500 {
			return nil, fmt.Errorf("%s painted %d frames only", s.Name, len(s.ms))
		}
		list = append(list, s)
	}
	if len(list) != 3 {
		return nil, fmt.Errorf("%d scenarios came back, want 3", len(list))
	}
	return list, nil
}

// startFigure compares the start of the bench, until the demo's sheet is
// sharp, with the start of an empty window.
func startFigure(ctx context.Context, b *bench) (figures.Figure, error) {
	if err := b.scripted(ctx); err != nil {
		return figures.Figure{}, err
	}
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return figures.Figure{}, err
	}
	defer display.Close()
	var own, empty []float64
	for i := range 6 {
		for _, c := range []struct {
			arg string
			to  *[]float64
		}{{"--demo", &own}, {"--empty", &empty}} {
			cmd := b.r.command(ctx, b.window, c.arg)
			cmd.Env = b.home(display)
			began := time.Now()
			if err := cmd.Run(); err != nil {
				return figures.Figure{}, err
			}
			if i > 0 { // the first start warms the disk's cache
				*c.to = append(*c.to, time.Since(began).Seconds())
			}
		}
	}
	return figures.Against("window_up_demo", figures.Median(own), figures.Median(empty), "s", 2.5), nil
}
