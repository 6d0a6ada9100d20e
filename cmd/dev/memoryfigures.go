package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"gonum.org/v1/gonum/stat"

	"legwright/cmd/internal/benchsheet"
	"legwright/cmd/internal/figures"
)

// windowSample is what the scripted window prints of its memory.
type windowSample struct {
	Name              string
	AtS, NowMB        float64
	Textures, Uploads int64
	Wrong             []string // in the verdict of a run at random
}

func samples(out *bytes.Buffer) (map[string][]windowSample, error) {
	list := map[string][]windowSample{}
	for dec := json.NewDecoder(out); dec.More(); {
		var s windowSample
		if err := dec.Decode(&s); err != nil {
			return nil, err
		}
		list[s.Name] = append(list[s.Name], s)
	}
	return list, nil
}

// flatMB is how much a minute memory may grow and still be called flat: over
// an hour that is less than a tenth of what a small laptop has.
const flatMB = 5

// memoryFigures moves over 300 megapixels for five minutes. Settled memory is
// held against an empty window's of the same run; the slope is fitted over the
// last three minutes of the movement.
func memoryFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	sheet, err := b.sheet(ctx, 300, benchsheet.JPEG)
	if err != nil {
		return nil, err
	}
	out, _, err := b.drive(ctx, "-empty", "-hold", "10s")
	if err != nil {
		return nil, err
	}
	empty, err := samples(out)
	if err != nil {
		return nil, err
	}
	out, _, err = b.drive(ctx, "-wander", "5", sheet.File)
	if err != nil {
		return nil, err
	}
	moved, err := samples(out)
	if err != nil {
		return nil, err
	}
	if len(empty["empty"]) != 1 || len(moved["settled"]) != 1 {
		return nil, errors.New("the samples of memory did not come")
	}
	return []figures.Figure{
		figures.Alone("memory_settled_300", moved["settled"][0].NowMB-empty["empty"][0].NowMB, "MB", 350),
		figures.Alone("memory_slope_300", slope(moved["moving"], 120), "MB/min", flatMB),
	}, nil
}

// slope is the growth in MB a minute from a time on, by least squares.
func slope(list []windowSample, fromS float64) float64 {
	var x, y []float64
	for _, s := range list {
		if s.AtS >= fromS {
			x, y = append(x, s.AtS/60), append(y, s.NowMB)
		}
	}
	_, rise := stat.LinearRegression(x, y, nil, false)
	return rise
}

// monkeyFigures works the window at random for two minutes over big, broken
// and missing sheets. The first figure counts what was wrong; the second
// compares the most memory of the second half with that of the first.
func monkeyFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	files, err := b.monkeySheets(ctx)
	if err != nil {
		return nil, err
	}
	out, _, err := b.drive(ctx, append([]string{"-monkey", "120", "-seed", "3"}, files...)...)
	if err != nil {
		return nil, err
	}
	got, err := samples(out)
	if err != nil {
		return nil, err
	}
	if len(got["monkey"]) != 1 || len(got["acting"]) < 20 {
		return nil, errors.New("the verdict of the random acts did not come")
	}
	wrong := got["monkey"][0].Wrong
	fmt.Fprint(b.r.errw, strings.Join(append(wrong, ""), "\n"))
	most := [2]float64{}
	for i, s := range got["acting"] {
		half := 2 * i / len(got["acting"])
		most[half] = max(most[half], s.NowMB)
	}
	return []figures.Figure{
		figures.Alone("monkey_wrong", float64(len(wrong)), "faults", 0),
		figures.Against("monkey_growth", most[1], most[0], "MB", 1.25),
	}, nil
}

// monkeySheets are whole sheets, one that breaks off, one that is none and
// one that is not there.
func (b *bench) monkeySheets(ctx context.Context) ([]string, error) {
	var files []string
	for _, s := range []struct {
		mp   int
		kind benchsheet.Kind
	}{{3, benchsheet.JPEG}, {192, benchsheet.JPEG}, {300, benchsheet.JPEG}, {192, benchsheet.TIFF}} {
		sheet, err := b.sheet(ctx, s.mp, s.kind)
		if err != nil {
			return nil, err
		}
		files = append(files, sheet.File)
	}
	whole, err := os.ReadFile(files[1])
	if err != nil {
		return nil, err
	}
	broken, none := filepath.Join(b.dir, "broken.jpg"), filepath.Join(b.dir, "none.png")
	err = errors.Join(os.WriteFile(broken, whole[:len(whole)/2], 0o644), os.WriteFile(none, whole[1000:5000], 0o644))
	return append(files, broken, none, filepath.Join(b.dir, "missing.jpg")), err
}
