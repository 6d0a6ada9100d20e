package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"legwright/cmd/internal/benchsheet"
	"legwright/cmd/internal/figures"
)

// sheetMeasures are the figures on big sheets.
func sheetMeasures() []measure {
	return []measure{
		{names: []string{"first_sharp_jpeg_192", "first_sharp_jpeg_192_vips"}, do: firstJPEG(192)},
		{names: []string{"first_sharp_jpeg_300", "first_sharp_jpeg_300_vips"}, do: firstJPEG(300)},
		{names: []string{"first_sharp_png_192", "first_sharp_tiff_192"}, do: firstOthers(192)},
		{names: []string{"first_sharp_png_300", "first_sharp_tiff_300"}, do: firstOthers(300)},
		{names: []string{"levels_stored_jpeg_192", "levels_ready_jpeg_192", "tile_slowest_192", "reopen_jpeg_192", "reopen_jpeg_192_share"}, do: levelFigures(192)},
		{names: []string{"levels_stored_jpeg_300", "levels_ready_jpeg_300", "tile_slowest_300", "reopen_jpeg_300", "reopen_jpeg_300_share"}, do: levelFigures(300)},
		{names: []string{"holes_192"}, do: holeFigure},
		{names: bigFrameNames(), do: bigFrameFigures},
		{names: []string{"open_peak_jpeg_300", "open_peak_444_300", "open_peak_progressive_300", "open_peak_png_300", "open_peak_tiff_300", "reopen_window_300"}, do: peakFigures},
		{names: []string{"memory_settled_300", "memory_slope_300"}, long: true, do: memoryFigures},
		{names: []string{"monkey_wrong", "monkey_growth"}, long: true, do: monkeyFigures},
	}
}

type measuring = func(context.Context, *bench) ([]figures.Figure, error)

// sheet makes sure of a sheet for the figures.
func (b *bench) sheet(ctx context.Context, megapixels int, k benchsheet.Kind) (figures.Sheet, error) {
	folder, err := benchsheet.Folder()
	if err != nil {
		return figures.Sheet{}, err
	}
	folder = filepath.Join(folder, "sheets")
	if err := benchsheet.Sweep(folder); err != nil {
		return figures.Sheet{}, err
	}
	files, err := benchsheet.Make(ctx, folder, megapixels, k)
	if err != nil {
		return figures.Sheet{}, err
	}
	return figures.Sheet{Megapixels: megapixels, File: files[0]}, nil
}

// single builds the program of single steps.
func (b *bench) single(ctx context.Context) (figures.Steps, error) {
	out := filepath.Join(b.dir, "sheetsteps")
	if b.steps == "" {
		if err := b.r.do(ctx, "go", "build", "-tags", buildTag, "-o", out, "./cmd/internal/sheetsteps"); err != nil {
			return figures.Steps{}, err
		}
		b.steps = out
	}
	return figures.Steps{Bin: b.steps, Dir: b.dir}, nil
}

func firstJPEG(megapixels int) measuring {
	return func(ctx context.Context, b *bench) ([]figures.Figure, error) {
		steps, err := b.single(ctx)
		if err != nil {
			return nil, err
		}
		sheet, err := b.sheet(ctx, megapixels, benchsheet.JPEG)
		if err != nil {
			return nil, err
		}
		peer, err := b.sheet(ctx, 192, benchsheet.JPEG)
		if err != nil {
			return nil, err
		}
		return steps.FirstJPEG(ctx, sheet, peer, 5)
	}
}

// firstOthers measures PNG against its bare decode, and TIFF alone. The bound
// of TIFF is in seconds.
func firstOthers(megapixels int) measuring {
	return func(ctx context.Context, b *bench) ([]figures.Figure, error) {
		steps, err := b.single(ctx)
		if err != nil {
			return nil, err
		}
		png, err := b.sheet(ctx, megapixels, benchsheet.PNG)
		if err != nil {
			return nil, err
		}
		tif, err := b.sheet(ctx, megapixels, benchsheet.TIFF)
		if err != nil {
			return nil, err
		}
		first, err := steps.FirstBare(ctx, fmt.Sprintf("first_sharp_png_%d", megapixels), png, 2, 1.15)
		if err != nil {
			return nil, err
		}
		second, err := steps.FirstAlone(ctx, fmt.Sprintf("first_sharp_tiff_%d", megapixels), tif, 5, 0.25)
		if err != nil {
			return []figures.Figure{first}, err
		}
		return []figures.Figure{first, second}, nil
	}
}

