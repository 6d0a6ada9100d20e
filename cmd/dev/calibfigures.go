package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"legwright/assets/demo"
	"legwright/cmd/internal/figures"
)

// calibMeasures are figures of the tests themselves, made from more pictures
// and runs than every test run makes.
func calibMeasures() []measure {
	return []measure{
		{
			names: []string{
				"grid_clean_unsolved", "grid_hard_unsolved", "grid_false", "grid_clean_median", "grid_clean_p95",
				"grid_hard_median", "grid_hard_p95",
			},
			long: true, do: latticeFigures,
		},
		{names: []string{"grid_seconds_25"}, do: finderTime},
		{names: []string{"interval_missed_most", "interval_held_most"}, long: true, do: coverFigures},
	}
}

// testFigures runs the tests whose name is, or matches, test, which write their
// figures, and reads them. A test that fails has written them before; what it holds against its bounds is held
// here again.
func (b *bench) testFigures(ctx context.Context, room, test string, into any) error {
	file := filepath.Join(b.dir, "figures.json")
	if err := os.Remove(file); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	with := *b.r
	with.env = append(append([]string{}, b.r.env...), "LEGWRIGHT_FIGURES="+file)
	with.out = b.r.errw
	failed := with.do(ctx, "go", "test", "-count=1", "-timeout=60m", "-run", "^"+test+"$", room)
	data, err := os.ReadFile(file)
	if err != nil {
		return fmt.Errorf("%w (%v)", err, failed)
	}
	return json.Unmarshal(data, into)
}

// finderRuns is how often the finder is timed, each time in a fresh process.
const finderRuns = 5

// finderTime is how long the finder of printed grids takes over the demo's scan,
// the picture being open already, brought to 25 megapixels.
func finderTime(ctx context.Context, b *bench) ([]figures.Figure, error) {
	file := filepath.Join(b.dir, demo.ScanName)
	if err := os.WriteFile(file, demo.Scan(), 0o600); err != nil {
		return nil, err
	}
	size, _, err := image.DecodeConfig(bytes.NewReader(demo.Scan()))
	if err != nil {
		return nil, err
	}
	var seconds []float64
	for range finderRuns {
		text, err := b.r.capture(ctx, b.bin, "calibrate", "--picture", file, "--find-grid", "--json")
		if err != nil {
			return nil, err
		}
		var got struct {
			Lattice struct {
				Found   bool
				Seconds float64
			}
		}
		if err := json.Unmarshal([]byte(text), &got); err != nil {
			return nil, err
		}
		if !got.Lattice.Found {
			return nil, errors.New("the finder does not find the printed grid of the demo's scan")
		}
		seconds = append(seconds, got.Lattice.Seconds*25e6/float64(size.Width*size.Height))
	}
	return []figures.Figure{figures.Alone("grid_seconds_25", figures.Median(seconds), "s", 1.2)}, nil
}

// latticeFigures holds the finder of printed grids against 200 pictures with a
// grid and 100 without, made from seeds.
func latticeFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	type kind struct {
		Pictures, Solved, False int
		MedianPx, P95Px         float64
	}
	var got struct{ Clean, Hard, Free kind }
	if err := b.testFigures(ctx, "./app/calib/lattice", "TestMadePictures", &got); err != nil {
		return nil, err
	}
	unsolved := func(k kind) float64 { return 100 * float64(k.Pictures-k.Solved) / float64(k.Pictures) }
	return []figures.Figure{
		figures.Alone("grid_clean_unsolved", unsolved(got.Clean), "%", 3),
		figures.Alone("grid_hard_unsolved", unsolved(got.Hard), "%", 10),
		figures.Alone("grid_false", float64(got.Free.False), "of 100", 0),
		figures.Alone("grid_clean_median", got.Clean.MedianPx, "px", 0.35),
		figures.Alone("grid_clean_p95", got.Clean.P95Px, "px", 1),
		figures.Alone("grid_hard_median", got.Hard.MedianPx, "px", 0.35),
		figures.Alone("grid_hard_p95", got.Hard.P95Px, "px", 1),
	}, nil
}

// coverFigures are how often, at the most, the stated 95 % intervals miss the
// truth and how often they hold it, over all models and readings.
func coverFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	var got []struct {
		Position float64 `json:"position_coverage"`
		Bearing  float64 `json:"bearing_coverage"`
		Distance float64 `json:"distance_coverage"`
	}
	if err := b.testFigures(ctx, "./app/calib", "TestWarpIntervalsCover", &got); err != nil {
		return nil, err
	}
	least, most := math.Inf(1), 0.0
	for _, f := range got {
		least, most = min(least, f.Position, f.Bearing, f.Distance), max(most, f.Position, f.Bearing, f.Distance)
	}
	return []figures.Figure{
		figures.Alone("interval_missed_most", 100*(1-least), "%", 7),
		figures.Alone("interval_held_most", 100*most, "%", 97),
	}, nil
}
