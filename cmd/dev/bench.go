package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"legwright/assets/demo"
	"legwright/cmd/internal/figures"
)

// bench holds what the figures need: the programs and a folder.
type bench struct {
	r      *runner
	dir    string
	bin    string // the program
	window string // the scripted window, or "" until it is built
	steps  string // the single steps of opening, or "" until they are built
}

// measure is one group of figures.
type measure struct {
	names []string
	long  bool // only when named
	do    func(context.Context, *bench) ([]figures.Figure, error)
}

func measures() []measure {
	one := func(f func(context.Context, *bench) (figures.Figure, error)) func(context.Context, *bench) ([]figures.Figure, error) {
		return func(ctx context.Context, b *bench) ([]figures.Figure, error) {
			got, err := f(ctx, b)
			if err != nil {
				return nil, err
			}
			return []figures.Figure{got}, nil
		}
	}
	list := []measure{
		{names: []string{"frame_drag_p99", "frame_pan_p99", "frame_zoom_p99"}, do: frameFigures},
		{names: []string{"first_sharp_demo"}, do: one(func(ctx context.Context, _ *bench) (figures.Figure, error) {
			return figures.FirstSharp(ctx, demo.Scan())
		})},
		{names: []string{"project_million_rows"}, do: one(func(ctx context.Context, b *bench) (figures.Figure, error) {
			return figures.Project(ctx, b.bin, b.dir)
		})},
		{names: []string{"field_100k_rows"}, do: one(func(ctx context.Context, b *bench) (figures.Figure, error) {
			return figures.Field(ctx, b.bin, b.dir)
		})},
		{names: []string{"window_up_demo"}, do: one(startFigure)},
	}
	return slices.Concat(list, sheetMeasures(), calibMeasures(), geodesyMeasures())
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
	b, err := newBench(ctx, &quiet)
	if err != nil {
		return err
	}
	defer os.RemoveAll(b.dir)
	list, failed := b.all(ctx, chosen)
	if len(names) == 0 {
		fmt.Fprintf(quiet.out, "Not measured unless named: %s.\n", strings.Join(longNames(), ", "))
	}
	if asJSON {
		err = figures.WriteJSON(r.out, list)
	} else {
		err = figures.WriteTable(r.out, list)
	}
	return errors.Join(append(failed, err)...)
}

// newBench installs what the figures need and builds the program.
func newBench(ctx context.Context, r *runner) (*bench, error) {
	if err := r.install(ctx, append(buildPackages(), testPackages()...)); err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "legwright-bench")
	if err != nil {
		return nil, err
	}
	b := &bench{r: r, dir: dir, bin: filepath.Join(dir, programName())}
	err = r.build(ctx, b.bin, buildTag)
	if err == nil {
		err = os.Mkdir(b.homeDir(), 0o700)
	}
	if err != nil {
		os.RemoveAll(dir)
		return nil, err
	}
	return b, nil
}

// all measures one group after the other; one that fails does not keep the
// others from being measured.
func (b *bench) all(ctx context.Context, chosen []measure) (list []figures.Figure, failed []error) {
	for _, m := range chosen {
		began := time.Now()
		got, err := m.do(ctx, b)
		if err != nil {
			failed = append(failed, fmt.Errorf("%s: %w", strings.Join(m.names, ", "), err))
		}
		fmt.Fprintf(b.r.errw, "%s: %.0f s\n", m.names[0], time.Since(began).Seconds())
		list = append(list, got...)
	}
	return list, failed
}

// choose picks the groups that hold the named figures; without names all.
func choose(names []string) ([]measure, error) {
	all := measures()
	if len(names) == 0 {
		return slices.DeleteFunc(all, func(m measure) bool { return m.long }), nil
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

// longNames lists those that are measured only when named.
func longNames() []string {
	var out []string
	for _, m := range measures() {
		if m.long {
			out = append(out, m.names...)
		}
	}
	return out
}