func levelFigures(megapixels int) measuring {
	return func(ctx context.Context, b *bench) ([]figures.Figure, error) {
		steps, err := b.single(ctx)
		if err != nil {
			return nil, err
		}
		sheet, err := b.sheet(ctx, megapixels, benchsheet.JPEG)
		if err != nil {
			return nil, err
		}
		list, store, err := steps.Levels(ctx, sheet, 3)
		if err != nil {
			return nil, err
		}
		defer os.RemoveAll(store)
		again, err := steps.Reopen(ctx, sheet, store)
		return append(list, again...), err
	}
}

// bigFrameNames are the figures of bigFrameFigures.
func bigFrameNames() []string {
	var out []string
	for _, s := range []string{"drag", "pan", "zoom"} {
		for _, f := range []string{"p99", "median", "ratio", "allocs", "pause"} {
			out = append(out, "frame_"+s+"_300_"+f)
		}
	}
	return out
}

// bigFrameFigures drives the bench on 3 and on 300 megapixels at the same
// scale and compares the frames.
func bigFrameFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	var runs [2][]scenario
	for i, mp := range []int{3, 300} {
		sheet, err := b.sheet(ctx, mp, benchsheet.JPEG)
		if err != nil {
			return nil, err
		}
		if _, _, err := b.drive(ctx, "-open", sheet.File); err != nil { // into the store
			return nil, err
		}
		out, all, err := b.drive(ctx, "-frames", "900", sheet.File)
		if err != nil {
			return nil, err
		}
		if runs[i], err = scenarios(out, all); err != nil {
			return nil, err
		}
	}
	var list []figures.Figure
	for i, big := range runs[1] {
		small, name := runs[0][i], "frame_"+big.Name+"_300_"
		list = append(list,
			figures.Alone(name+"p99", figures.Quantile(big.ms, 0.99), "ms", frameBoundMs),
			figures.Alone(name+"median", figures.Median(big.ms), "ms", frameMedianMs),
			figures.Against(name+"ratio", figures.Median(big.ms), figures.Median(small.ms), "ms", 1.3),
			figures.Against(name+"allocs", big.AllocsAStep, small.AllocsAStep, "a frame", 1.05),
			figures.Alone(name+"pause", big.LongestPauseMs, "ms", 2),
		)
	}
	return list, nil
}

// openedSheet is what the scripted window prints of an opening.
type openedSheet struct{ SharpMs, SharpFromStartMs, WholeMs, PeakMB, NowMB float64 }

func (b *bench) open(ctx context.Context, sheet figures.Sheet) (openedSheet, error) {
	var o openedSheet
	out, _, err := b.drive(ctx, "-open", sheet.File)
	if err != nil {
		return o, err
	}
	return o, json.NewDecoder(out).Decode(&o)
}

// peakFigures opens each kind in the real window and reads the most memory it
// took; the bound is bytes a pixel and 200 MB. Then one is opened again.
func peakFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	size := benchsheet.Size(300)
	pixels := float64(size.X) * float64(size.Y)
	var list []figures.Figure
	for _, k := range []struct {
		kind  benchsheet.Kind
		name  string
		bytes float64 // a pixel
	}{
		{benchsheet.JPEG444, "444", 3},
		{benchsheet.Progressive, "progressive", 5},
		{benchsheet.PNG, "png", 4.5},
		{benchsheet.TIFF, "tiff", 4.5},
		{benchsheet.JPEG, "jpeg", 1.5},
	} {
		sheet, err := b.sheet(ctx, 300, k.kind)
		if err != nil {
			return list, err
		}
		b.emptyStore()
		o, err := b.open(ctx, sheet)
		if err != nil {
			return list, err
		}
		list = append(list, figures.Alone("open_peak_"+k.name+"_300", o.PeakMB, "MB", k.bytes*pixels/1e6+200))
	}
	sheet, err := b.sheet(ctx, 300, benchsheet.JPEG)
	if err != nil {
		return list, err
	}
	again, err := b.open(ctx, sheet)
	if err != nil {
		return list, err
	}
	return append(list, figures.Alone("reopen_window_300", again.SharpMs/1000, "s", 0.2)), nil
}

// emptyStore forgets the sheets that the scripted window has stored.
func (b *bench) emptyStore() { _ = os.RemoveAll(filepath.Join(b.homeDir(), "legwright")) }
