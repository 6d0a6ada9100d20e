package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"legwright/assets/demo"
	"legwright/cmd/internal/figures"
	"legwright/cmd/internal/xdisplay"
)

// frameBoundMs is what the main thread may take for a frame, without the swap
// of the buffers, at the 99th percentile.
const frameBoundMs = 8

// bench holds what the figures need: the programs and a folder.
type bench struct {
	r      *runner
	dir    string
	bin    string // the program
	window string // the scripted window, or "" until it is built
}

// measure is one group of figures.
type measure struct {
	names []string
	do    func(context.Context, *bench) ([]figures.Figure, error)
}

func measures() []measure {
	one := func(f func(context.Context, *bench) (figures.Figure, error)) func(context.Context, *bench) ([]figures.Figure, error) {
		return func(ctx context.Context, b *bench) ([]figures.Figure, error) {
			got, err := f(ctx, b)
			return []figures.Figure{got}, err
		}
	}
	return []measure{
		{[]string{"frame_drag_p99", "frame_pan_p99", "frame_zoom_p99"}, frameFigures},
		{[]string{"first_sharp_demo"}, one(func(ctx context.Context, _ *bench) (figures.Figure, error) {
			return figures.FirstSharp(ctx, demo.Scan())
		})},
		{[]string{"project_million_rows"}, one(func(ctx context.Context, b *bench) (figures.Figure, error) {
			return figures.Project(ctx, b.bin, b.dir)
		})},
		{[]string{"field_100k_rows"}, one(func(ctx context.Context, b *bench) (figures.Figure, error) {
			return figures.Field(ctx, b.bin, b.dir)
		})},
		{[]string{"window_up_demo"}, one(startFigure)},
	}
}

// runFigures measures and prints the speed figures. A bound that is missed is
// printed as missed and does not fail the run: machines are noisy.
func runFigures(ctx context.Context, r *runner, args []string) error {
	asJSON := slices.Contains(args, "--json")
	names := slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == "--json" })
	chosen, err := choose(names)
	if err != nil {
		return err
	}
	quiet := *r
	if asJSON {
		quiet.out = r.errw
	}
	if err := quiet.install(ctx, append(buildPackages(), testPackages()...)); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "legwright-bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := &bench{r: &quiet, dir: dir, bin: filepath.Join(dir, programName())}
	if err := quiet.build(ctx, b.bin, buildTag); err != nil {
		return err
	}
	var list []figures.Figure
	var failed []error
	for _, m := range chosen {
		got, err := m.do(ctx, b)
		if err != nil {
			failed = append(failed, fmt.Errorf("%s: %w", strings.Join(m.names, ", "), err))
			continue
		}
		list = append(list, got...)
	}
	if asJSON {
		err = figures.WriteJSON(r.out, list)
	} else {
		err = figures.WriteTable(r.out, list)
	}
	return errors.Join(append(failed, err)...)
}

// choose picks the groups that hold the named figures; without names all.
func choose(names []string) ([]measure, error) {
	all := measures()
	if len(names) == 0 {
		return all, nil
	}
	var out []measure
	for _, m := range all {
		if slices.ContainsFunc(m.names, func(n string) bool { return slices.Contains(names, n) }) {
			out = append(out, m)
		}
	}
	for _, n := range names {
		if !slices.ContainsFunc(all, func(m measure) bool { return slices.Contains(m.names, n) }) {
			return nil, fmt.Errorf("there is no figure %q; usage: bench [--json] [%s]", n, strings.Join(figureNames(), "|"))
		}
	}
	return out, nil
}

// figureNames lists the figures in the order they are printed.
func figureNames() []string {
	var out []string
	for _, m := range measures() {
		out = append(out, m.names...)
	}
	return out
}

// scripted builds the bench that is driven by script, with the patched loop.
func (b *bench) scripted(ctx context.Context) error {
	if b.window != "" {
		return nil
	}
	modfile, err := b.r.patchedFyne(ctx, b.dir)
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

// frameFigures drives the bench by script and reads the frames.
func frameFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	if err := b.scripted(ctx); err != nil {
		return nil, err
	}
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return nil, err
	}
	defer display.Close()
	file := filepath.Join(b.dir, "frames.txt")
	var out bytes.Buffer
	cmd := b.r.command(ctx, b.window)
	cmd.Env = append(b.home(display), framesEnv+"="+file)
	cmd.Stdout = &out
	if err := cmd.Run(); err != nil {
		return nil, err
	}
	all, err := readFrames(file)
	if err != nil {
		return nil, err
	}
	return scenarioFigures(&out, all)
}

// home is the environment of a window with a settings folder of its own.
func (b *bench) home(display *xdisplay.Display) []string {
	return append(display.Env(), "HOME="+b.dir, "XDG_CONFIG_HOME="+b.dir, "XDG_CACHE_HOME="+b.dir,
		"XDG_STATE_HOME="+b.dir, "LEGWRIGHT_SIZE=1400x900", "FYNE_SCALE=1")
}

// scenarioFigures takes the frames that fell into each scenario.
func scenarioFigures(out *bytes.Buffer, all []frame) ([]figures.Figure, error) {
	var list []figures.Figure
	for dec := json.NewDecoder(out); dec.More(); {
		var s struct {
			Name         string
			FromNs, ToNs int64
		}
		if err := dec.Decode(&s); err != nil {
			return nil, err
		}
		var ms []float64
		for _, f := range all {
			if f.endNs >= s.FromNs && f.endNs <= s.ToNs {
				ms = append(ms, float64(f.workNs)/1e6)
			}
		}
		if len(ms) < 500 {
			return nil, fmt.Errorf("%s painted %d frames only", s.Name, len(ms))
		}
		list = append(list, figures.Alone("frame_"+s.Name+"_p99", figures.Quantile(ms, 0.99), "ms", frameBoundMs))
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
